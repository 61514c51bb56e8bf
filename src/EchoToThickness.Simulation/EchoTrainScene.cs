namespace EchoToThickness.Simulation;

/// <summary>
/// A plate or elbow patch as an array sees it at normal incidence: interface echo, back-wall echo train, and what spoils them. Echoes are
/// copies of one pulse (no diffraction, no dispersion); for elastodynamic truth use full-wave stacks.
/// </summary>
/// <remarks>
/// Amplitudes follow the plane-wave coefficients of pressure. With <c>R = (Z2 - Z1) / (Z2 + Z1)</c> at couplant to metal, the interface
/// echo has amplitude R, and back-wall echo n, seen through a free far wall (reflection -1), <c>-(1 - R²) R^(n-1)</c>: about 18 dB lower
/// for water on steel, of opposite sign to the interface echo and of the same sign among themselves.
/// Source: Brekhovskikh, Waves in Layered Media; the closed forms also stand in any handbook of ultrasonic testing.
/// </remarks>
public sealed record EchoTrainScene
{
    /// <summary>Name for messages.</summary>
    public string Name { get; init; } = "simulated stack";

    /// <summary>Scan positions.</summary>
    public int Scans { get; init; } = 160;

    /// <summary>Beams.</summary>
    public int Beams { get; init; } = 128;

    /// <summary>Samples of one A-scan.</summary>
    public int Samples { get; init; } = 1200;

    /// <summary>Distance between scan positions, metres.</summary>
    public double ScanPitchMetres { get; init; } = 1e-3;

    /// <summary>Distance between beams, metres.</summary>
    public double IndexPitchMetres { get; init; } = 1e-3;

    /// <summary>Samples a second.</summary>
    public double SampleRateHz { get; init; } = 100e6;

    /// <summary>Time of sample 0, seconds from the pulse.</summary>
    public double StartSeconds { get; init; } = 2e-6;

    /// <summary>Centre frequency, hertz.</summary>
    public double FrequencyHz { get; init; } = 7e6;

    /// <summary>Relative bandwidth at -6 dB.</summary>
    public double BandwidthFraction { get; init; } = 0.6;

    /// <summary>Longitudinal velocity in the metal, metres per second.</summary>
    public double VelocityMetresPerSecond { get; init; } = 5920;

    /// <summary>Density of the metal, kilograms per cubic metre.</summary>
    public double DensityKilogramsPerCubicMetre { get; init; } = 7850;

    /// <summary>Velocity in the couplant, metres per second.</summary>
    public double CouplantVelocityMetresPerSecond { get; init; } = 1480;

    /// <summary>Density of the couplant, kilograms per cubic metre.</summary>
    public double CouplantDensityKilogramsPerCubicMetre { get; init; } = 1000;

    /// <summary>The wall.</summary>
    public WallMap Wall { get; init; } = new() { NominalMetres = 9e-3 };

    /// <summary>The couplant path.</summary>
    public CouplantPath Couplant { get; init; } = new(3.2e-3);

    /// <summary>Amplitude of the interface echo, fraction of full scale.</summary>
    public double InterfaceAmplitudeFraction { get; init; } = 0.7;

    /// <summary>Loss at each reflection from the far wall beyond the plane-wave coefficients (roughness, spreading), decibels.</summary>
    public double WallLossDecibels { get; init; } = 1.5;

    /// <summary>Slope of the far wall at which its echo has lost 8.7 dB (1 neper); the loss grows with the square of the slope.</summary>
    public double SlopeOfOneNeper { get; init; } = 0.8;

    /// <summary>Level of the couplant layer's second echo against the interface echo, decibels; null for none.</summary>
    public double? CouplantMultipleDecibels { get; init; }

    /// <summary>Standard deviation of white noise, fraction of full scale.</summary>
    public double NoiseFraction { get; init; } = 0.002;

    /// <summary>Part of the cells, scattered at random, whose coupling is lost.</summary>
    public double DropOutFraction { get; init; }

    /// <summary>Areas whose coupling is lost: noise is all that is left.</summary>
    public IReadOnlyList<PlanRectangle> LostCoupling { get; init; } = [];

    /// <summary>Areas for which no A-scan is stored.</summary>
    public IReadOnlyList<PlanRectangle> NotScanned { get; init; } = [];

    /// <summary>Reflectors inside the metal; the first that contains a point counts.</summary>
    public IReadOnlyList<LaminarPatch> LaminarPatches { get; init; } = [];

    /// <summary>Seed of everything random.</summary>
    public ulong Seed { get; init; } = 1;

    /// <summary>Pressure reflection coefficient from couplant to metal.</summary>
    public double InterfaceReflection
    {
        get
        {
            double couplant = CouplantVelocityMetresPerSecond * CouplantDensityKilogramsPerCubicMetre;
            double metal = VelocityMetresPerSecond * DensityKilogramsPerCubicMetre;
            return (metal - couplant) / (metal + couplant);
        }
    }
}
