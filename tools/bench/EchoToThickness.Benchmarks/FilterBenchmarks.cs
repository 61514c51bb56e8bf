using BenchmarkDotNet.Attributes;
using EchoToThickness.Signals;

namespace EchoToThickness.Benchmarks;

/// <summary>Filters of 63 taps on one A-scan.</summary>
[MemoryDiagnoser]
public class FilterBenchmarks
{
    private float[] _record = [];
    private float[] _a = [];
    private float[] _b = [];
    private AnalyticFir _analytic = null!;
    private RealFir _real = null!;
    private PhaseSplit _split = null!;

    /// <summary>Implementation.</summary>
    [Params(KernelPath.Wide, KernelPath.Portable, KernelPath.Scalar)]
    public KernelPath Path { get; set; }

    /// <summary>Samples of the A-scan.</summary>
    [Params(250, 1000, 4000)]
    public int Samples { get; set; }

    [GlobalSetup]
    public void Setup()
    {
        _record = Records.Fractions(1, Samples);
        _a = new float[Samples];
        _b = new float[Samples];
        _analytic = new AnalyticFir(FirDesign.AnalyticBandPass(63, 3e6, 12e6, 100e6), Path);
        _real = new RealFir(FirDesign.BandPass(3e6, 12e6, 100e6, FirWindow.Hamming(63)), Path);
        _split = new PhaseSplit(_analytic, Samples);
        _split.Load(_record);
    }

    [Benchmark(Baseline = true)]
    public void SquaredEnvelope() => _analytic.SquaredEnvelope(_record, 0, _a);

    [Benchmark]
    public void AnalyticSignal() => _analytic.AnalyticSignal(_record, 0, _a, _b);

    [Benchmark]
    public void RealBandPass() => _real.Same(_record, 0, _a);

    [Benchmark]
    public void EveryFourthSample() => _split.SquaredEnvelope(0, _a.AsSpan(0, _split.OutputCount));

    [Benchmark]
    public void Split() => _split.Load(_record);

    [Benchmark]
    public void SixteenSamples() => _analytic.SquaredEnvelope(_record, 100, _a.AsSpan(0, 16));
}
