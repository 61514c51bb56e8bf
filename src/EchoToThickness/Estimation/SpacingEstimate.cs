namespace EchoToThickness.Estimation;

/// <summary>What an estimator made of one record: the round trip of one wall in samples, and how far to trust it.</summary>
public struct SpacingEstimate
{
    /// <summary>Whether there is a wall.</summary>
    public bool Found { get; set; }

    /// <summary>Round trip of one wall, samples.</summary>
    public double SpacingSamples { get; set; }

    /// <summary>Cramér-Rao bound of the spacing for the echoes used and the measured noise, samples; times the estimator's spread it is the uncertainty.</summary>
    public double BoundSamples { get; set; }

    /// <summary>Peak of the echo, or of the statistic the estimator decides by, over its noise.</summary>
    public double SignalRatio { get; set; }

    /// <summary>Order of the first echo used, 0 the interface.</summary>
    public int FirstOrder { get; set; }

    /// <summary>Order of the last echo used.</summary>
    public int LastOrder { get; set; }

    /// <summary>Strength of a back-wall echo against the one before, as used; 1 when one echo was used.</summary>
    public double Decay { get; set; }

    /// <summary>Amplitude of back-wall echo 1, fraction of full scale; NaN when the method does not tell.</summary>
    public double WallFraction { get; set; }

    /// <summary>Spacing of the best rival, samples; NaN when none was seen.</summary>
    public double RivalSamples { get; set; }

    /// <summary>Strength of the rival against the best, 0 to 1.</summary>
    public double RivalShare { get; set; }

    /// <summary>No wall.</summary>
    public static SpacingEstimate None =>
        new()
        {
            SpacingSamples = double.NaN,
            BoundSamples = double.NaN,
            WallFraction = double.NaN,
            RivalSamples = double.NaN,
        };
}
