using BenchmarkDotNet.Attributes;
using EchoToThickness.Signals;

namespace EchoToThickness.Benchmarks;

/// <summary>Searches, conversion, noise and correlation on one A-scan.</summary>
[MemoryDiagnoser]
public class SearchBenchmarks
{
    private short[] _words = [];
    private float[] _record = [];
    private float[] _result = [];
    private float[] _scratch = [];

    /// <summary>Implementation.</summary>
    [Params(KernelPath.Wide, KernelPath.Portable, KernelPath.Scalar)]
    public KernelPath Path { get; set; }

    /// <summary>Samples searched.</summary>
    [Params(64, 270, 1000)]
    public int Samples { get; set; }

    [GlobalSetup]
    public void Setup()
    {
        _words = Records.Words(1, Samples);
        _record = Records.Fractions(1, Samples);
        _result = new float[Samples];
        _scratch = new float[3 * Samples];
    }

    [Benchmark(Baseline = true)]
    public int LargestWord() => Magnitude.IndexOfLargest(_words, Path);

    [Benchmark]
    public int FirstWord() => Magnitude.FirstAtLeast(_words, 30000, Path);

    [Benchmark]
    public int LargestSingle() => Magnitude.IndexOfLargest(_record, Path);

    [Benchmark]
    public int FirstSingle() => Magnitude.FirstAtLeast(_record, 0.95f, Path);

    [Benchmark]
    public void WordsToSingle() => SampleConversion.ToSingle(_words, 0, 1 / 32767f, _result, Path);

    [Benchmark]
    public double Noise() => RobustNoise.GaussianFactor * RobustNoise.MedianDeviation(_record, 0, Path);

    [Benchmark]
    public void SlidingTemplateOf32() =>
        Correlation.Sliding(_record, _record.AsSpan(0, 32), _result.AsSpan(0, Samples - 31), Path);

    [Benchmark]
    public void Autocorrelation() => Correlation.Auto(_record, 0, _result, _scratch, Path);
}
