namespace EchoToThickness.Stacks.Sanity;

/// <summary>What one A-scan shows on its own. Counts as stored; indices in samples.</summary>
internal struct AScanFeatures
{
    public int Scan;
    public int Beam;
    public int NonFinite;
    public bool Constant;
    public double Minimum;
    public double Maximum;

    /// <summary>Longest run of samples equal to <see cref="Minimum"/>.</summary>
    public int MinimumRun;

    /// <summary>Longest run of samples equal to <see cref="Maximum"/>.</summary>
    public int MaximumRun;

    public double Median;
    public double LowerQuartile;
    public double Lowest;
    public double Highest;

    /// <summary>Largest deviation from the median.</summary>
    public double Peak;

    /// <summary>Mean square about the median.</summary>
    public double Power;

    /// <summary>First sample beyond 40 % of the peak; -1 for a constant A-scan.</summary>
    public int Interface;

    /// <summary>Root mean square about the median of the samples well ahead of the interface; NaN when fewer than 16.</summary>
    public double NoiseRms;

    public bool StrongestPositive;
    public bool LeadingPositive;

    /// <summary>Sum of absolute steps between samples, as stored.</summary>
    public double StepSum;

    /// <summary>The same after shifting every sample by half the integer range, wrapping round.</summary>
    public double WrappedStepSum;

    /// <summary>Whether <see cref="RepeatLag"/> was looked for.</summary>
    public bool HasSpectrum;

    /// <summary>Lag of the strongest inverted repeat, samples; NaN when not looked for or none stands out.</summary>
    public double RepeatLag;
}
