using System.Globalization;
using System.Text;
using EchoToThickness.Procedures;
using EchoToThickness.Velocity;

namespace EchoToThickness.Uncertainty;

/// <summary>An uncertainty budget of one wall, to print: every source with its size, sensitivity and contribution.</summary>
public sealed record UncertaintyBudget
{
    /// <summary>Makes a budget.</summary>
    /// <param name="thicknessMetres">The wall.</param>
    /// <param name="lines">Its lines.</param>
    public UncertaintyBudget(double thicknessMetres, IReadOnlyList<UncertaintyLine> lines)
    {
        ArgumentNullException.ThrowIfNull(lines);
        ThicknessMetres = thicknessMetres;
        Lines = lines;
    }

    /// <summary>The wall, metres.</summary>
    public double ThicknessMetres { get; }

    /// <summary>The lines.</summary>
    public IReadOnlyList<UncertaintyLine> Lines { get; }

    /// <summary>Combined standard uncertainty (k = 1), metres (JCGM 100:2008, equation 13).</summary>
    public double CombinedMetres => Math.Sqrt(Math.Max(Lines.Sum(line => line.Variance), 0));

    /// <summary>The part that every cell shares, metres.</summary>
    public double CommonMetres =>
        Math.Sqrt(Math.Max(Lines.Where(line => line.CommonToMap).Sum(line => line.Variance), 0));

    /// <summary>The budget of a wall measured between two picks.</summary>
    /// <param name="model">Model of procedure and stack.</param>
    /// <param name="thicknessMetres">Wall.</param>
    /// <param name="rule">Instant taken from both echoes.</param>
    /// <param name="firstPeakToNoise">Peak over noise of the earlier echo.</param>
    /// <param name="secondPeakToNoise">Peak over noise of the later echo.</param>
    /// <param name="usesInterface">Whether the earlier echo is the interface.</param>
    public static UncertaintyBudget For(
        UncertaintyModel model,
        double thicknessMetres,
        PickRule rule,
        double firstPeakToNoise,
        double secondPeakToNoise,
        bool usesInterface
    )
    {
        ArgumentNullException.ThrowIfNull(model);
        ResolvedVelocity v = model.Velocity;
        double perTime = 0.5 * v.PathFactor * v.MetresPerSecond;
        double perVelocity = thicknessMetres / v.MetresPerSecond;
        bool split = !double.IsNaN(v.ReferenceUncertaintyMetresPerSecond);
        double reference = split ? v.ReferenceUncertaintyMetresPerSecond : v.UncertaintyMetresPerSecond;
        var lines = new List<UncertaintyLine>
        {
            new("noise, earlier echo", model.PickSeconds(rule, firstPeakToNoise), "s", perTime, false, false),
            new("noise, later echo", model.PickSeconds(rule, secondPeakToNoise), "s", perTime, false, false),
            new("sampling and interpolation", model.SamplingMetres(rule), "m", 1, false, false),
            new($"velocity ({v.Source})", reference, "m/s", perVelocity, false, true),
        };
        if (split && v.TemperatureUncertaintyMetresPerSecond > 0)
            lines.Add(new("temperature", v.TemperatureUncertaintyMetresPerSecond, "m/s", perVelocity, false, true));
        if (usesInterface)
        {
            lines.Add(new("zero offset", v.ZeroUncertaintySeconds, "s", -perTime, false, true));
            if (v.CoatingUncertaintySeconds > 0)
                lines.Add(new("coating", v.CoatingUncertaintySeconds, "s", -perTime, false, true));
            if (v.VelocityZeroCovariance != 0)
                lines.Add(
                    new(
                        "covariance of velocity and zero",
                        v.VelocityZeroCovariance,
                        "m",
                        -2 * perVelocity * perTime,
                        true,
                        true
                    )
                );
        }
        return new UncertaintyBudget(thicknessMetres, lines);
    }

    /// <summary>The budget as a table of plain text: line feeds, invariant culture, micrometres.</summary>
    public string ToText()
    {
        var text = new StringBuilder();
        int width = Math.Max(24, Lines.Count == 0 ? 0 : Lines.Max(line => line.Source.Length));
        void Row(
            string source,
            string uncertainty,
            string sensitivity,
            string contribution,
            string share,
            string scope
        ) =>
            text.Append(
                    string.Create(
                            CultureInfo.InvariantCulture,
                            $"{source.PadRight(width)}  {uncertainty, 14}  {sensitivity, 14}  {contribution, 10}  {share, 7}  {scope}"
                        )
                        .TrimEnd()
                )
                .Append('\n');
        double total = Lines.Sum(line => line.Variance);
        Row("source", "standard unc.", "sensitivity", "wall um", "share", "over the map");
        foreach (UncertaintyLine line in Lines)
            Row(
                line.Source,
                Number(line.Uncertainty) + " " + line.Unit,
                Number(line.Sensitivity),
                (1e6 * line.ContributionMetres).ToString("0.00", CultureInfo.InvariantCulture),
                total > 0 ? (100 * line.Variance / total).ToString("0.0", CultureInfo.InvariantCulture) + " %" : "",
                line.CommonToMap ? "common" : "independent"
            );
        text.Append(
            CultureInfo.InvariantCulture,
            $"wall {1e3 * ThicknessMetres:0.000} mm, combined standard uncertainty {1e6 * CombinedMetres:0.00} um (common to the map {1e6 * CommonMetres:0.00} um), expanded k = 2: {2e6 * CombinedMetres:0.00} um\n"
        );
        text.Append("Given that the echo is the right one; a wrong echo is not in this budget.\n");
        return text.ToString();
    }

    private static string Number(double value) => value.ToString("G4", CultureInfo.InvariantCulture);
}
