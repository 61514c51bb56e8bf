using EchoToThickness.Statistics;
using EchoToThickness.Validation.Numerics;

namespace EchoToThickness.Validation.Variance;

/// <summary>Parts crossed with operators (or days, couplings, procedures) and repeats: what of the spread is the gauge's.</summary>
/// <remarks>
/// Both factors random, equal numbers; unequal ones go to <see cref="RestrictedLikelihood"/>. Mean squares and expected values as in any text;
/// intervals by the modified large sample method (Burdick, Borror and Montgomery, Design and Analysis of Gauge R&amp;R Studies, 2005).
/// </remarks>
public sealed record GaugeStudy
{
    /// <summary>Lines: parts, operators, interaction (missing when pooled), repeats.</summary>
    public required IReadOnlyList<MeanSquare> Table { get; init; }

    /// <summary>Repeats: the same part, the same operator.</summary>
    public required VarianceComponent Repeatability { get; init; }

    /// <summary>Operators, alone.</summary>
    public required VarianceComponent Operators { get; init; }

    /// <summary>Operators that read some parts differently; null when pooled into the repeats.</summary>
    public required VarianceComponent? Interaction { get; init; }

    /// <summary>Operators and interaction together.</summary>
    public required VarianceComponent Reproducibility { get; init; }

    /// <summary>Repeatability and reproducibility together.</summary>
    public required VarianceComponent Gauge { get; init; }

    /// <summary>Parts.</summary>
    public required VarianceComponent Parts { get; init; }

    /// <summary>Gauge share of the total standard deviation, 0 to 1.</summary>
    public double GaugeShare => Math.Sqrt(Gauge.Variance / (Gauge.Variance + Parts.Variance));

    /// <summary>Part deviations that the gauge can tell apart, <c>sqrt(2) s_part / s_gauge</c>, not rounded.</summary>
    public double DistinctCategories => Math.Sqrt(2 * Parts.Variance / Gauge.Variance);

    /// <summary>Six gauge deviations over the width of the tolerance.</summary>
    /// <param name="width">Upper minus lower tolerance, in the unit of the data.</param>
    public double ToleranceShare(double width) => 6 * Math.Sqrt(Gauge.Variance) / width;

    /// <summary>Analyses a crossed study.</summary>
    /// <param name="values">Values (for walls of different truth: measured walls).</param>
    /// <param name="parts">Part of each.</param>
    /// <param name="operators">Operator of each.</param>
    /// <param name="confidence">Two-sided confidence of the intervals.</param>
    /// <param name="poolAbove">The interaction is pooled into the repeats when its probability is above this; 1 keeps it always. 0.25 is common practice.</param>
    /// <exception cref="StatisticsException">Some cell of parts by operators has not the same number of repeats, or fewer than two.</exception>
    public static GaugeStudy Of(
        ReadOnlySpan<double> values,
        Factor parts,
        Factor operators,
        double confidence = 0.95,
        double poolAbove = 1
    )
    {
        ArgumentNullException.ThrowIfNull(parts);
        ArgumentNullException.ThrowIfNull(operators);
        int p = parts.Levels.Count;
        int o = operators.Levels.Count;
        int n = values.Length;
        int r = n / (p * o);
        var cells = new double[p * o];
        var counts = new int[p * o];
        double grand = 0;
        for (int i = 0; i < n; i++)
        {
            int cell = parts.Codes[i] * o + operators.Codes[i];
            counts[cell]++;
            cells[cell] += values[i] - values[0];
            grand += (values[i] - values[0]) / n;
        }
        int odd = Array.FindIndex(counts, c => c != r || r < 2);
        if (odd >= 0 || p < 2 || o < 2)
            throw new StatisticsException(
                odd >= 0
                    ? $"{counts[odd]} readings, where the study needs {Math.Max(r, 2)} everywhere."
                    : $"{p} parts and {o} operators; two of each are the least.",
                odd >= 0 ? $"part {parts.Levels[odd / o]}, operator {operators.Levels[odd % o]}" : "gauge study",
                "complete the study, or estimate its components by restricted likelihood, which takes unequal numbers."
            );
        var ofPart = new double[p];
        var ofOperator = new double[o];
        for (int c = 0; c < cells.Length; c++)
        {
            cells[c] /= r;
            ofPart[c / o] += cells[c] / o;
            ofOperator[c % o] += cells[c] / p;
        }
        double sp = o * r * ofPart.Sum(m => (m - grand) * (m - grand));
        double so = p * r * ofOperator.Sum(m => (m - grand) * (m - grand));
        double spo = 0;
        for (int c = 0; c < cells.Length; c++)
            spo += r * Math.Pow(cells[c] - ofPart[c / o] - ofOperator[c % o] + grand, 2);
        double se = 0;
        for (int i = 0; i < n; i++)
            se += Math.Pow(values[i] - values[0] - cells[parts.Codes[i] * o + operators.Codes[i]], 2);
        double dpo = (p - 1.0) * (o - 1);
        double de = p * o * (r - 1.0);
        double f = spo / dpo / (se / de);
        double interaction = Quantile.FisherAbove(f, dpo, de);
        bool pool = interaction > poolAbove;
        double tested = pool ? (spo + se) / (dpo + de) : spo / dpo;
        double testedDof = pool ? dpo + de : dpo;
        MeanSquare Line(string name, double sum, double dof) =>
            new(name, sum, dof, sum / dof / tested, Quantile.FisherAbove(sum / dof / tested, dof, testedDof));
        var table = new List<MeanSquare> { Line(parts.Name, sp, p - 1), Line(operators.Name, so, o - 1) };
        if (!pool)
            table.Add(new("interaction", spo, dpo, f, interaction));
        table.Add(new("repeats", pool ? spo + se : se, pool ? dpo + de : de));
        double[] squares = table.Select(line => line.Value).ToArray();
        double[] dofs = table.Select(line => line.DegreesOfFreedom).ToArray();
        double pr = p * (double)r;
        double or = o * (double)r;
        // Coefficients of the mean squares (parts, operators, interaction, repeats).
        VarianceComponent Make(string name, double[] full, double? sum = null)
        {
            double[] c = pool ? [full[0], full[1], full[2] + full[3]] : full;
            double raw = 0;
            for (int k = 0; k < c.Length; k++)
                raw += c[k] * squares[k];
            VarianceComponent one = NestedAnalysis.Component(name, raw, c, squares, dofs, p, n, confidence);
            return sum is double total && total != one.Variance
                ? one with
                {
                    Variance = total,
                    Deviation = one.Deviation with { Value = Math.Sqrt(total) },
                }
                : one;
        }
        VarianceComponent repeat = Make("repeatability", [0, 0, 0, 1]);
        VarianceComponent operatorPart = Make("operators", [0, 1 / pr, -1 / pr, 0]);
        VarianceComponent? cross = pool ? null : Make("interaction", [0, 0, 1.0 / r, -1.0 / r]);
        double reproducible = operatorPart.Variance + (cross?.Variance ?? 0);
        return new GaugeStudy
        {
            Table = table,
            Repeatability = repeat,
            Operators = operatorPart,
            Interaction = cross,
            Reproducibility = pool
                ? operatorPart with
                {
                    Source = "reproducibility",
                }
                : Make("reproducibility", [0, 1 / pr, 1.0 / r - 1 / pr, -1.0 / r], reproducible),
            Gauge = pool
                ? Make("gauge", [0, 1 / pr, -1 / pr, 1], reproducible + repeat.Variance)
                : Make("gauge", [0, 1 / pr, 1.0 / r - 1 / pr, 1 - 1.0 / r], reproducible + repeat.Variance),
            Parts = Make("parts", [1 / or, 0, -1 / or, 0]),
        };
    }
}
