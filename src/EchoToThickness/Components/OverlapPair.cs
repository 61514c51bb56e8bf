namespace EchoToThickness.Components;

/// <summary>How far two lines disagree where both measured.</summary>
/// <param name="First">First line.</param>
/// <param name="Second">Second line.</param>
/// <param name="Cells">Map cells that both measured.</param>
/// <param name="AreaSquareMetres">Their true area.</param>
/// <param name="MeanDifferenceMetres">Second less first: a step of calibration or zero.</param>
/// <param name="DeviationMetres">Standard deviation of the differences.</param>
/// <param name="RobustDeviationMetres">1.4826 times the median absolute deviation of the differences.</param>
public sealed record OverlapPair(
    string First,
    string Second,
    int Cells,
    double AreaSquareMetres,
    double MeanDifferenceMetres,
    double DeviationMetres,
    double RobustDeviationMetres
);
