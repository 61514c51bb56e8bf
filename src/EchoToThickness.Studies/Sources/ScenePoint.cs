using EchoToThickness.Signals;
using EchoToThickness.Simulation.Rendering;
using EchoToThickness.Simulation.Scenes;
using EchoToThickness.Stacks;
using EchoToThickness.Studies.StudyFiles;

namespace EchoToThickness.Studies.Sources;

/// <summary>A simulated scan, made anew for every repeat; every scan line of every repeat is a block.</summary>
public sealed class ScenePoint : StudyPoint
{
    /// <summary>Blocks up to this size are computed into memory before they are measured, so that measuring can be timed.</summary>
    public const long LargestInMemoryBytes = SceneBlock.LargestInMemoryBytes;

    private readonly SceneSettings _settings;
    private readonly Scene _scene;
    private readonly string _folder;
    private readonly long _seed;
    private readonly IReadOnlyList<StackInfo> _lines;

    /// <summary>Makes a point.</summary>
    /// <param name="settings">The section of the study.</param>
    /// <param name="scene">The scene, swept keys set.</param>
    /// <param name="folder">Folder of the scene file, for files that the scene names.</param>
    /// <param name="identity">Text that decides every A-scan, without the seed.</param>
    /// <param name="name">Name in tables.</param>
    /// <param name="values">Coordinates.</param>
    /// <param name="seed">Seed of the study.</param>
    /// <exception cref="Procedures.ProcedureException">The scene cannot be.</exception>
    public ScenePoint(
        SceneSettings settings,
        Scene scene,
        string folder,
        string identity,
        string name,
        IReadOnlyList<SweepValue> values,
        long seed
    )
        : base(name, values, identity)
    {
        ArgumentNullException.ThrowIfNull(settings);
        _settings = settings;
        _scene = scene;
        _folder = folder;
        _seed = seed;
        SceneModel first = SceneModel.Compile(SceneOf(0), folder);
        _lines = [.. Enumerable.Range(0, first.Lines).Select(first.InfoOf)];
    }

    /// <inheritdoc/>
    public override int Blocks => _settings.Repeats * _lines.Count;

    /// <inheritdoc/>
    public override string BlockIdentity(int block) =>
        $"seed {_seed}\nrepeat {block / _lines.Count}\nline {block % _lines.Count}";

    /// <inheritdoc/>
    public override StackInfo InfoOf(int block) => _lines[block % _lines.Count];

    /// <inheritdoc/>
    public override StudyBlock Load(int block, CancellationToken cancellation)
    {
        SceneModel model = SceneModel.Compile(SceneOf(block / _lines.Count), _folder);
        var source = new SceneSource(model, block % _lines.Count);
        StackShape shape = source.Info.Shape;
        BlockTruth truth = TruthReader.Read(
            source,
            Clusters.Of(shape, _settings.Resample, _settings.BlockScans, _settings.BlockBeams)
        );
        var planted = new PlantedFailure[shape.Cells];
        bool inMemory = shape.Cells * source.Info.AScanBytes <= LargestInMemoryBytes;
        byte[] bytes = inMemory ? new byte[shape.Cells * source.Info.AScanBytes] : [];
        byte[] present = SceneBlock.Render(model, block % _lines.Count, bytes, planted, cancellation);
        IAScanSource ascans = inMemory ? new MemoryAScanSource(source.Info, bytes, present) : source;
        return new StudyBlock
        {
            Source = ascans,
            Truth = truth with
            {
                BoundsMetres = Bounds(model, truth.ThicknessMetres),
                Planted = Array.ConvertAll(planted, p => (uint)p),
                CouplantPathMetres = TruthReader.CouplantPathMetres(source),
            },
        };
    }

    /// <summary>A repeat's own seed follows from the seeds of study and scene and its number.</summary>
    private Scene SceneOf(int repeat)
    {
        ulong seed = SplitMix64.Mix(
            (ulong)_scene.Header.Seed + SplitMix64.Mix((ulong)_seed * SplitMix64.Increment + (ulong)repeat)
        );
        return _scene with { Header = _scene.Header with { Seed = (long)(seed >> 1) } };
    }

    /// <summary>The bound of a flat plate of each cell's wall under the same pulse, noise and time base; none where that would not hold.</summary>
    /// <remarks>Noise with a receiver's band counts as white noise of its density at the pulse's centre, if the band holds the pulse.</remarks>
    private static IReadOnlyList<double[]> Bounds(SceneModel model, double[] wallMetres)
    {
        Scene scene = model.Scene;
        if (scene.Instrument.SignalToNoiseDecibels is not { } snr || scene.Instrument.GrainNoiseFraction > 0)
            return [];
        (double frequency, double width) = (scene.Array.FrequencyHz, scene.Array.BandwidthFraction);
        if (
            ReceiverBand.Of(scene, model.Time.SampleRateHz) is { } band
            && (band.LowHz > Math.Max(0, frequency * (1 - 1.2 * width)) || band.HighHz < frequency * (1 + 1.2 * width))
        )
            return [];
        snr -= 20 * Math.Log10(model.Instrument.NoiseDensityAt(frequency));
        double couplant = scene.Coupling.VelocityMetresPerSecond * scene.Coupling.DensityKilogramsPerCubicMetre;
        double metal = scene.Material.VelocityMetresPerSecond * scene.Material.DensityKilogramsPerCubicMetre;
        double arrival = 2 * scene.Coupling.ThicknessMetres / scene.Coupling.VelocityMetresPerSecond;
        StackInfo info = model.InfoOf(0);
        var plate = new PlateModel(
            new PlateSettings
            {
                SnrDecibels = snr + 10 * Math.Log10(Math.Max(scene.Instrument.Averages, 1)),
                FrequencyHz = scene.Array.FrequencyHz,
                BandwidthFraction = scene.Array.BandwidthFraction,
                SampleRateHz = info.TimeBase.SampleRateHz,
                CouplantPathMetres = scene.Coupling.ThicknessMetres,
                CouplantVelocityMetresPerSecond = scene.Coupling.VelocityMetresPerSecond,
                LeadSeconds = arrival - info.TimeBase.StartSeconds,
                DurationSeconds = info.Shape.Samples / info.TimeBase.SampleRateHz,
                VelocityMetresPerSecond = SceneTimeBase.VelocityMetresPerSecond(scene.Material),
                ImpedanceRatio = metal / couplant,
            }
        );
        return
        [
            .. Enum.GetValues<BoundChoice>()
                .Prepend(BoundChoice.Record)
                .Select(choice => Bounds(wallMetres, wall => plate.BoundMetres(wall, choice))),
        ];
    }

    private static double[] Bounds(double[] wallMetres, Func<double, double> boundMetres)
    {
        // The bound changes slowly with the wall: one for every 50 um.
        const double Step = 50e-6;
        var known = new Dictionary<int, double>();
        return Array.ConvertAll(
            wallMetres,
            wall =>
            {
                if (!(wall > Step))
                    return double.NaN;
                int at = (int)Math.Round(wall / Step);
                if (!known.TryGetValue(at, out double bound))
                    known[at] = bound = boundMetres(at * Step);
                return bound;
            }
        );
    }
}
