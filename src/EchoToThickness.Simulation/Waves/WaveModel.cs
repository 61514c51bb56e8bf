using System.Numerics;
using EchoToThickness.Simulation.Scenes;

namespace EchoToThickness.Simulation.Waves;

/// <summary>
/// The echo model of one A-scan: interface, back walls, multiples of couplant and coats, laminations, mode-converted and side-wall echoes, each with its
/// own coefficients, attenuation and diffraction. Immutable; threads share it, each with its own <see cref="WaveWorkspace"/>.
/// </summary>
/// <remarks>
/// docs/theory/echo-model.md has the equations, their sources and every simplification. The A-scan does not depend on the order in which cells are
/// computed. Convention: an echo with the spectrum X exp(i 2 pi f t0) is centred on t0; the interface echo is positive, back walls over gas negative.
/// </remarks>
public sealed partial class WaveModel
{
    private const double SmallestAmplitude = 2e-5;
    private const double TailShare = 0.1;
    private const double BondedImpedance = 100e6;
    private const double LiquidImpedance = 1.48e6;
    private readonly FrequencyGrid _grid;
    private readonly BeamTables _tables;
    private readonly ApertureAxis _elevation;
    private readonly ApertureAxis _sound;
    private readonly ApertureAxis[] _beams;
    private readonly double[] _attenuation;
    private readonly double[] _dispersion;
    private readonly double[] _couplantAttenuation;
    private readonly double _scale;
    private readonly SlopeReflection _slopes;

    /// <summary>Compiles the model.</summary>
    /// <param name="settings">Settings.</param>
    /// <exception cref="ArgumentException">A velocity, density or side of the aperture is not positive, or the element lists are shorter than the aperture.</exception>
    public WaveModel(WaveSettings settings)
    {
        ArgumentNullException.ThrowIfNull(settings);
        Settings = settings;
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(settings.VelocityMetresPerSecond);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(settings.CouplantVelocityMetresPerSecond);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(settings.Impedance);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(settings.CouplantImpedance);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(settings.ApertureMetres);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(settings.ElevationMetres);
        ArgumentOutOfRangeException.ThrowIfLessThan(settings.ApertureElements, 1);
        _grid = new FrequencyGrid(settings.Pulse);
        _tables = new BeamTables(
            _grid.Hertz,
            settings.VelocityMetresPerSecond,
            settings.CouplantVelocityMetresPerSecond
        );
        _elevation = ApertureAxis.Undivided(double.IsInfinity(settings.ElevationMetres) ? 1 : settings.ElevationMetres);
        _beams = BeamApertures.Of(settings);
        _sound = BeamApertures.Sound(settings);
        _attenuation = Array.ConvertAll(_grid.Hertz, f => MetalAttenuation.NepersPerMetre(settings, f));
        _dispersion = Array.ConvertAll(_grid.Hertz, f => MetalAttenuation.RadiansPerMetre(settings, f));
        double couplantNepers = settings.CouplantAttenuationDecibelsPerMetre / MetalAttenuation.DecibelsPerNeper;
        double centre = settings.Pulse.CentreHz;
        _couplantAttenuation = Array.ConvertAll(_grid.Hertz, f => couplantNepers * f * f / (centre * centre));
        _slopes = new SlopeReflection(settings.VelocityMetresPerSecond, settings.ShearVelocityMetresPerSecond);
        Patch = PatchFor(settings);
        _scale = 1;
        _scale = settings.InterfaceAmplitudeFraction / InterfacePeak();
    }

    /// <summary>The settings.</summary>
    public WaveSettings Settings { get; }

    /// <summary>The patch of wall that cells with uneven walls should bring; other counts and spacings are accepted.</summary>
    /// <remarks>For lines along (the array lies around); swap the sides for lines around.</remarks>
    public FootprintPatch Patch { get; }

    /// <summary>Beams that have element lists of their own; 0: all beams are alike.</summary>
    public int Beams => _beams.Length;

    /// <summary>Compiles the model of a scene.</summary>
    /// <param name="scene">The scene.</param>
    /// <param name="folder">Folder from which the pulse file's path counts.</param>
    /// <exception cref="Procedures.ProcedureException">The pulse file cannot be used; with the key <c>array.pulse_file</c>.</exception>
    public static WaveModel Compile(Scene scene, string folder = ".") => new(WaveSettings.From(scene, folder));

    /// <summary>Makes scratch for one thread.</summary>
    public WaveWorkspace CreateWorkspace() => new(_grid);

    private static FootprintPatch PatchFor(WaveSettings settings)
    {
        double wavelength = settings.VelocityMetresPerSecond / settings.Pulse.CentreHz;
        double distance =
            1.25 * settings.NominalWallMetres
            + settings.NominalCouplantMetres
                * settings.CouplantVelocityMetresPerSecond
                / settings.VelocityMetresPerSecond;
        double margin = 1.1 * Math.Sqrt(wavelength * distance);
        (int along, double spacingAlong) = Row(Math.Min(settings.ElevationMetres, 50e-3));
        (int around, double spacingAround) = Row(settings.ApertureMetres);
        return double.IsInfinity(settings.ElevationMetres)
            ? new FootprintPatch(1, around, spacingAlong, spacingAround)
            : new FootprintPatch(along, around, spacingAlong, spacingAround);

        (int Count, double SpacingMetres) Row(double widthMetres)
        {
            double extent = widthMetres + 2 * margin;
            int count = (int)Math.Ceiling(extent / (wavelength / 3.2) / FootprintKernel.Lanes) * FootprintKernel.Lanes;
            count = Math.Min(count, 256);
            return (count, extent / count);
        }
    }

    /// <summary>Peak of the interface echo of the bare nominal set-up, before scaling.</summary>
    private double InterfacePeak()
    {
        var cell = new CellView();
        cell.Reset();
        cell.CouplantMetres = Settings.NominalCouplantMetres;
        cell.ThicknessMetres = 1;
        WaveWorkspace workspace = CreateWorkspace();
        double rate = 16 * Settings.Pulse.CentreHz;
        double start =
            2 * cell.CouplantMetres / Settings.CouplantVelocityMetresPerSecond - Settings.Pulse.ReachBeforeSeconds;
        var samples = new float[
            (int)((Settings.Pulse.ReachBeforeSeconds + Settings.Pulse.ReachAfterSeconds) * rate) + 16
        ];
        AddEchoes(cell, start, rate, samples, workspace, out _);
        float peak = 0;
        foreach (float sample in samples)
            peak = Math.Max(peak, Math.Abs(sample));
        return peak > 0
            ? peak
            : throw new ArgumentException("The interface echo vanishes: couplant and metal have the same impedance.");
    }

    private static double Impedance(InnerMedium inner) =>
        inner switch
        {
            InnerMedium.Liquid => LiquidImpedance,
            InnerMedium.Bonded => BondedImpedance,
            _ => 0,
        };
}
