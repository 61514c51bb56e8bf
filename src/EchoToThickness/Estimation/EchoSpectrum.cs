using EchoToThickness.Echoes;
using EchoToThickness.Procedures;
using EchoToThickness.Signals;

namespace EchoToThickness.Estimation;

/// <summary>
/// Spectra of one record and of its reference echo in the pulse's band, with the interface at time 0, and what follows from them: the
/// record behind the interface, its matched filter. Owned by a workspace; allocates nothing after construction.
/// </summary>
/// <remarks>
/// Only bins within 2.8 standard deviations of the pulse's spectrum are kept: outside, the squared spectrum has fallen to 4e-4. By
/// Parseval a least-squares fit of these bins is one of the band-passed samples. The reference is brought onto the interface: a reference
/// taken from elsewhere gets the interface's time, amplitude and phase, <c>S(f) a exp(j phase - j 2 pi f t0)</c>.
/// </remarks>
public sealed class EchoSpectrum
{
    /// <summary>Half width of the band in standard deviations of the pulse's spectrum.</summary>
    private const double BandSigmas = 2.8;

    private const double LeadSigmas = 5;
    private const double TailSigmas = 5;
    private readonly EchoScale _scale;
    private readonly FourierTransform _transform;
    private readonly EchoReference _reference;
    private readonly double[] _pulseReal;
    private readonly double[] _pulseImaginary;
    private readonly double[] _workReal;
    private readonly double[] _workImaginary;
    private readonly double[] _recordReal;
    private readonly double[] _recordImaginary;
    private readonly double[] _echoReal;
    private readonly double[] _echoImaginary;
    private readonly double[] _wallReal;
    private readonly double[] _wallImaginary;
    private readonly double[] _matchedReal;
    private readonly double[] _matchedImaginary;

    internal EchoSpectrum(int samples, EchoScale scale, EchoReference reference, ReadOnlySpan<double> calibrationEcho)
    {
        _scale = scale;
        _reference = reference;
        Lead = (int)Math.Ceiling(LeadSigmas * scale.PulseSigma);
        _transform = new FourierTransform(
            FourierTransform.LengthFor(samples + Lead + (int)Math.Ceiling(TailSigmas * scale.PulseSigma))
        );
        double sigmaBins = Length / (2 * Math.PI * scale.PulseSigma);
        double centre = Length / scale.Period;
        FirstBin = Math.Max(1, (int)Math.Floor(centre - BandSigmas * sigmaBins));
        BinCount = Math.Min(Length / 2 - 1, (int)Math.Ceiling(centre + BandSigmas * sigmaBins)) - FirstBin + 1;
        _workReal = new double[Length];
        _workImaginary = new double[Length];
        _matchedReal = new double[Length];
        _matchedImaginary = new double[Length];
        _recordReal = new double[BinCount];
        _recordImaginary = new double[BinCount];
        _echoReal = new double[BinCount];
        _echoImaginary = new double[BinCount];
        _wallReal = new double[BinCount];
        _wallImaginary = new double[BinCount];
        _pulseReal = new double[BinCount];
        _pulseImaginary = new double[BinCount];
        if (reference != EchoReference.Interface)
            MakePulse(calibrationEcho);
    }

    /// <summary>Points of the transform.</summary>
    public int Length => _transform.Length;

    /// <summary>First bin of the band.</summary>
    public int FirstBin { get; }

    /// <summary>Bins of the band.</summary>
    public int BinCount { get; }

    /// <summary>Samples in front of the interface that belong to its echo.</summary>
    public int Lead { get; }

    /// <summary>Samples behind the interface that the record holds.</summary>
    public int Reach { get; private set; }

    /// <summary>Samples whose noise is left in the record behind the interface: a reference cut from the record takes its own noise along.</summary>
    public int NoiseSamples { get; private set; }

    /// <summary>Angular frequency of the first bin, radians a sample.</summary>
    public double FirstAngular => 2 * Math.PI * FirstBin / Length;

    /// <summary>Angular step of a bin, radians a sample.</summary>
    public double AngularStep => 2 * Math.PI / Length;

    /// <summary>Energy of the reference within the band, <c>sum of h^2</c>.</summary>
    public double Energy { get; private set; }

    /// <summary>Mean-square angular frequency of the reference, (radians a sample)^2.</summary>
    public double MeanSquareAngular { get; private set; }

    /// <summary>Shape [bin]: the reference brought onto the interface.</summary>
    public ReadOnlySpan<double> EchoReal => _echoReal;

    /// <summary>Shape [bin].</summary>
    public ReadOnlySpan<double> EchoImaginary => _echoImaginary;

    /// <summary>Shape [bin]: the record less its interface echo.</summary>
    public ReadOnlySpan<double> WallReal => _wallReal;

    /// <summary>Shape [bin].</summary>
    public ReadOnlySpan<double> WallImaginary => _wallImaginary;

    /// <summary>
    /// Shape [lag]: real part of the matched filter, <c>r(l) = sum over n of w[n + l] h[n]</c>, l samples behind the interface; negative where
    /// an echo inverts the interface.
    /// </summary>
    public ReadOnlySpan<double> MatchedReal => _matchedReal;

    /// <summary>Shape [lag]: its quadrature.</summary>
    public ReadOnlySpan<double> MatchedImaginary => _matchedImaginary;

    internal Span<double> WorkReal => _workReal;

    internal Span<double> WorkImaginary => _workImaginary;

    /// <summary>Loads a record.</summary>
    /// <param name="record">Prepared.</param>
    /// <param name="front">Sample of the interface.</param>
    /// <param name="firstSpacing">Where the first echo behind the interface is expected, samples behind it: the interface ends before.</param>
    internal void Load(EchoRecord record, int front, double firstSpacing)
    {
        ReadOnlySpan<float> samples = record.Input;
        Reach = samples.Length - 1 - front;
        int lead = Math.Min(Lead, front);
        NoiseSamples = Reach + lead + 1;
        Array.Clear(_workReal);
        Array.Clear(_workImaginary);
        for (int k = -lead; k <= Reach; k++)
            _workReal[k < 0 ? k + Length : k] = samples[front + k];
        if (_reference == EchoReference.Interface)
        {
            CutInterface(samples, front, lead, firstSpacing);
            _transform.Forward(_workReal, _workImaginary);
            Separate();
        }
        else
        {
            Transform(_recordReal, _recordImaginary);
            AlignPulse();
        }
        double energy = 0;
        double slope = 0;
        for (int k = 0; k < BinCount; k++)
        {
            _wallReal[k] = _recordReal[k] - _echoReal[k];
            _wallImaginary[k] = _recordImaginary[k] - _echoImaginary[k];
            double power = _echoReal[k] * _echoReal[k] + _echoImaginary[k] * _echoImaginary[k];
            double omega = FirstAngular + k * AngularStep;
            energy += power;
            slope += power * omega * omega;
        }
        Energy = 2 * energy / Length;
        MeanSquareAngular = energy > 0 ? slope / energy : 0;
        Match(_wallReal, _wallImaginary, _matchedReal, _matchedImaginary);
    }

    /// <summary>Matched filter of a spectrum: <c>2 IDFT(W conj(S))</c> over the band.</summary>
    internal void Match(
        ReadOnlySpan<double> real,
        ReadOnlySpan<double> imaginary,
        Span<double> resultReal,
        Span<double> resultImaginary
    )
    {
        resultReal.Clear();
        resultImaginary.Clear();
        for (int k = 0; k < BinCount; k++)
        {
            resultReal[FirstBin + k] = 2 * (real[k] * _echoReal[k] + imaginary[k] * _echoImaginary[k]);
            resultImaginary[FirstBin + k] = 2 * (imaginary[k] * _echoReal[k] - real[k] * _echoImaginary[k]);
        }
        _transform.Inverse(resultReal, resultImaginary);
    }

    /// <summary>Analytic signal of band values, <c>2 IDFT</c>, into the work arrays.</summary>
    internal void ToTime(ReadOnlySpan<double> real, ReadOnlySpan<double> imaginary)
    {
        _workReal.AsSpan().Clear();
        _workImaginary.AsSpan().Clear();
        for (int k = 0; k < BinCount; k++)
        {
            _workReal[FirstBin + k] = 2 * real[k];
            _workImaginary[FirstBin + k] = 2 * imaginary[k];
        }
        _transform.Inverse(_workReal, _workImaginary);
    }

    /// <summary>
    /// Analytic signal of bins <c>offset + i stride</c>, into the work arrays, valid for lags under the length over the stride: the repeats that
    /// the wider spacing of bins makes lie beyond.
    /// </summary>
    internal void FromBins(ReadOnlySpan<double> real, ReadOnlySpan<double> imaginary, int stride, int offset)
    {
        _workReal.AsSpan().Clear();
        _workImaginary.AsSpan().Clear();
        for (int i = 0; i < real.Length; i++)
        {
            int bin = offset + i * stride;
            if (bin < 0 || bin > Length / 2)
                continue;
            _workReal[bin] = 2 * real[i];
            _workImaginary[bin] = 2 * imaginary[i];
        }
        _transform.Inverse(_workReal, _workImaginary);
    }

    /// <summary>Sum of two band spectra at a delay, <c>(2/L) sum of W conj(S) exp(j w t)</c>: the matched filter between samples.</summary>
    internal (double Real, double Imaginary) MatchedAt(
        ReadOnlySpan<double> real,
        ReadOnlySpan<double> imaginary,
        double delaySamples
    )
    {
        (double s, double c) = Math.SinCos(FirstAngular * delaySamples);
        (double ds, double dc) = Math.SinCos(AngularStep * delaySamples);
        double sumReal = 0;
        double sumImaginary = 0;
        for (int k = 0; k < real.Length; k++)
        {
            double r = real[k] * _echoReal[k] + imaginary[k] * _echoImaginary[k];
            double m = imaginary[k] * _echoReal[k] - real[k] * _echoImaginary[k];
            sumReal += r * c - m * s;
            sumImaginary += r * s + m * c;
            (c, s) = (c * dc - s * ds, s * dc + c * ds);
        }
        return (2 * sumReal / Length, 2 * sumImaginary / Length);
    }

    private void Transform(Span<double> real, Span<double> imaginary)
    {
        _transform.Forward(_workReal, _workImaginary);
        _workReal.AsSpan(FirstBin, BinCount).CopyTo(real);
        _workImaginary.AsSpan(FirstBin, BinCount).CopyTo(imaginary);
    }

    /// <summary>
    /// The interface itself, with cosine flanks, into the imaginary part: behind it up to where the first echo begins, so that the
    /// reference holds as much of the interface's tail as can be told from a wall.
    /// </summary>
    private void CutInterface(ReadOnlySpan<float> samples, int front, int lead, double firstSpacing)
    {
        double sigma = _scale.PulseSigma;
        int tail = (int)Math.Min(Math.Ceiling(TailSigmas * sigma), Math.Max(2.6 * sigma, firstSpacing - 3 * sigma));
        tail = Math.Min(tail, Reach);
        NoiseSamples = Math.Max(1, Reach - tail);
        for (int k = -lead; k <= tail; k++)
        {
            double edge = k < 0 ? lead + 1 + k : tail + 1 - k;
            double weight = edge >= sigma ? 1 : 0.5 - 0.5 * Math.Cos(Math.PI * edge / sigma);
            _workImaginary[k < 0 ? k + Length : k] = weight * samples[front + k];
        }
    }

    /// <summary>Two real transforms from one complex: <c>X = (Z[k] + conj Z[-k]) / 2</c>, <c>S = (Z[k] - conj Z[-k]) / 2j</c>.</summary>
    private void Separate()
    {
        for (int k = 0; k < BinCount; k++)
        {
            int at = FirstBin + k;
            (double ar, double ai) = (_workReal[at], _workImaginary[at]);
            (double br, double bi) = (_workReal[Length - at], _workImaginary[Length - at]);
            _recordReal[k] = 0.5 * (ar + br);
            _recordImaginary[k] = 0.5 * (ai - bi);
            _echoReal[k] = 0.5 * (ai + bi);
            _echoImaginary[k] = 0.5 * (br - ar);
        }
    }

    private void MakePulse(ReadOnlySpan<double> calibrationEcho)
    {
        if (_reference == EchoReference.Pulse)
        {
            int reach = (int)Math.Ceiling(6 * _scale.PulseSigma);
            for (int k = -reach; k <= reach; k++)
                _workReal[(k + Length) % Length] +=
                    Math.Exp(-0.5 * (k / _scale.PulseSigma) * (k / _scale.PulseSigma))
                    * Math.Cos(2 * Math.PI * k / _scale.Period);
        }
        else
        {
            int peak = 0;
            for (int k = 0; k < calibrationEcho.Length; k++)
            {
                if (Math.Abs(calibrationEcho[k]) > Math.Abs(calibrationEcho[peak]))
                    peak = k;
            }
            for (int k = 0; k < calibrationEcho.Length; k++)
                _workReal[(k - peak + Length) % Length] += calibrationEcho[k];
        }
        Transform(_pulseReal, _pulseImaginary);
    }

    /// <summary>Gives the reference pulse the interface's time, amplitude and phase: the maximum of the envelope of its matched filter.</summary>
    private void AlignPulse()
    {
        _pulseReal.CopyTo(_echoReal, 0);
        _pulseImaginary.CopyTo(_echoImaginary, 0);
        double energy = 0;
        for (int k = 0; k < BinCount; k++)
            energy += _pulseReal[k] * _pulseReal[k] + _pulseImaginary[k] * _pulseImaginary[k];
        energy = 2 * energy / Length;
        double step = _scale.Period / 4;
        double at = 0;
        double best = -1;
        for (int k = -4; k <= 4; k++)
        {
            (double r, double m) = MatchedAt(_recordReal, _recordImaginary, k * step);
            if (r * r + m * m > best)
                (best, at) = (r * r + m * m, k * step);
        }
        // Parabola on the squared envelope, with a shrinking step.
        for (int round = 0; round < 4; round++, step /= 4)
        {
            double before = Squared(at - step);
            double middle = Squared(at);
            double after = Squared(at + step);
            at += step * SubSample.Parabola(before, middle, after);
        }
        (double real, double imaginary) = MatchedAt(_recordReal, _recordImaginary, at);
        (real, imaginary) = energy > 0 ? (real / energy, imaginary / energy) : (0, 0);
        for (int k = 0; k < BinCount; k++)
        {
            (double s, double c) = Math.SinCos(-(FirstAngular + k * AngularStep) * at);
            double ar = real * c - imaginary * s;
            double ai = real * s + imaginary * c;
            (_echoReal[k], _echoImaginary[k]) = (
                _pulseReal[k] * ar - _pulseImaginary[k] * ai,
                _pulseReal[k] * ai + _pulseImaginary[k] * ar
            );
        }
    }

    private double Squared(double delay)
    {
        (double r, double m) = MatchedAt(_recordReal, _recordImaginary, delay);
        return r * r + m * m;
    }
}
