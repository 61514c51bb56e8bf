using EchoToThickness.Statistics;
using EchoToThickness.Validation.Accuracy;

namespace EchoToThickness.Validation.Budget;

/// <summary>An input of a measurement model.</summary>
/// <param name="Name">Name.</param>
/// <param name="Value">Estimate.</param>
/// <param name="StandardUncertainty">Standard uncertainty, in the unit of the value; for Student's t the scale s / sqrt(n), as in JCGM 100.</param>
/// <param name="DegreesOfFreedom">Of the standard uncertainty; infinite when it is taken as known.</param>
/// <param name="Shape">Distribution.</param>
public sealed record UncertaintyInput(
    string Name,
    double Value,
    double StandardUncertainty,
    double DegreesOfFreedom = double.PositiveInfinity,
    InputShape Shape = InputShape.Normal
)
{
    /// <summary>Unit, for tables.</summary>
    public string Unit { get; init; } = "";

    /// <summary>Whether it was evaluated from repeated readings (type A), or otherwise (type B).</summary>
    public bool IsTypeA { get; init; }

    /// <summary>Width of the top over that of the base of a trapezoid, 0 to 1.</summary>
    public double TopRatio { get; init; } = 0.5;

    /// <summary>The mean of independent readings (type A; JCGM 100, 4.2).</summary>
    /// <param name="name">Name.</param>
    /// <param name="readings">At least two.</param>
    /// <exception cref="StatisticsException">Fewer than two readings.</exception>
    public static UncertaintyInput FromReadings(string name, ReadOnlySpan<double> readings)
    {
        if (readings.Length < 2)
            throw new StatisticsException(
                $"{readings.Length} readings.",
                $"input {name}",
                "give at least two independent readings, or a type B uncertainty."
            );
        (double mean, double variance) = Bias.Moments(readings);
        return new(name, mean, Math.Sqrt(variance / readings.Length), readings.Length - 1, InputShape.StudentT)
        {
            IsTypeA = true,
        };
    }

    /// <summary>A quantity known to lie within limits, nothing more (type B; JCGM 100, 4.3.7): u = a / sqrt(3).</summary>
    /// <param name="name">Name.</param>
    /// <param name="value">Middle.</param>
    /// <param name="halfWidth">a.</param>
    public static UncertaintyInput Rectangular(string name, double value, double halfWidth) =>
        new(name, value, halfWidth / Math.Sqrt(3), Shape: InputShape.Rectangular);

    /// <summary>A quantity within limits, likelier in the middle (JCGM 100, 4.3.9): u = a / sqrt(6).</summary>
    /// <param name="name">Name.</param>
    /// <param name="value">Middle.</param>
    /// <param name="halfWidth">a.</param>
    public static UncertaintyInput Triangular(string name, double value, double halfWidth) =>
        new(name, value, halfWidth / Math.Sqrt(6), Shape: InputShape.Triangular);

    /// <summary>Trapezoid (JCGM 100, 4.3.9): u = a sqrt((1 + b²) / 6).</summary>
    /// <param name="name">Name.</param>
    /// <param name="value">Middle.</param>
    /// <param name="halfWidth">a, of the base.</param>
    /// <param name="topRatio">b, 0 to 1.</param>
    public static UncertaintyInput Trapezoidal(string name, double value, double halfWidth, double topRatio) =>
        new(name, value, halfWidth * Math.Sqrt((1 + topRatio * topRatio) / 6), Shape: InputShape.Trapezoidal)
        {
            TopRatio = topRatio,
        };

    /// <summary>A quantity that swings between limits (JCGM 101, 6.4.6): u = a / sqrt(2).</summary>
    /// <param name="name">Name.</param>
    /// <param name="value">Middle.</param>
    /// <param name="halfWidth">a.</param>
    public static UncertaintyInput ArcSine(string name, double value, double halfWidth) =>
        new(name, value, halfWidth / Math.Sqrt(2), Shape: InputShape.ArcSine);

    /// <summary>From a certificate: expanded uncertainty and coverage factor (JCGM 100, 4.3.3).</summary>
    /// <param name="name">Name.</param>
    /// <param name="value">Value.</param>
    /// <param name="expanded">Expanded uncertainty.</param>
    /// <param name="coverageFactor">k, above 0.</param>
    /// <param name="degreesOfFreedom">Degrees of freedom, where the certificate gives them.</param>
    public static UncertaintyInput FromCertificate(
        string name,
        double value,
        double expanded,
        double coverageFactor,
        double degreesOfFreedom = double.PositiveInfinity
    ) => new(name, value, expanded / coverageFactor, degreesOfFreedom);
}
