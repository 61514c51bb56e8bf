namespace EchoToThickness.Studies;

/// <summary>When a measured wall counts as wrong, and how wrong.</summary>
public sealed record AccuracyRules
{
    /// <summary>Off by more than this is gross (or by more than <see cref="GrossFraction"/> of the wall, whichever is smaller), metres.</summary>
    public double GrossMetres { get; init; } = 0.5e-3;

    /// <summary>Part of the wall that is gross.</summary>
    public double GrossFraction { get; init; } = 0.1;

    /// <summary>
    /// Where the wall on the beam axis and the smallest wall under the aperture differ by more than this, both are true and so is
    /// everything between them, metres.
    /// </summary>
    public double TwoTruthsMetres { get; init; } = 0.5e-3;

    /// <summary>How far outside the two truths a value is still accepted, metres.</summary>
    public double TwoTruthsToleranceMetres { get; init; } = 0.5e-3;

    /// <summary>Off by more than this is a cycle error, metres; NaN when the wavelength is not known (then none is counted).</summary>
    public double CycleMetres { get; init; } = double.NaN;

    /// <summary>The rules for a wavelength: a cycle error is more than one eighth of it.</summary>
    /// <param name="velocityMetresPerSecond">Velocity in the metal; null when unknown.</param>
    /// <param name="frequencyHz">Centre frequency; null when unknown.</param>
    public static AccuracyRules For(double? velocityMetresPerSecond, double? frequencyHz) =>
        new()
        {
            CycleMetres =
                velocityMetresPerSecond is { } velocity && frequencyHz is { } frequency
                    ? velocity / frequency / 8
                    : double.NaN,
        };

    /// <summary>Judges one measured wall.</summary>
    /// <param name="valueMetres">The measured wall; a number.</param>
    /// <param name="truthMetres">Wall on the beam axis; a number.</param>
    /// <param name="minimumMetres">Smallest wall under the aperture; NaN when not known.</param>
    /// <remarks>
    /// The error is value less truth on the axis. Where the two truths differ by more than <see cref="TwoTruthsMetres"/>, it is the signed
    /// distance to the interval between them (0 inside), and gross means further outside than <see cref="TwoTruthsToleranceMetres"/>.
    /// </remarks>
    public CellVerdict Judge(double valueMetres, double truthMetres, double minimumMetres = double.NaN)
    {
        (double error, bool gross) = ErrorOf(valueMetres, truthMetres, minimumMetres);
        return new CellVerdict(
            error,
            gross,
            Math.Abs(error) > CycleMetres,
            gross && Near(valueMetres, 2 * truthMetres),
            gross && Near(valueMetres, truthMetres / 2),
            valueMetres > minimumMetres + GrossMetres
        );
    }

    private (double Error, bool Gross) ErrorOf(double value, double truth, double minimum)
    {
        if (Math.Abs(truth - minimum) > TwoTruthsMetres)
        {
            double low = Math.Min(truth, minimum);
            double high = Math.Max(truth, minimum);
            double outside =
                value > high ? value - high
                : value < low ? value - low
                : 0;
            return (outside, Math.Abs(outside) > TwoTruthsToleranceMetres);
        }
        double error = value - truth;
        return (error, !(Math.Abs(error) <= LimitFor(truth)));
    }

    private bool Near(double value, double wall) => Math.Abs(value - wall) <= LimitFor(wall);

    private double LimitFor(double wall) => Math.Min(GrossMetres, GrossFraction * wall);
}
