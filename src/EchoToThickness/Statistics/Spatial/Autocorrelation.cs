namespace EchoToThickness.Statistics.Spatial;

/// <summary>Autocorrelation of an even series.</summary>
public static class Autocorrelation
{
    /// <summary>Autocorrelation with divisor n.</summary>
    /// <param name="values">Shape [place], without NaN, at least two.</param>
    /// <param name="lag">0 to below the number of values.</param>
    /// <remarks>Source: Box and Jenkins, Time Series Analysis, 2.1.5; a constant series has NaN.</remarks>
    public static double At(ReadOnlySpan<double> values, int lag)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(lag);
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual(lag, values.Length);
        double mean = Describe.WeightedMoments.Of(values).Mean;
        double variance = 0;
        double product = 0;
        for (int k = 0; k < values.Length; k++)
        {
            variance += (values[k] - mean) * (values[k] - mean);
            if (k + lag < values.Length)
                product += (values[k] - mean) * (values[k + lag] - mean);
        }
        return product / variance;
    }
}
