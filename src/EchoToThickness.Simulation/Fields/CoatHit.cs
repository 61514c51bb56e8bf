namespace EchoToThickness.Simulation.Fields;

/// <summary>A coat (paint, scale) or deposit at one point; thickness 0 where there is none.</summary>
/// <param name="ThicknessMetres">Thickness, metres.</param>
/// <param name="VelocityMetresPerSecond">Longitudinal velocity.</param>
/// <param name="DensityKilogramsPerCubicMetre">Density.</param>
/// <param name="AttenuationDecibelsPerMetre">Attenuation one way at the array's frequency.</param>
public readonly record struct CoatHit(
    double ThicknessMetres,
    double VelocityMetresPerSecond,
    double DensityKilogramsPerCubicMetre,
    double AttenuationDecibelsPerMetre
);
