using System.Runtime.InteropServices;
using BenchmarkDotNet.Attributes;
using EchoToThickness.Grids;
using EchoToThickness.Measurement;
using EchoToThickness.Measurement.Fast;
using EchoToThickness.Signals;
using EchoToThickness.Stacks;
using EchoToThickness.Velocity;

namespace EchoToThickness.Benchmarks;

/// <summary>A scan line of 256 A-scans that stays in the cache: time per A-scan of the measurers, modes A and B.</summary>
[MemoryDiagnoser]
public class MeasurerBenchmarks
{
    private const int Beams = 256;
    private const int Samples = 1000;

    private readonly byte[] _line = MemoryMarshal.AsBytes(Records.Words(Beams, Samples).AsSpan()).ToArray();
    private readonly StackInfo _info = Records.Info(Beams, Samples);
    private LineMeasurer _measurer = null!;
    private GridTile _tile = null!;

    /// <summary>Procedure and measurer.</summary>
    [Params("A fast", "B fast", "A general", "B general")]
    public string Work { get; set; } = "";

    /// <summary>Implementation.</summary>
    [Params(KernelPath.Wide, KernelPath.Portable)]
    public KernelPath Path { get; set; }

    [GlobalSetup]
    public void Setup()
    {
        MeasurementPlan plan = MeasurementPlan.Compile(
            Records.Procedure($"bench-{Work[0]}.toml"),
            _info,
            new ResolvedVelocity
            {
                MetresPerSecond = 5920,
                UncertaintyMetresPerSecond = 10,
                Source = "benchmark",
            }
        );
        _measurer = Work switch
        {
            "A fast" => RectifiedGateMeasurer.TryCreate(plan, Path)!,
            "B fast" => EnvelopeGateMeasurer.TryCreate(plan, Path)!,
            _ => new GateMeasurer(plan, Path),
        };
        _tile = new GridTile(Beams, plan.Layers);
        _tile.Place(0, 1, 0, Beams);
    }

    [Benchmark(OperationsPerInvoke = Beams)]
    public void Measure() => _measurer.Measure(new AScanBlock(_info, 0, 1, 0, Beams, _line), _tile, null);
}
