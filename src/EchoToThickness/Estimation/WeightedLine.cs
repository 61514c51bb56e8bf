namespace EchoToThickness.Estimation;

/// <summary>The straight line of delay over order with given weights, by least squares: <c>delay = mean + slope (order - mean order)</c>.</summary>
/// <param name="Sum">Sum of the weights.</param>
/// <param name="MeanOrder">Weighted mean of the orders.</param>
/// <param name="MeanDelay">Weighted mean of the delays.</param>
/// <param name="Spread">Weighted sum of the squared distances of the orders from their mean.</param>
/// <param name="Slope">Delay from one order to the next.</param>
internal readonly record struct WeightedLine(
    double Sum,
    double MeanOrder,
    double MeanDelay,
    double Spread,
    double Slope
)
{
    /// <summary>Fits the line.</summary>
    /// <param name="points">Shape [point]: the orders; at least two that differ, with weights above zero.</param>
    /// <param name="delays">Shape [point].</param>
    /// <param name="weights">Shape [point], not negative.</param>
    public static WeightedLine Fit(
        ReadOnlySpan<TrainPoint> points,
        ReadOnlySpan<double> delays,
        ReadOnlySpan<double> weights
    )
    {
        double sum = 0;
        double meanOrder = 0;
        double meanDelay = 0;
        for (int k = 0; k < points.Length; k++)
        {
            sum += weights[k];
            meanOrder += weights[k] * points[k].Order;
            meanDelay += weights[k] * delays[k];
        }
        meanOrder /= sum;
        meanDelay /= sum;
        double spread = 0;
        double cross = 0;
        for (int k = 0; k < points.Length; k++)
        {
            double order = points[k].Order - meanOrder;
            spread += weights[k] * order * order;
            cross += weights[k] * order * (delays[k] - meanDelay);
        }
        return new WeightedLine(sum, meanOrder, meanDelay, spread, cross / spread);
    }

    /// <summary>How far a point lies above the line.</summary>
    /// <param name="order">Its order.</param>
    /// <param name="delay">Its delay.</param>
    public double Residual(double order, double delay) => delay - MeanDelay - Slope * (order - MeanOrder);
}
