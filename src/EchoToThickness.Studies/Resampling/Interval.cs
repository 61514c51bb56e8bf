namespace EchoToThickness.Studies.Resampling;

/// <summary>A two-sided confidence interval; NaN on both sides where there is none.</summary>
/// <param name="Low">Lower limit, in the unit of the figure.</param>
/// <param name="High">Upper limit, in the unit of the figure.</param>
public readonly record struct Interval(double Low, double High)
{
    /// <summary>No interval can be given.</summary>
    public static Interval None => new(double.NaN, double.NaN);

    /// <summary>Whether there is an interval.</summary>
    public bool IsKnown => !double.IsNaN(Low) && !double.IsNaN(High);
}
