namespace EchoToThickness.Simulation.Waves;

/// <summary>Times and diffraction distances of one cell.</summary>
/// <remarks>
/// A curved layer between concentric faces is a flat one in coordinates that are stretched with the radius; its distance becomes
/// <c>d R / (R - d)</c> inward and <c>g R / (R + g)</c> outward of the surface of radius R (telescopic equivalence: Siegman, Lasers, 20.7).
/// A metre of couplant spreads the beam like c_w / c_s metres of metal.
/// </remarks>
internal readonly struct CellGeometry
{
    private readonly double _radiusAlong;
    private readonly double _radiusAround;

    public CellGeometry(WaveSettings settings, CellView cell)
    {
        _radiusAlong = cell.RadiusAlongMetres;
        _radiusAround = cell.RadiusAroundMetres;
        CouplantSeconds = 2 * cell.CouplantMetres / settings.CouplantVelocityMetresPerSecond;
        MetalSecondsPerMetre = 2 / settings.VelocityMetresPerSecond;
        double ratio = settings.CouplantVelocityMetresPerSecond / settings.VelocityMetresPerSecond;
        CouplantAlongMetres = ratio * Outward(cell.CouplantMetres, _radiusAlong);
        CouplantAroundMetres = ratio * Outward(cell.CouplantMetres, _radiusAround);
    }

    /// <summary>One pass of the couplant, there and back.</summary>
    public double CouplantSeconds { get; }

    /// <summary>Round trip of one metre of metal.</summary>
    public double MetalSecondsPerMetre { get; }

    /// <summary>Spreading distance of one pass of the couplant, along, as metres of metal.</summary>
    public double CouplantAlongMetres { get; }

    /// <summary>The same around.</summary>
    public double CouplantAroundMetres { get; }

    /// <summary>Spreading distance of a depth in the metal, along.</summary>
    public double MetalAlong(double depthMetres) => Inward(depthMetres, _radiusAlong);

    /// <summary>Spreading distance of a depth in the metal, around.</summary>
    public double MetalAround(double depthMetres) => Inward(depthMetres, _radiusAround);

    private static double Inward(double depth, double radius) =>
        double.IsInfinity(radius) ? depth : depth * radius / (radius - depth);

    private static double Outward(double depth, double radius) =>
        double.IsInfinity(radius) ? depth : depth * radius / (radius + depth);
}
