namespace EchoToThickness.Simulation.Waves;

/// <summary>Times and diffraction distances of one cell.</summary>
/// <remarks>
/// Layers between concentric faces are flat ones in coordinates that are stretched with the radius: from radius r1 to r2 the distance becomes
/// <c>r0² (1/r2 - 1/r1)</c>, with r0 the radius at which lengths are true, here that of the array, R + g (telescopic equivalence: Siegman, Lasers, 20.7).
/// So <c>g M</c> for the couplant and <c>M² d R / (R - d)</c> for the metal, with M = (R + g)/R, by which lengths on the surface grow. A metre of couplant spreads the
/// beam like c_w / c_s metres of metal.
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
        StretchAlong = 1 + cell.CouplantMetres / _radiusAlong;
        StretchAround = 1 + cell.CouplantMetres / _radiusAround;
        CouplantAlongMetres = ratio * cell.CouplantMetres * StretchAlong;
        CouplantAroundMetres = ratio * cell.CouplantMetres * StretchAround;
    }

    /// <summary>By how much lengths along the surface grow up to the array.</summary>
    public double StretchAlong { get; }

    /// <summary>The same around.</summary>
    public double StretchAround { get; }

    /// <summary>One pass of the couplant, there and back.</summary>
    public double CouplantSeconds { get; }

    /// <summary>Round trip of one metre of metal.</summary>
    public double MetalSecondsPerMetre { get; }

    /// <summary>Spreading distance of one pass of the couplant, along, as metres of metal.</summary>
    public double CouplantAlongMetres { get; }

    /// <summary>The same around.</summary>
    public double CouplantAroundMetres { get; }

    /// <summary>Spreading distance of a depth in the metal, along.</summary>
    public double MetalAlong(double depthMetres) => StretchAlong * StretchAlong * Inward(depthMetres, _radiusAlong);

    /// <summary>Spreading distance of a depth in the metal, around.</summary>
    public double MetalAround(double depthMetres) => StretchAround * StretchAround * Inward(depthMetres, _radiusAround);

    private static double Inward(double depth, double radius) =>
        double.IsInfinity(radius) ? depth : depth * radius / (radius - depth);
}
