namespace EchoToThickness.Echoes;

/// <summary>Lengths of the echo train in samples: all tolerances are multiples of the period or of the pulse, so they scale.</summary>
public sealed class EchoScale
{
    /// <summary>Derives the lengths.</summary>
    /// <param name="sampleRateHz">Samples a second.</param>
    /// <param name="frequencyHz">Nominal centre frequency.</param>
    /// <param name="bandwidthFraction">Relative bandwidth at -6 dB.</param>
    public EchoScale(double sampleRateHz, double frequencyHz, double bandwidthFraction)
    {
        SampleRateHz = sampleRateHz;
        FrequencyHz = frequencyHz;
        BandwidthFraction = bandwidthFraction;
        Period = sampleRateHz / frequencyHz;
        PulseSigma = sampleRateHz / (2 * Math.PI * bandwidthFraction * frequencyHz * EchoFilter.SigmaPerWidth);
        Tolerance = 0.6 * Period;
        SmallestSpacing = 2.8 * Period;
        PulseHalfWindow = Round(3.0 * PulseSigma);
        TimingLags = Round(0.75 * Period);
        SignHalfWindow = Math.Max(3, Round(Period));
        SignLags = Math.Max(2, Round(0.4 * Period));
        double relative = bandwidthFraction * EchoFilter.SigmaPerWidth;
        RmsFrequencyHz = frequencyHz * Math.Sqrt(1 + 0.5 * relative * relative);
    }

    /// <summary>Samples a second.</summary>
    public double SampleRateHz { get; }

    /// <summary>Nominal centre frequency, hertz.</summary>
    public double FrequencyHz { get; }

    /// <summary>Relative bandwidth at -6 dB.</summary>
    public double BandwidthFraction { get; }

    /// <summary>One period, samples.</summary>
    public double Period { get; }

    /// <summary>Standard deviation of the pulse's Gaussian envelope, samples.</summary>
    public double PulseSigma { get; }

    /// <summary>How far an echo may lie from where a train expects it, samples: 0.6 periods.</summary>
    public double Tolerance { get; }

    /// <summary>Smallest spacing of a train, samples: 2.8 periods, under which echoes are one.</summary>
    public double SmallestSpacing { get; }

    /// <summary>Half window that holds a pulse, samples: 3 sigma.</summary>
    public int PulseHalfWindow { get; }

    /// <summary>Lags searched on either side when an echo is timed: three quarters of a period.</summary>
    public int TimingLags { get; }

    /// <summary>Half window of the sign test: one period.</summary>
    public int SignHalfWindow { get; }

    /// <summary>Lags of the sign test on either side: 0.4 periods.</summary>
    public int SignLags { get; }

    /// <summary>Root-mean-square frequency of the pulse, hertz, <c>f0 sqrt(1 + (bw/2.3548)^2 / 2)</c>.</summary>
    public double RmsFrequencyHz { get; }

    /// <summary>Rounds half to even, as IEEE 754.</summary>
    internal static int Round(double value) => (int)Math.Round(value, MidpointRounding.ToEven);
}
