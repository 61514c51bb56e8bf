namespace EchoToThickness.Simulation.Waves;

/// <summary>The patch of wall that the footprint sum wants, centred on the beam axis.</summary>
/// <param name="CountAlong">Samples along.</param>
/// <param name="CountAround">Samples around.</param>
/// <param name="SpacingAlongMetres">Their distance along.</param>
/// <param name="SpacingAroundMetres">Their distance around.</param>
public readonly record struct FootprintPatch(
    int CountAlong,
    int CountAround,
    double SpacingAlongMetres,
    double SpacingAroundMetres
)
{
    /// <summary>Radius of the circle that holds the patch, metres: a wall that is flat within it needs no patch.</summary>
    public double RadiusMetres =>
        0.5 * Math.Sqrt(Math.Pow(CountAlong * SpacingAlongMetres, 2) + Math.Pow(CountAround * SpacingAroundMetres, 2));
}
