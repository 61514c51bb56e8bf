namespace EchoToThickness.Validation.Variance;

/// <summary>A line of an analysis of variance.</summary>
/// <param name="Source">What varies.</param>
/// <param name="SumOfSquares">Sum of squares.</param>
/// <param name="DegreesOfFreedom">Degrees of freedom.</param>
/// <param name="Statistic">F; NaN where nothing tests it.</param>
/// <param name="Probability">Probability of so large an F when the source does not vary; NaN where nothing tests it.</param>
public sealed record MeanSquare(
    string Source,
    double SumOfSquares,
    double DegreesOfFreedom,
    double Statistic = double.NaN,
    double Probability = double.NaN
)
{
    /// <summary>Mean square.</summary>
    public double Value => SumOfSquares / DegreesOfFreedom;
}
