namespace EchoToThickness.Statistics.Extremes;

/// <summary>L-moments of a sample from unbiased probability-weighted moments (Hosking, J. R. Stat. Soc. B 52 (1990) 105).</summary>
/// <param name="First">Mean.</param>
/// <param name="Second">L-scale.</param>
/// <param name="Skewness">L-skewness.</param>
/// <param name="Kurtosis">L-kurtosis; NaN for fewer than four values.</param>
public readonly record struct SampleLMoments(double First, double Second, double Skewness, double Kurtosis)
{
    /// <summary>L-moments of a sample.</summary>
    /// <param name="values">At least three values, any order.</param>
    public static SampleLMoments Of(ReadOnlySpan<double> values)
    {
        if (values.Length < 3)
            throw new ArgumentException("At least three values are needed.", nameof(values));
        double[] sorted = values.ToArray();
        Array.Sort(sorted);
        double n = sorted.Length;
        double b0 = 0;
        double b1 = 0;
        double b2 = 0;
        double b3 = 0;
        for (int k = 0; k < sorted.Length; k++)
        {
            double x = sorted[k];
            b0 += x / n;
            b1 += x * k / (n * (n - 1));
            b2 += x * k * (k - 1) / (n * (n - 1) * (n - 2));
            if (n > 3)
                b3 += x * k * (k - 1) * (k - 2) / (n * (n - 1) * (n - 2) * (n - 3));
        }
        double second = 2 * b1 - b0;
        return new SampleLMoments(
            b0,
            second,
            (6 * b2 - 6 * b1 + b0) / second,
            n > 3 ? (20 * b3 - 30 * b2 + 12 * b1 - b0) / second : double.NaN
        );
    }
}
