namespace EchoToThickness.Statistics.Assessment;

/// <summary>A remaining life.</summary>
/// <param name="Years">From the best values; 0 when the wall is at or below the requirement.</param>
/// <param name="LowerYears">Lower end of the interval.</param>
/// <param name="MedianYears">Median of the draws.</param>
/// <param name="UpperYears">Upper end; infinite where the rate may be zero.</param>
/// <param name="ProbabilityAlreadyBelow">Probability that the wall is below the requirement now.</param>
/// <param name="NextInspectionYears">Half of the life, not above the limit of the class.</param>
public sealed record LifeEstimate(
    double Years,
    double LowerYears,
    double MedianYears,
    double UpperYears,
    double ProbabilityAlreadyBelow,
    double NextInspectionYears
);
