namespace EchoToThickness.Velocity;

/// <summary>
/// Metres for seconds, after precedence and every correction: <c>wall = PathFactor * V * (t - Zero - Coating) / 2</c> from interface
/// to wall, <c>wall = PathFactor * V * t / 2</c> from wall to wall.
/// </summary>
public sealed record ResolvedVelocity
{
    /// <summary>Velocity at the part's temperature, metres per second.</summary>
    public required double MetresPerSecond { get; init; }

    /// <summary>Its standard uncertainty (reference value and temperature), metres per second.</summary>
    public required double UncertaintyMetresPerSecond { get; init; }

    /// <summary>Velocity at the reference temperature, metres per second; NaN when not known apart.</summary>
    public double ReferenceMetresPerSecond { get; init; } = double.NaN;

    /// <summary>Part of the uncertainty that the reference value brings, metres per second; NaN when not known apart.</summary>
    public double ReferenceUncertaintyMetresPerSecond { get; init; } = double.NaN;

    /// <summary>Part of the uncertainty that the temperature correction brings, metres per second.</summary>
    public double TemperatureUncertaintyMetresPerSecond { get; init; }

    /// <summary>The calibration behind velocity or zero; null when there was none.</summary>
    public VelocityCalibration? Calibration { get; init; }

    /// <summary>Zero offset of interface-to-wall times, seconds.</summary>
    public double ZeroSeconds { get; init; }

    /// <summary>Standard uncertainty of the zero, seconds.</summary>
    public double ZeroUncertaintySeconds { get; init; }

    /// <summary>Covariance of velocity and zero, metres (m/s times s).</summary>
    public double VelocityZeroCovariance { get; init; }

    /// <summary>Round-trip time in a known coating, part of interface-to-wall times only, seconds.</summary>
    public double CoatingSeconds { get; init; }

    /// <summary>Standard uncertainty of the time in the coating, seconds.</summary>
    public double CoatingUncertaintySeconds { get; init; }

    /// <summary>Factor on the path: cosine of the beam angle in the metal over the curvature's mean path; 1 for normal incidence on a plate.</summary>
    public double PathFactor { get; init; } = 1;

    /// <summary>Where the velocity came from, in words.</summary>
    public required string Source { get; init; }

    /// <summary>Every correction applied, one line each, with its size at the nominal (or a stated) wall.</summary>
    public IReadOnlyList<string> Corrections { get; init; } = [];

    /// <summary>Disagreements worth a look (sources further than 0.1 % apart, missing provenance).</summary>
    public IReadOnlyList<string> Warnings { get; init; } = [];

    /// <summary>Wall of an interface-to-wall time. The only place that halves it.</summary>
    /// <param name="roundTripSeconds">Interface echo to back-wall echo 1, seconds.</param>
    /// <returns>Metres.</returns>
    public double InterfaceToWallMetres(double roundTripSeconds) =>
        WallToWallMetres(roundTripSeconds - ZeroSeconds - CoatingSeconds);

    /// <summary>Wall of a wall-to-wall time (one round trip through metal). The only place that halves it.</summary>
    /// <param name="roundTripSeconds">Back-wall echo n to n+1, seconds.</param>
    /// <returns>Metres.</returns>
    public double WallToWallMetres(double roundTripSeconds) => 0.5 * PathFactor * MetresPerSecond * roundTripSeconds;
}
