namespace EchoToThickness.Simulation.Scenes;

/// <summary>The recorded time of a scene, with what the file left out filled in.</summary>
/// <param name="StartSeconds">Time of sample 0 from the pulse, seconds.</param>
/// <param name="SampleRateHz">Samples a second.</param>
/// <param name="Samples">Samples of one A-scan.</param>
public readonly record struct SceneTimeBase(double StartSeconds, double SampleRateHz, int Samples)
{
    /// <summary>Time kept free before the first and behind the last echo, seconds.</summary>
    private const double MarginSeconds = 1.5e-6;

    /// <summary>Time of the last sample from the pulse, seconds.</summary>
    public double EndSeconds => StartSeconds + (Samples - 1) / SampleRateHz;

    /// <summary>
    /// Fills in what the file left out: the start is 1.5 us before the earliest interface echo (0 where an initial pulse is asked for),
    /// rounded down to 0.1 us; the record lasts until 1.5 us behind the third echo of the thickest nominal wall under the latest
    /// interface echo, rounded up to 10 samples.
    /// </summary>
    /// <param name="scene">The scene.</param>
    /// <param name="shape">Its component.</param>
    public static SceneTimeBase Of(Scene scene, ComponentShape shape)
    {
        ArgumentNullException.ThrowIfNull(scene);
        ArgumentNullException.ThrowIfNull(shape);
        InstrumentSection instrument = scene.Instrument;
        (double earliest, double latest) = InterfaceSeconds(scene);
        double start =
            instrument.StartSeconds
            ?? (
                instrument.DeadTimeSeconds > 0
                    ? 0
                    : Math.Max(0, Math.Floor((earliest - MarginSeconds) * 1e7 + 1e-6) / 1e7)
            );
        double thickest = shape.NominalWallMetres * (1 + scene.Wall.BendThickeningFraction);
        double end = latest + 3 * 2 * thickest / VelocityMetresPerSecond(scene.Material) + MarginSeconds;
        int samples =
            instrument.Samples
            ?? (int)Math.Clamp(10 * Math.Ceiling((end - start) * instrument.SampleRateHz / 10), 16, 1_000_000);
        return new SceneTimeBase(start, instrument.SampleRateHz, samples);
    }

    /// <summary>Longitudinal velocity in the metal at the scene's temperature, linear about 20 degC.</summary>
    /// <param name="material">The metal.</param>
    public static double VelocityMetresPerSecond(MaterialSection material)
    {
        ArgumentNullException.ThrowIfNull(material);
        return material.VelocityMetresPerSecond + material.VelocityPerKelvin * (material.TemperatureCelsius - 20);
    }

    /// <summary>Earliest and latest interface echo that the coupling's drift, wave, jitter (4 sigma) and lift-off can give, seconds.</summary>
    /// <param name="scene">The scene.</param>
    public static (double Earliest, double Latest) InterfaceSeconds(Scene scene)
    {
        ArgumentNullException.ThrowIfNull(scene);
        CouplingSection coupling = scene.Coupling;
        double sway = coupling.WavinessMetres + 4 * coupling.JitterMetres;
        double least =
            coupling.ThicknessMetres
            + Math.Min(0, coupling.DriftMetres)
            - sway
            + coupling.LiftOffs.Sum(step => Math.Min(0, step.StepMetres));
        double most =
            coupling.ThicknessMetres
            + Math.Max(0, coupling.DriftMetres)
            + sway
            + coupling.IntradosLiftOffMetres
            + coupling.LiftOffs.Sum(step => Math.Max(0, step.StepMetres));
        double coats = scene
            .Surface.Paint.Concat(scene.Surface.Scale)
            .Sum(coat => 2 * (coat.ThicknessMetres + 3 * coat.WavinessMetres) / coat.VelocityMetresPerSecond);
        return (
            2 * Math.Max(0, least) / coupling.VelocityMetresPerSecond,
            2 * most / coupling.VelocityMetresPerSecond + coats
        );
    }
}
