using System.Runtime.CompilerServices;
using EchoToThickness.Echoes;
using EchoToThickness.Signals;

namespace EchoToThickness.Estimation;

/// <summary>
/// Delay between two echoes of one record by short correlation: the lags at which the real part of the correlation, taken with the
/// expected sign, has a maximum. More than one maximum means that the cycle is not certain from this pair alone.
/// </summary>
public struct EchoDelay
{
    /// <summary>Most maxima kept.</summary>
    public const int MaximumAlternatives = 4;

    private Alternatives _delays;
    private Alternatives _heights;

    /// <summary>Number of maxima, at least 1.</summary>
    public int Count { get; private set; }

    /// <summary>Index of the chosen maximum; the highest until a train says otherwise.</summary>
    public int Chosen { get; set; }

    /// <summary>Chosen delay, samples.</summary>
    public readonly double DelaySamples => _delays[Chosen];

    /// <summary>Magnitude of the normalised complex correlation at its strongest lag: 1 for copies.</summary>
    public double Coherence { get; private set; }

    /// <summary>Delay of one maximum, samples.</summary>
    /// <param name="alternative">Index, in order of lag.</param>
    public readonly double Delay(int alternative) => _delays[alternative];

    /// <summary>Height of one maximum relative to the highest, 0 to 1.</summary>
    /// <param name="alternative">Index, in order of lag.</param>
    public readonly double RelativeHeight(int alternative)
    {
        double highest = 0;
        for (int k = 0; k < Count; k++)
            highest = Math.Max(highest, _heights[k]);
        return highest > 0 ? _heights[alternative] / highest : 1;
    }

    /// <summary>The delay of an echo from itself: exactly zero.</summary>
    public static EchoDelay Zero
    {
        get
        {
            var delay = new EchoDelay { Count = 1, Coherence = 1 };
            delay._heights[0] = 1;
            return delay;
        }
    }

    /// <summary>Times one echo against another.</summary>
    /// <param name="record">The record.</param>
    /// <param name="reference">Sample about which the reference window lies.</param>
    /// <param name="echo">Sample about which the echo lies.</param>
    /// <param name="halfWindow">Half width of both windows, samples; the windows are cut at the record's ends.</param>
    /// <param name="sign">+1 when both echoes should have the same polarity, -1 when opposite.</param>
    /// <remarks>
    /// Sub-sample position by the cosine through three lags (exact for a sampled cosine, biased by under a thousandth of a sample for a
    /// 60 % pulse at 14 samples a period), by a parabola where the three are not cosine-like. Lags within three quarters of a period.
    /// </remarks>
    [SkipLocalsInit]
    public static EchoDelay Measure(EchoRecord record, int reference, int echo, int halfWindow, int sign)
    {
        ArgumentNullException.ThrowIfNull(record);
        int lags = record.Scale.TimingLags;
        int low = Math.Max(0, reference - halfWindow);
        int count = Math.Min(record.Length, reference + halfWindow + 1) - low;
        Span<double> real = stackalloc double[2 * lags + 1];
        real.Clear();
        double strongest = -1;
        int strongestLag = 0;
        for (int lag = -lags; lag <= lags; lag++)
        {
            int start = low + echo - reference + lag;
            if (start < 0 || start + count > record.Length)
                continue;
            (double re, double im) = EchoCorrelation.Complex(record.Real, record.Imaginary, low, start, count);
            real[lag + lags] = sign * re;
            double power = re * re + im * im;
            if (power > strongest)
                (strongest, strongestLag) = (power, lag);
        }
        var delay = new EchoDelay();
        double energy = EchoCorrelation.Energy(record.Real, record.Imaginary, low, count);
        double other = EchoCorrelation.Energy(
            record.Real,
            record.Imaginary,
            low + echo - reference + strongestLag,
            count
        );
        delay.Coherence = strongest > 0 ? Math.Sqrt(strongest / (energy * other + double.Epsilon)) : 0;
        for (int q = 1; q < 2 * lags && delay.Count < MaximumAlternatives; q++)
        {
            if (!(real[q] > 0 && real[q] >= real[q - 1] && real[q] > real[q + 1]))
                continue;
            delay._delays[delay.Count] = echo - reference + (q - lags) + Refine(real[q - 1], real[q], real[q + 1]);
            delay._heights[delay.Count] = real[q];
            if (real[q] > delay._heights[delay.Chosen])
                delay.Chosen = delay.Count;
            delay.Count++;
        }
        if (delay.Count == 0)
        {
            delay._delays[0] = echo - reference + strongestLag;
            delay._heights[0] = 1;
            delay.Count = 1;
        }
        return delay;
    }

    /// <summary>Cosine through three points where they look like one, else a parabola; at most 0.6 samples.</summary>
    private static double Refine(double before, double middle, double after)
    {
        double cosine = (before + after) / (2 * middle);
        if (cosine is <= 0.05 or >= 0.9999)
            return SubSample.Parabola(before, middle, after);
        double step = Math.Acos(cosine);
        double shift = Math.Atan((after - before) / (2 * middle * Math.Sin(step))) / step;
        return Math.Clamp(shift, -0.6, 0.6);
    }

    [InlineArray(MaximumAlternatives)]
    private struct Alternatives
    {
        private double _first;
    }
}
