using EchoToThickness.Echoes;

namespace EchoToThickness.Estimation;

/// <summary>
/// The spacing of a train: weighted straight line of delay over order. Noise uncertainty from the Cramer-Rao bound of each echo's
/// time (Kay 1993, Fundamentals of Statistical Signal Processing, section 3.11), propagated through the line.
/// </summary>
/// <param name="SpacingSeconds">Round trip of one wall, seconds.</param>
/// <param name="UncertaintySeconds">Standard uncertainty of the spacing from noise, seconds.</param>
/// <param name="ChiSquare">Mean squared residual over its expectation; above 9 the echoes are not evenly spaced. NaN under three points.</param>
/// <param name="InterfaceShare">How much a common shift of all walls against the interface changes the spacing: 1 for interface and one wall, 0 without interface.</param>
public readonly record struct TrainFit(
    double SpacingSeconds,
    double UncertaintySeconds,
    double ChiSquare,
    double InterfaceShare
)
{
    /// <summary>Most points a fit takes: the interface and nine walls.</summary>
    public const int MaximumPoints = 10;

    /// <summary>Time error that no signal-to-noise ratio removes (filter, sub-sample fit), in periods.</summary>
    private const double FloorPeriods = 1e-4;

    /// <summary>Uneven spacing that every real train has, in periods; echoes are not exact copies.</summary>
    private const double ShapePeriods = 0.02;

    /// <summary>An interface counts at most this many times the strongest wall.</summary>
    internal const double InterfaceWeight = 2;

    /// <summary>
    /// Picks, for the first four points, the combination of maxima that lies best on a straight line: squared residual in units of
    /// 0.15 periods, plus ten times the missing height of each maximum.
    /// </summary>
    /// <param name="points">Points in order; their <see cref="EchoDelay.Chosen"/> is set.</param>
    /// <param name="scale">Lengths in samples.</param>
    public static void ResolveCycles(Span<TrainPoint> points, EchoScale scale)
    {
        ArgumentNullException.ThrowIfNull(scale);
        if (points.Length < 3)
            return;
        int used = Math.Min(4, points.Length);
        Span<int> combination = stackalloc int[used];
        Span<int> best = stackalloc int[used];
        combination.Clear();
        best.Clear();
        double bestCost = double.PositiveInfinity;
        while (true)
        {
            double cost = Cost(points[..used], combination, scale);
            if (cost < bestCost - 1e-9)
            {
                bestCost = cost;
                combination.CopyTo(best);
            }
            int k = used - 1;
            while (k >= 0 && ++combination[k] == points[k].Delay.Count)
                combination[k--] = 0;
            if (k < 0)
                break;
        }
        for (int k = 0; k < used; k++)
        {
            EchoDelay delay = points[k].Delay;
            delay.Chosen = best[k];
            points[k] = points[k] with { Delay = delay };
        }
    }

    /// <summary>Fits the spacing.</summary>
    /// <param name="points">At least two points of different order.</param>
    /// <param name="delaysSamples">Shape [point]: delays, corrected for diffraction where asked for, samples.</param>
    /// <param name="noiseFraction">Noise per quadrature, fraction of full scale.</param>
    /// <param name="scale">Lengths in samples.</param>
    public static TrainFit Fit(
        ReadOnlySpan<TrainPoint> points,
        ReadOnlySpan<double> delaysSamples,
        double noiseFraction,
        EchoScale scale
    )
    {
        ArgumentNullException.ThrowIfNull(scale);
        int count = points.Length;
        double strongestWall = 0;
        for (int k = 1; k < count; k++)
            strongestWall = Math.Max(strongestWall, points[k].AmplitudeFraction);
        Span<double> weights = stackalloc double[count];
        for (int k = 0; k < count; k++)
        {
            double amplitude = Math.Min(points[k].AmplitudeFraction, InterfaceWeight * strongestWall);
            weights[k] = amplitude * amplitude;
        }
        WeightedLine line = WeightedLine.Fit(points, delaysSamples, weights);
        double angular = 2 * Math.PI * scale.RmsFrequencyHz;
        double variance = 0;
        double floor = 0;
        double share = 0;
        double chiSquare = 0;
        for (int k = 0; k < count; k++)
        {
            double coefficient = weights[k] * (points[k].Order - line.MeanOrder) / line.Spread;
            if (points[k].Order == 0)
                share = -coefficient;
            double ratio = points[k].AmplitudeFraction / noiseFraction;
            double bound = 1 / (angular * angular * ratio * ratio);
            variance += coefficient * coefficient * bound;
            floor += coefficient * coefficient;
            double residual = line.Residual(points[k].Order, delaysSamples[k]) / scale.SampleRateHz;
            double shape = ShapePeriods / scale.FrequencyHz;
            chiSquare += residual * residual / (bound + shape * shape);
        }
        double floorSeconds = FloorPeriods / scale.FrequencyHz;
        return new TrainFit(
            line.Slope / scale.SampleRateHz,
            Math.Sqrt(variance + 2 * floorSeconds * floorSeconds * floor),
            count > 2 ? chiSquare / (count - 2) : double.NaN,
            share
        );
    }

    private static double Cost(ReadOnlySpan<TrainPoint> points, ReadOnlySpan<int> combination, EchoScale scale)
    {
        Span<double> delays = stackalloc double[points.Length];
        Span<double> weights = stackalloc double[points.Length];
        weights.Fill(1);
        for (int k = 0; k < points.Length; k++)
            delays[k] = points[k].Delay.Delay(combination[k]);
        WeightedLine line = WeightedLine.Fit(points, delays, weights);
        double cost = 0;
        for (int k = 0; k < points.Length; k++)
        {
            double residual = line.Residual(points[k].Order, delays[k]);
            residual /= 0.15 * scale.Period;
            cost += residual * residual + 10 * (1 - points[k].Delay.RelativeHeight(combination[k]));
        }
        return cost;
    }
}
