namespace EchoToThickness.Statistics.Describe;

/// <summary>Sample quantiles, plain and weighted.</summary>
public static class Quantiles
{
    private const double WholeTolerance = 1e-12;

    /// <summary>A quantile of an ascending sample.</summary>
    /// <param name="ascending">Shape [value], ascending, without NaN.</param>
    /// <param name="probability">0 to 1.</param>
    /// <param name="type">Definition.</param>
    /// <remarks>Source: Hyndman and Fan 1996. Types 4 to 9 interpolate at <c>n p + m</c> with their own <c>m</c>.</remarks>
    public static double Of(
        ReadOnlySpan<double> ascending,
        double probability,
        QuantileType type = QuantileType.MedianUnbiased
    )
    {
        Check(ascending.Length, probability);
        int n = ascending.Length;
        double p = probability;
        double offset = type switch
        {
            QuantileType.InverseDistribution or QuantileType.AveragedInverse or QuantileType.LinearDistribution => 0,
            QuantileType.NearestEven => -0.5,
            QuantileType.Hazen => 0.5,
            QuantileType.Weibull => p,
            QuantileType.Modal => 1 - p,
            QuantileType.MedianUnbiased => (p + 1) / 3,
            QuantileType.NormalUnbiased => p / 4 + 0.375,
            _ => throw new ArgumentOutOfRangeException(nameof(type), type, "Not a quantile type of Hyndman and Fan."),
        };
        double place = n * p + offset;
        // A place that is whole but for rounding counts as whole.
        double whole = Math.Floor(place + WholeTolerance);
        double part = place - whole;
        if (Math.Abs(part) < WholeTolerance)
            part = 0;
        double share = type switch
        {
            QuantileType.InverseDistribution => part > 0 ? 1 : 0,
            QuantileType.AveragedInverse => part > 0 ? 1 : 0.5,
            QuantileType.NearestEven => part == 0 && (int)whole % 2 == 0 ? 0 : 1,
            _ => part,
        };
        double low = At(ascending, (int)whole);
        double high = At(ascending, (int)whole + 1);
        return share == 0 ? low
            : share == 1 ? high
            : low + share * (high - low);
    }

    /// <summary>A quantile of an ascending weighted sample; equal weights give <see cref="Of"/> exactly but for rounding.</summary>
    /// <param name="ascending">Shape [value], ascending, without NaN.</param>
    /// <param name="cumulativeWeight">Shape [value]: running sum of the weights in this order, weights above zero.</param>
    /// <param name="probability">0 to 1.</param>
    /// <param name="type">Definition.</param>
    /// <remarks>
    /// Plotting positions <c>(k - a) / (n + 1 - 2a)</c> become <c>(S_k - a w_k) / (S_n + (1 - 2a) w)</c> with the running sum <c>S</c> and
    /// the mean weight <c>w</c>; type 4 is <c>S_k / S_n</c>. This extension to weights is our own; no source.
    /// </remarks>
    public static double OfWeighted(
        ReadOnlySpan<double> ascending,
        ReadOnlySpan<double> cumulativeWeight,
        double probability,
        QuantileType type = QuantileType.MedianUnbiased
    )
    {
        Check(ascending.Length, probability);
        if (cumulativeWeight.Length != ascending.Length)
            throw new ArgumentException("One running sum for each value is needed.", nameof(cumulativeWeight));
        int n = ascending.Length;
        double total = cumulativeWeight[n - 1];
        double mean = total / n;
        if (type is QuantileType.InverseDistribution or QuantileType.AveragedInverse or QuantileType.NearestEven)
        {
            double aim = probability * total;
            int first = LowerBound(cumulativeWeight, aim * (1 - 1e-14));
            bool jump = first < n - 1 && Math.Abs(cumulativeWeight[first] - aim) <= 1e-13 * total;
            if (type == QuantileType.AveragedInverse && jump)
                return 0.5 * (ascending[first] + ascending[first + 1]);
            if (type == QuantileType.NearestEven)
            {
                double before = first == 0 ? 0 : cumulativeWeight[first - 1];
                double half = aim - before - 0.5 * (cumulativeWeight[first] - before);
                if (first > 0 && (half < -1e-13 * total || (Math.Abs(half) <= 1e-13 * total && first % 2 == 0)))
                    return ascending[first - 1];
            }
            return ascending[first];
        }
        (double a, double sum) = type switch
        {
            QuantileType.LinearDistribution => (0.0, total),
            QuantileType.Hazen => (0.5, total),
            QuantileType.Weibull => (0.0, total + mean),
            QuantileType.Modal => (1.0, total - mean),
            QuantileType.MedianUnbiased => (1.0 / 3, total + mean / 3),
            QuantileType.NormalUnbiased => (0.375, total + mean / 4),
            _ => throw new ArgumentOutOfRangeException(nameof(type), type, "Not a quantile type of Hyndman and Fan."),
        };
        double target = probability * sum;
        int low = 0;
        int high = n - 1;
        if (target <= Place(cumulativeWeight, 0, a))
            return ascending[0];
        if (target >= Place(cumulativeWeight, high, a))
            return ascending[high];
        while (high - low > 1)
        {
            int middle = (low + high) / 2;
            if (Place(cumulativeWeight, middle, a) <= target)
                low = middle;
            else
                high = middle;
        }
        double left = Place(cumulativeWeight, low, a);
        double right = Place(cumulativeWeight, high, a);
        return ascending[low] + (ascending[high] - ascending[low]) * (target - left) / (right - left);
    }

    private static double Place(ReadOnlySpan<double> cumulative, int k, double a)
    {
        double weight = k == 0 ? cumulative[0] : cumulative[k] - cumulative[k - 1];
        return cumulative[k] - a * weight;
    }

    private static int LowerBound(ReadOnlySpan<double> cumulative, double aim)
    {
        int low = 0;
        int high = cumulative.Length - 1;
        while (low < high)
        {
            int middle = (low + high) / 2;
            if (cumulative[middle] < aim)
                low = middle + 1;
            else
                high = middle;
        }
        return low;
    }

    private static double At(ReadOnlySpan<double> values, int oneBased) =>
        values[Math.Clamp(oneBased, 1, values.Length) - 1];

    private static void Check(int count, double probability)
    {
        if (count == 0)
            throw new ArgumentException("A quantile needs at least one value.", nameof(count));
        if (!(probability is >= 0 and <= 1))
            throw new ArgumentOutOfRangeException(
                nameof(probability),
                probability,
                "A probability lies between 0 and 1."
            );
    }
}
