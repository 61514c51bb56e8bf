using EchoToThickness.Signals;

namespace EchoToThickness.Echoes;

/// <summary>Noise of filtered records of one length, from medians of their envelope in sixteen stretches. Allocates nothing per record.</summary>
internal sealed class RecordNoise
{
    /// <summary>Median of a Rayleigh variable over its sigma.</summary>
    private const double RayleighMedian = 1.1774;

    /// <summary>Factor by which the quiet level lies over the second smallest of sixteen medians.</summary>
    private const double QuietFactor = 1.06;

    /// <summary>Records of white noise from which the ratio of noise to quiet level is found; good to about 1 %.</summary>
    private const int CalibrationRecords = 128;

    private readonly KernelPath _path;
    private readonly SegmentMedians? _medians;
    private readonly float[] _scratch = new float[SegmentMedians.Segments];

    /// <summary>Makes room for records of one length.</summary>
    /// <param name="samples">Samples of a record.</param>
    /// <param name="path">Kernel implementation.</param>
    public RecordNoise(int samples, KernelPath path)
    {
        _path = path;
        _medians = samples >= SegmentMedians.Segments ? new SegmentMedians(samples) : null;
    }

    /// <summary>Quiet level, and mean of the quieter half of the medians, both as a sigma.</summary>
    /// <param name="envelope">Envelope of the filtered record.</param>
    public (double Quiet, double Half) Measure(ReadOnlySpan<float> envelope)
    {
        if (_medians is null)
        {
            double whole = RobustNoise.Median(envelope, _path) / RayleighMedian;
            return (whole, whole);
        }
        _medians.Run(envelope, _scratch);
        _scratch.AsSpan().Sort();
        double sum = 0;
        for (int k = 0; k < SegmentMedians.Segments / 2; k++)
            sum += _scratch[k];
        return (_scratch[1] / RayleighMedian * QuietFactor, sum / (SegmentMedians.Segments / 2) / RayleighMedian);
    }

    /// <summary>Ratio of the true noise per quadrature to the mean of the quieter half, by white noise of a fixed seed through the filter.</summary>
    /// <param name="filter">The filter.</param>
    /// <param name="power">Sum of its squared taps, real and imaginary.</param>
    /// <param name="samples">Shape [sample]: scratch, overwritten.</param>
    /// <param name="real">Shape [sample]: scratch, overwritten.</param>
    /// <param name="imaginary">Shape [sample]: scratch, overwritten.</param>
    /// <param name="envelope">Shape [sample]: scratch, overwritten.</param>
    public double Calibrate(
        AnalyticFir filter,
        double power,
        Span<float> samples,
        Span<float> real,
        Span<float> imaginary,
        Span<float> envelope
    )
    {
        ulong state = SplitMix64.Increment;
        double sum = 0;
        for (int record = 0; record < CalibrationRecords; record++)
        {
            for (int i = 0; i < samples.Length; i++)
                samples[i] = (float)Gaussian(ref state);
            filter.AnalyticSignal(samples, 0, real, imaginary);
            RecordKernels.Modulus(real, imaginary, envelope);
            sum += Measure(envelope).Half;
        }
        return Math.Sqrt(power / 2) / (sum / CalibrationRecords);
    }

    /// <summary>Sum of twelve uniform numbers less six: Gaussian to far beyond what a median sees.</summary>
    private static double Gaussian(ref ulong state)
    {
        double sum = -6;
        for (int k = 0; k < 12; k++)
        {
            state += SplitMix64.Increment;
            sum += SplitMix64.Mix(state) * (1.0 / 18446744073709551616.0);
        }
        return sum;
    }
}
