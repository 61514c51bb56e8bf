namespace EchoToThickness.Validation;

/// <summary>A confidence interval, in the unit of the quantity; one-sided with an infinite end; NaN at both ends where there is none.</summary>
/// <param name="Low">Lower end.</param>
/// <param name="High">Upper end.</param>
/// <param name="Confidence">Stated confidence, 0 to 1: of the whole interval, also when it has one end only.</param>
public readonly record struct ConfidenceInterval(double Low, double High, double Confidence)
{
    /// <summary>No interval can be given.</summary>
    public static ConfidenceInterval None => new(double.NaN, double.NaN, double.NaN);

    /// <summary>Whether there is an interval.</summary>
    public bool IsKnown => !double.IsNaN(Low) && !double.IsNaN(High);

    /// <summary>Whether a value lies within, ends included; false where there is no interval.</summary>
    /// <param name="value">Value.</param>
    public bool Contains(double value) => value >= Low && value <= High;

    /// <summary>An interval about a centre.</summary>
    /// <param name="centre">Centre.</param>
    /// <param name="halfWidth">Half of its width.</param>
    /// <param name="confidence">Stated confidence.</param>
    public static ConfidenceInterval About(double centre, double halfWidth, double confidence) =>
        new(centre - halfWidth, centre + halfWidth, confidence);
}
