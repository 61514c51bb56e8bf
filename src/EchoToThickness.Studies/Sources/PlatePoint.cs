using System.Runtime.InteropServices;
using EchoToThickness.Procedures;
using EchoToThickness.Signals;
using EchoToThickness.Stacks;
using EchoToThickness.Studies.StudyFiles;

namespace EchoToThickness.Studies.Sources;

/// <summary>Independent records of a plane layer in white noise, made in memory. The same seed and settings always give the same bytes.</summary>
public sealed class PlatePoint : StudyPoint
{
    /// <summary>Records of one block.</summary>
    public const int RecordsPerBlock = 1000;

    private const int BoundWalls = 9;
    private static readonly int BoundChoices = Enum.GetValues<BoundChoice>().Length;
    private readonly PlateSettings _settings;
    private readonly PlateModel _model;
    private readonly ulong _seed;
    private readonly int _records;
    private readonly Lazy<double[][]> _bounds;

    /// <summary>Makes a point.</summary>
    /// <param name="settings">The plate, swept keys set.</param>
    /// <param name="values">Coordinates.</param>
    /// <param name="seed">Seed of the study.</param>
    /// <param name="records">Records.</param>
    public PlatePoint(PlateSettings settings, IReadOnlyList<SweepValue> values, long seed, int records)
        : base(settings.Name, values, "plate\n" + TomlBinder.Write(settings with { Name = "" }))
    {
        _settings = settings;
        _records = records;
        _model = new PlateModel(settings);
        // The noise of a point depends on its settings, so that points are independent of each other and of their order.
        _seed = SplitMix64.Mix((ulong)seed + ContentHash.Word(Identity));
        Seed = seed;
        _bounds = new Lazy<double[][]>(() =>
            [
                .. Enum.GetValues<BoundChoice>()
                    .Prepend(settings.Bound)
                    .Select(choice =>
                        Enumerable
                            .Range(0, BoundWalls)
                            .Select(i => _model.BoundMetres(WallAt(i / (BoundWalls - 1.0)), choice))
                            .ToArray()
                    ),
            ]
        );
    }

    /// <summary>Seed of the study.</summary>
    public long Seed { get; }

    /// <summary>The exact record.</summary>
    public PlateModel Model => _model;

    /// <inheritdoc/>
    public override int Blocks => (_records + RecordsPerBlock - 1) / RecordsPerBlock;

    /// <inheritdoc/>
    public override string BlockIdentity(int block) => $"seed {Seed}\nblock {block}\nrecords {RecordsOf(block)}";

    /// <inheritdoc/>
    public override StackInfo InfoOf(int block) =>
        new()
        {
            Name = ToString(),
            Shape = new StackShape(RecordsOf(block), 1, _model.Samples),
            SampleType = SampleType.Int16,
            TimeBase = new TimeBase { SampleRateHz = _settings.SampleRateHz, StartSeconds = _model.StartSeconds },
            Amplitude = AmplitudeScale.For(SampleType.Int16),
            Acquisition = new AcquisitionFacts
            {
                FrequencyHz = _settings.FrequencyHz,
                BandwidthFraction = _settings.BandwidthFraction,
                VelocityMetresPerSecond = _settings.VelocityMetresPerSecond,
                CouplantVelocityMetresPerSecond = _settings.CouplantVelocityMetresPerSecond,
            },
            Component = new ComponentFacts { NominalWallMetres = _settings.WallMetres },
            Neighbours = NeighbourAxes.None,
        };

    /// <inheritdoc/>
    public override StudyBlock Load(int block, CancellationToken cancellation)
    {
        StackInfo info = InfoOf(block);
        int records = info.Shape.Scans;
        int samples = _model.Samples;
        var counts = new short[(long)records * samples];
        var truth = new double[records];
        var bounds = new double[1 + BoundChoices][];
        for (int k = 0; k < bounds.Length; k++)
            bounds[k] = new double[records];
        var echoes = new double[samples];
        for (int i = 0; i < records; i++)
        {
            cancellation.ThrowIfCancellationRequested();
            var random = new RecordNoise(_seed, (ulong)((long)block * RecordsPerBlock + i));
            double part = random.Uniform();
            double path = _settings.CouplantPathMetres + _settings.CouplingJitterMetres * random.Normal();
            truth[i] = WallAt(part);
            for (int k = 0; k < bounds.Length; k++)
                bounds[k][i] = BoundAt(k, part);
            Array.Clear(echoes);
            _model.AddEchoes(echoes, 2 * Math.Max(path, 0) / _settings.CouplantVelocityMetresPerSecond, truth[i]);
            Store(echoes, ref random, counts.AsSpan(i * samples, samples));
        }
        return new StudyBlock
        {
            Source = new MemoryAScanSource(info, MemoryMarshal.AsBytes(counts.AsSpan()).ToArray()),
            Truth = new BlockTruth
            {
                ThicknessMetres = truth,
                BoundsMetres = bounds,
                Cluster = [.. Enumerable.Range(0, records)],
                VelocityMetresPerSecond = _settings.VelocityMetresPerSecond,
                FrequencyHz = _settings.FrequencyHz,
            },
        };
    }

    private int RecordsOf(int block) => Math.Min(RecordsPerBlock, _records - block * RecordsPerBlock);

    private double WallAt(double part) => _settings.WallMetres + (part - 0.5) * _settings.WallRangeMetres;

    private double BoundAt(int kind, double part)
    {
        double[] bounds = _bounds.Value[kind];
        double position = part * (BoundWalls - 1);
        int below = Math.Min((int)position, BoundWalls - 2);
        return bounds[below] + (position - below) * (bounds[below + 1] - bounds[below]);
    }

    private void Store(ReadOnlySpan<double> echoes, ref RecordNoise random, Span<short> counts)
    {
        double step = 1 << (16 - _settings.Bits);
        double highest = Math.Floor(short.MaxValue / step) * step;
        for (int n = 0; n < echoes.Length; n++)
        {
            double value = (echoes[n] + _model.NoiseFraction * random.Normal()) * short.MaxValue;
            counts[n] = (short)Math.Clamp(Math.Round(value / step) * step, short.MinValue, highest);
        }
    }
}
