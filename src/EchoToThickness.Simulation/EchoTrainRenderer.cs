using EchoToThickness.Simulation.Random;

namespace EchoToThickness.Simulation;

/// <summary>Computes A-scans of a scene, one at a time, in any order. Owns its scratch; one a thread.</summary>
public sealed class EchoTrainRenderer
{
    private const ulong JitterStream = ulong.MaxValue;
    private const ulong DropOutStream = ulong.MaxValue - 1;
    private readonly EchoTrainScene _scene;
    private readonly GaborPulse _pulse;
    private readonly float[] _samples;

    /// <summary>Makes a renderer.</summary>
    /// <param name="scene">The scene.</param>
    public EchoTrainRenderer(EchoTrainScene scene)
    {
        ArgumentNullException.ThrowIfNull(scene);
        _scene = scene;
        _pulse = new GaborPulse(scene.FrequencyHz, scene.BandwidthFraction);
        _samples = new float[scene.Samples];
    }

    /// <summary>Whether an A-scan is stored for a cell.</summary>
    /// <param name="scan">Scan position.</param>
    /// <param name="beam">Beam.</param>
    public bool IsScanned(int scan, int beam) => !Covers(_scene.NotScanned, scan, beam);

    /// <summary>Whether the coupling of a cell is lost.</summary>
    /// <param name="scan">Scan position.</param>
    /// <param name="beam">Beam.</param>
    public bool IsCoupled(int scan, int beam) =>
        !Covers(_scene.LostCoupling, scan, beam)
        && CounterNoise.Uniform(_scene.Seed, DropOutStream, Cell(scan, beam)) >= _scene.DropOutFraction;

    /// <summary>Wall of a cell, metres.</summary>
    /// <param name="scan">Scan position.</param>
    /// <param name="beam">Beam.</param>
    public double ThicknessMetres(int scan, int beam) =>
        _scene.Wall.ThicknessAt(scan * _scene.ScanPitchMetres, beam * _scene.IndexPitchMetres);

    /// <summary>Couplant path of a cell, metres.</summary>
    /// <param name="scan">Scan position.</param>
    /// <param name="beam">Beam.</param>
    public double CouplantPathMetres(int scan, int beam)
    {
        Span<float> deviate = stackalloc float[1];
        if (_scene.Couplant.JitterMetres > 0)
            CounterNoise.AddNormal(deviate, 1, _scene.Seed, JitterStream - 2 - (ulong)scan);
        return _scene.Couplant.At(scan * _scene.ScanPitchMetres, beam * _scene.IndexPitchMetres, deviate[0]);
    }

    /// <summary>Depth of a laminar reflector under a cell, metres; NaN when there is none.</summary>
    /// <param name="scan">Scan position.</param>
    /// <param name="beam">Beam.</param>
    public double ReflectorDepthMetres(int scan, int beam) => LaminarPatchAt(scan, beam)?.DepthMetres ?? double.NaN;

    /// <summary>Computes one A-scan.</summary>
    /// <param name="scan">Scan position.</param>
    /// <param name="beam">Beam.</param>
    /// <param name="counts">Shape [sample]: takes counts, full scale 32767, clipped at the rails; zeros where nothing was scanned.</param>
    public void Render(int scan, int beam, Span<short> counts)
    {
        if (counts.Length != _scene.Samples)
            throw new ArgumentException(
                $"The scene has {_scene.Samples} samples, not {counts.Length}.",
                nameof(counts)
            );
        if (!IsScanned(scan, beam))
        {
            counts.Clear();
            return;
        }
        Array.Clear(_samples);
        if (IsCoupled(scan, beam))
            AddEchoes(scan, beam);
        CounterNoise.AddNormal(_samples, _scene.NoiseFraction, _scene.Seed, Cell(scan, beam));
        for (int i = 0; i < counts.Length; i++)
            counts[i] = (short)Math.Clamp(MathF.Round(_samples[i] * short.MaxValue), short.MinValue, short.MaxValue);
    }

    private void AddEchoes(int scan, int beam)
    {
        double interfaceSeconds = 2 * CouplantPathMetres(scan, beam) / _scene.CouplantVelocityMetresPerSecond;
        double amplitude = _scene.InterfaceAmplitudeFraction;
        Add(interfaceSeconds, amplitude);
        if (_scene.CouplantMultipleDecibels is { } level)
            Add(2 * interfaceSeconds, amplitude * Math.Pow(10, level / 20));

        double reflection = _scene.InterfaceReflection;
        // The echo that entered the metal and came back out through the interface, against the interface echo.
        double entered = amplitude * (1 - reflection * reflection) / reflection;
        double wall = ThicknessMetres(scan, beam);
        double slope =
            _scene.Wall.SlopeAt(scan * _scene.ScanPitchMetres, beam * _scene.IndexPitchMetres) / _scene.SlopeOfOneNeper;
        double wallReflection = Math.Pow(10, -_scene.WallLossDecibels / 20) * Math.Exp(-slope * slope);
        double passed = 1;
        if (LaminarPatchAt(scan, beam) is { } patch)
        {
            AddTrain(interfaceSeconds, patch.DepthMetres, entered, patch.ReflectedFraction, reflection);
            passed = (1 - patch.ReflectedFraction) * (1 - patch.ReflectedFraction);
        }
        AddTrain(interfaceSeconds, wall, entered * passed, wallReflection, reflection * passed);
    }

    private void AddTrain(
        double interfaceSeconds,
        double depthMetres,
        double entered,
        double wallReflection,
        double frontReflection
    )
    {
        double roundTrip = 2 * depthMetres / _scene.VelocityMetresPerSecond;
        double end = _scene.StartSeconds + _scene.Samples / _scene.SampleRateHz + _pulse.ReachSeconds;
        double amplitude = entered * wallReflection;
        for (
            double time = interfaceSeconds + roundTrip;
            time < end && amplitude > 1e-5;
            time += roundTrip, amplitude *= frontReflection * wallReflection
        )
            Add(time, -amplitude);
    }

    private void Add(double seconds, double amplitude) =>
        _pulse.Add(_samples, _scene.StartSeconds, _scene.SampleRateHz, seconds, amplitude);

    private ulong Cell(int scan, int beam) => (ulong)scan * (ulong)_scene.Beams + (ulong)beam;

    private LaminarPatch? LaminarPatchAt(int scan, int beam)
    {
        foreach (LaminarPatch patch in _scene.LaminarPatches)
        {
            if (patch.Area.Contains(scan * _scene.ScanPitchMetres, beam * _scene.IndexPitchMetres))
                return patch;
        }
        return null;
    }

    private bool Covers(IReadOnlyList<PlanRectangle> areas, int scan, int beam)
    {
        foreach (PlanRectangle area in areas)
        {
            if (area.Contains(scan * _scene.ScanPitchMetres, beam * _scene.IndexPitchMetres))
                return true;
        }
        return false;
    }
}
