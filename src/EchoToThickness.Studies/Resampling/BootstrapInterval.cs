using MathNet.Numerics.Distributions;

namespace EchoToThickness.Studies.Resampling;

/// <summary>Intervals from the values of a figure over bootstrap resamples.</summary>
public static class BootstrapInterval
{
    /// <summary>Percentile interval: the figure's own quantiles over the resamples.</summary>
    /// <param name="replicates">Figure by resample; NaN where it could not be formed, left out.</param>
    /// <param name="level">Confidence level, 0 to 1.</param>
    public static Interval Percentile(ReadOnlySpan<double> replicates, double level)
    {
        double[] sorted = Sorted(replicates);
        return sorted.Length < 20
            ? Interval.None
            : new Interval(Quantile(sorted, (1 - level) / 2), Quantile(sorted, (1 + level) / 2));
    }

    /// <summary>Bias-corrected and accelerated interval (Efron, Journal of the American Statistical Association 82, 1987).</summary>
    /// <param name="replicates">Figure by resample; NaN where it could not be formed, left out.</param>
    /// <param name="value">The figure of the data themselves.</param>
    /// <param name="leftOut">The figure with each cluster left out once (jackknife); NaN left out.</param>
    /// <param name="level">Confidence level, 0 to 1.</param>
    public static Interval Accelerated(
        ReadOnlySpan<double> replicates,
        double value,
        ReadOnlySpan<double> leftOut,
        double level
    )
    {
        double[] sorted = Sorted(replicates);
        if (sorted.Length < 20)
            return Interval.None;
        if (sorted[0] == sorted[^1])
            return new Interval(sorted[0], sorted[0]);
        int below = sorted.Count(r => r < value);
        int equal = sorted.Count(r => r == value);
        double part = Math.Clamp((below + equal / 2.0) / sorted.Length, 0.5 / sorted.Length, 1 - 0.5 / sorted.Length);
        double bias = Normal.InvCDF(0, 1, part);
        double acceleration = Acceleration(leftOut);
        double At(double probability)
        {
            double z = bias + Normal.InvCDF(0, 1, probability);
            return Quantile(sorted, Normal.CDF(0, 1, bias + z / (1 - acceleration * z)));
        }
        return new Interval(At((1 - level) / 2), At((1 + level) / 2));
    }

    /// <summary><c>a = Σ(m - x)³ / (6 (Σ(m - x)²)^1.5)</c> of the jackknife values x with mean m.</summary>
    private static double Acceleration(ReadOnlySpan<double> leftOut)
    {
        double sum = 0;
        int count = 0;
        foreach (double value in leftOut)
        {
            if (double.IsNaN(value))
                continue;
            sum += value;
            count++;
        }
        if (count < 2)
            return 0;
        double mean = sum / count;
        double squares = 0;
        double cubes = 0;
        foreach (double value in leftOut)
        {
            if (double.IsNaN(value))
                continue;
            double off = mean - value;
            squares += off * off;
            cubes += off * off * off;
        }
        return squares > 0 ? cubes / (6 * Math.Pow(squares, 1.5)) : 0;
    }

    private static double[] Sorted(ReadOnlySpan<double> values)
    {
        double[] kept = values.ToArray().Where(v => !double.IsNaN(v)).ToArray();
        Array.Sort(kept);
        return kept;
    }

    /// <summary>Linear between order statistics (type 7 of Hyndman and Fan, American Statistician 50, 1996).</summary>
    private static double Quantile(double[] sorted, double fraction)
    {
        double position = Math.Clamp(fraction, 0, 1) * (sorted.Length - 1);
        int below = (int)position;
        int above = Math.Min(below + 1, sorted.Length - 1);
        // Infinite figures (no bound left) may stand at the end.
        return sorted[below] == sorted[above]
            ? sorted[below]
            : sorted[below] + (position - below) * (sorted[above] - sorted[below]);
    }
}
