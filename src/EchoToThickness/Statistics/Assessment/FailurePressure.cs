namespace EchoToThickness.Statistics.Assessment;

/// <summary>Failure pressure of a corroded pipe.</summary>
/// <param name="FailurePascals">Predicted failure pressure.</param>
/// <param name="SafePascals">That over the safety factor, not above the pressure of the sound pipe over the factor.</param>
/// <param name="BulgingFactor">Factor M.</param>
/// <param name="FlowStressPascals">Flow stress.</param>
/// <param name="DepthMetres">Depth used.</param>
/// <param name="LengthMetres">Length used.</param>
/// <param name="AreaSquareMetres">Lost area of the axial section used.</param>
/// <param name="FirstPoint">First point of the governing part of a profile; 0 for single lengths.</param>
/// <param name="LastPoint">Last point; 0 for single lengths.</param>
public sealed record FailurePressure(
    double FailurePascals,
    double SafePascals,
    double BulgingFactor,
    double FlowStressPascals,
    double DepthMetres,
    double LengthMetres,
    double AreaSquareMetres,
    int FirstPoint = 0,
    int LastPoint = 0
);
