using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;
using EchoToThickness.Echoes;

namespace EchoToThickness.Estimation;

/// <summary>
/// The interface echo as matched filter of the unfiltered record. Reused from A-scan to A-scan; allocates nothing after construction.
/// </summary>
/// <remarks>
/// <c>c(l) = sum over i of x[f + l + i] conj(t[i])</c>, x the samples, f the interface's sample, t the interface in the band. White noise asks for
/// <c>T = S</c> (Kay 1993, example 3.13); the filtered interface has <c>H S</c>, so the filter's Gaussian is undone to second order,
/// <c>T = H (1 + (w - w0)^2 s^2 / 2) S</c>, s the standard deviation of its taps: the record's noise outside the band stays out, and
/// the matched filter loses under half a percent. Correlating the filtered record with itself loses three to five.
/// </remarks>
internal sealed class EchoTemplate
{
    /// <summary>Half window of the template in standard deviations of the pulse.</summary>
    private const double HalfWindowDeviations = 3.2;

    /// <summary>Standard deviation of the filter's taps over the pulse's: 1 / 1.2, and 0.85 by the taper that ends them.</summary>
    private const double TapsOverPulse = 0.85 / EchoFilter.WidthRatio;

    private readonly EchoScale _scale;
    private readonly int _half;
    private readonly int _count;
    private readonly float[] _real;
    private readonly float[] _imaginary;
    private readonly double _angular;
    private readonly double _stepReal;
    private readonly double _stepImaginary;
    private EchoRecord _record = null!;
    private int _front;

    public EchoTemplate(EchoScale scale)
    {
        _scale = scale;
        _half = (int)Math.Ceiling(HalfWindowDeviations * scale.PulseSigma);
        _count = (2 * _half + 8) / 8 * 8;
        _real = new float[_count];
        _imaginary = new float[_count];
        _angular = 2 * Math.PI / scale.Period;
        (_stepImaginary, _stepReal) = Math.SinCos(_angular);
    }

    /// <summary>Samples on either side of the centre.</summary>
    public int HalfWindow => _half;

    /// <summary>The matched filter of the interface itself: the amplitude that counts as 1.</summary>
    public double Peak { get; private set; }

    /// <summary>Minus its second derivative, per sample squared.</summary>
    public double Curvature { get; private set; }

    /// <summary>Slope of its envelope, per sample: not zero for a lopsided echo.</summary>
    public double EnvelopeSlope { get; private set; }

    /// <summary>Variance of the matched filter's slope for white noise of variance 1.</summary>
    public double SlopeVariance { get; private set; }

    /// <summary>Variance of its real part for white noise of variance 1, and of its imaginary part.</summary>
    public double Variance { get; private set; }

    /// <summary>Variance of the slope of its envelope, in phase, for white noise of variance 1.</summary>
    public double EnvelopeSlopeVariance { get; private set; }

    /// <summary>Takes the interface of a record.</summary>
    /// <returns>Whether it lies inside the record with all of its window.</returns>
    public bool Load(EchoRecord record, int front)
    {
        _record = record;
        _front = front;
        if (front - _half - 1 < 0 || !Fits(1))
            return false;
        ReadOnlySpan<float> zr = record.Real.Slice(front - _half - 1, 2 * _half + 3);
        ReadOnlySpan<float> zi = record.Imaginary.Slice(front - _half - 1, 2 * _half + 3);
        double deviation = TapsOverPulse * _scale.PulseSigma;
        double undo = 0.5 * deviation * deviation;
        double power = 0;
        double slope = 0;
        double envelope = 0;
        for (int i = 0; i <= 2 * _half; i++)
        {
            // Both neighbours turned back by one sample of the carrier: what is left is the envelope.
            double nextReal = zr[i + 2] * _stepReal + zi[i + 2] * _stepImaginary;
            double nextImaginary = zi[i + 2] * _stepReal - zr[i + 2] * _stepImaginary;
            double lastReal = zr[i] * _stepReal - zi[i] * _stepImaginary;
            double lastImaginary = zi[i] * _stepReal + zr[i] * _stepImaginary;
            double real = (1 + 2 * undo) * zr[i + 1] - undo * (nextReal + lastReal);
            double imaginary = (1 + 2 * undo) * zi[i + 1] - undo * (nextImaginary + lastImaginary);
            _real[i] = (float)real;
            _imaginary[i] = (float)imaginary;
        }
        for (int i = 1; i < 2 * _half; i++)
        {
            double dr = 0.5 * (_real[i + 1] * _stepReal + _imaginary[i + 1] * _stepImaginary);
            dr -= 0.5 * (_real[i - 1] * _stepReal - _imaginary[i - 1] * _stepImaginary);
            double di = 0.5 * (_imaginary[i + 1] * _stepReal - _real[i + 1] * _stepImaginary);
            di -= 0.5 * (_imaginary[i - 1] * _stepReal + _real[i - 1] * _stepImaginary);
            double whole = dr - _angular * _imaginary[i];
            slope += whole * whole;
            envelope += dr * dr + di * di;
            power += (double)_real[i] * _real[i] + (double)_imaginary[i] * _imaginary[i];
        }
        Variance = 0.5 * power;
        SlopeVariance = slope;
        EnvelopeSlopeVariance = 0.5 * envelope;
        MatchedLag own = At(0);
        Peak = own.Real(0, out _, out double envelopeSlope);
        EnvelopeSlope = envelopeSlope;
        Curvature = own.CurvatureAtZero;
        return Peak > 0 && Curvature > 0 && SlopeVariance > 0;
    }

    /// <summary>Whether the window lies inside the record at a lag and one sample to either side.</summary>
    public bool Fits(int lag) => _front + lag - 1 - _half >= 0 && _front + lag + 1 - _half + _count <= _record.Length;

    /// <summary>The matched filter about one lag.</summary>
    /// <param name="lag">Lag that <see cref="Fits"/>.</param>
    public MatchedLag At(int lag)
    {
        (double r0, double i0) = Correlate(lag);
        (double rn, double mn) = Correlate(lag + 1);
        (double rl, double ml) = Correlate(lag - 1);
        return new MatchedLag(
            _angular,
            r0,
            i0,
            rn * _stepReal + mn * _stepImaginary,
            mn * _stepReal - rn * _stepImaginary,
            rl * _stepReal - ml * _stepImaginary,
            ml * _stepReal + rl * _stepImaginary
        );
    }

    /// <summary>The complex matched filter at one lag.</summary>
    /// <param name="lag">Lag that <see cref="Fits"/>.</param>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public (double Real, double Imaginary) Correlate(int lag)
    {
        ReadOnlySpan<float> x = _record.Samples.Slice(_front + lag - _half, _count);
        ReadOnlySpan<float> tr = _real;
        ReadOnlySpan<float> ti = _imaginary;
        // Eight lanes on every machine, summed in a fixed order: the same bits with any vector width.
        Vector256<float> real = Vector256<float>.Zero;
        Vector256<float> imaginary = Vector256<float>.Zero;
        for (int i = 0; i + 8 <= x.Length; i += 8)
        {
            Vector256<float> v = Vector256.Create(x.Slice(i, 8));
            real += v * Vector256.Create(tr.Slice(i, 8));
            imaginary += v * Vector256.Create(ti.Slice(i, 8));
        }
        double re = 0;
        double im = 0;
        for (int lane = 0; lane < 8; lane++)
        {
            re += real.GetElement(lane);
            im += imaginary.GetElement(lane);
        }
        return (re, -im);
    }
}
