namespace EchoToThickness.Statistics.Describe;

/// <summary>Mean and spread of weighted values.</summary>
/// <param name="Count">Values that are numbers.</param>
/// <param name="WeightSum">Sum of their weights.</param>
/// <param name="Mean">Weighted mean.</param>
/// <param name="StandardDeviation">Square root of the weighted variance with divisor <c>W - sum w^2 / W</c> (n - 1 for equal weights).</param>
public readonly record struct WeightedMoments(int Count, double WeightSum, double Mean, double StandardDeviation)
{
    /// <summary>Two passes; values that are NaN take no part.</summary>
    /// <param name="values">Shape [value].</param>
    /// <param name="weights">Shape [value], above zero; empty for equal weights.</param>
    /// <remarks>
    /// Corrected two-pass formula (Chan, Golub and LeVeque, Am. Stat. 37 (1983) 242) about the first value, so that a large common offset
    /// costs no digits. Without any value mean and deviation are NaN; with one, the deviation is 0.
    /// </remarks>
    public static WeightedMoments Of(ReadOnlySpan<double> values, ReadOnlySpan<double> weights = default)
    {
        if (!weights.IsEmpty && weights.Length != values.Length)
            throw new ArgumentException("One weight for each value is needed.", nameof(weights));
        int count = 0;
        double weightSum = 0;
        double squares = 0;
        double first = double.NaN;
        double sum = 0;
        double lost = 0;
        for (int k = 0; k < values.Length; k++)
        {
            if (double.IsNaN(values[k]))
                continue;
            if (count++ == 0)
                first = values[k];
            double weight = weights.IsEmpty ? 1 : weights[k];
            weightSum += weight;
            squares += weight * weight;
            // Compensated (Kahan 1965), so that the order of millions of cells does not matter.
            double term = weight * (values[k] - first) - lost;
            double next = sum + term;
            lost = next - sum - term;
            sum = next;
        }
        if (count == 0)
            return new WeightedMoments(0, 0, double.NaN, double.NaN);
        double shift = sum / weightSum;
        double second = 0;
        double residual = 0;
        for (int k = 0; k < values.Length; k++)
        {
            if (double.IsNaN(values[k]))
                continue;
            double weight = weights.IsEmpty ? 1 : weights[k];
            double distance = values[k] - first - shift;
            second += weight * distance * distance;
            residual += weight * distance;
        }
        second -= residual * residual / weightSum;
        double divisor = weightSum - squares / weightSum;
        double deviation = count == 1 ? 0 : Math.Sqrt(Math.Max(second, 0) / divisor);
        return new WeightedMoments(count, weightSum, first + shift, deviation);
    }
}
