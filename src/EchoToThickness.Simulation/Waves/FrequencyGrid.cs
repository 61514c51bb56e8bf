namespace EchoToThickness.Simulation.Waves;

/// <summary>
/// The frequencies at which echoes are computed: equally spaced over the pulse's band. A sum over them repeats after one over their step; short
/// echoes use every eighth frequency, those that ring use more.
/// </summary>
internal sealed class FrequencyGrid
{
    /// <summary>Largest stride through the grid.</summary>
    public const int LargestStride = 8;

    /// <summary>Share of an echo's own length that must lie between it and its repeat.</summary>
    private const double Guard = 0.4;
    private readonly double _lengthSeconds;

    /// <summary>Lays the grid for a pulse.</summary>
    /// <param name="pulse">The pulse.</param>
    public FrequencyGrid(WavePulse pulse)
    {
        _lengthSeconds = pulse.ReachBeforeSeconds + pulse.ReachAfterSeconds;
        double step = 1 / (1.9 * _lengthSeconds) / LargestStride;
        int coarse = (int)Math.Ceiling((pulse.HighestHz - pulse.LowestHz) / (LargestStride * step));
        Count = LargestStride * coarse + 1;
        StepHz = step;
        FirstHz = pulse.LowestHz;
        Hertz = new double[Count];
        SpectrumReal = new double[Count];
        SpectrumImaginary = new double[Count];
        for (int i = 0; i < Count; i++)
        {
            Hertz[i] = FirstHz + i * step;
            System.Numerics.Complex value = pulse.Spectrum(Hertz[i]) * step;
            (SpectrumReal[i], SpectrumImaginary[i]) = (value.Real, value.Imaginary);
        }
        Centre = (int)Math.Round((pulse.CentreHz - FirstHz) / (LargestStride * step)) * LargestStride;
    }

    /// <summary>Frequencies at stride 1: eight times a whole number, and one.</summary>
    public int Count { get; }

    /// <summary>First frequency.</summary>
    public double FirstHz { get; }

    /// <summary>Distance of neighbours.</summary>
    public double StepHz { get; }

    /// <summary>Index of the frequency next to the pulse's centre; a multiple of the largest stride.</summary>
    public int Centre { get; }

    /// <summary>The frequencies.</summary>
    public double[] Hertz { get; }

    /// <summary>Pulse spectrum times the step, real part.</summary>
    public double[] SpectrumReal { get; }

    /// <summary>Pulse spectrum times the step, imaginary part.</summary>
    public double[] SpectrumImaginary { get; }

    /// <summary>Longest extension of an echo beyond the pulse that stride 1 can hold, seconds.</summary>
    public double LongestExtraSeconds => 1 / StepHz - (1 + Guard) * _lengthSeconds;

    /// <summary>The largest stride whose repeats stay clear of an echo.</summary>
    /// <param name="extraSeconds">How much longer than the pulse the echo is.</param>
    public int StrideFor(double extraSeconds)
    {
        int stride = LargestStride;
        while (stride > 1 && 1 / (stride * StepHz) < (1 + Guard) * _lengthSeconds + extraSeconds)
            stride /= 2;
        return stride;
    }
}
