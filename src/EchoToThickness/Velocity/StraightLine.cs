namespace EchoToThickness.Velocity;

/// <summary>A straight line <c>y = a + b x</c> through points that are uncertain in both coordinates, without correlation.</summary>
/// <remarks>
/// Maximum likelihood for normal errors: York 1966 with the unified standard errors of York, Evensen, Martinez and De Basabe
/// Delgado, Am. J. Phys. 72 (2004) 367, equations 13a to 13d. With two points the line passes through both.
/// </remarks>
public sealed record StraightLine
{
    private const int MostIterations = 200;

    /// <summary>Intercept a.</summary>
    public required double Intercept { get; init; }

    /// <summary>Slope b.</summary>
    public required double Slope { get; init; }

    /// <summary>Standard uncertainty of the intercept.</summary>
    public required double InterceptUncertainty { get; init; }

    /// <summary>Standard uncertainty of the slope.</summary>
    public required double SlopeUncertainty { get; init; }

    /// <summary>Covariance of intercept and slope.</summary>
    public required double Covariance { get; init; }

    /// <summary>Weighted sum of squared residuals.</summary>
    public required double ChiSquare { get; init; }

    /// <summary>Fits the line.</summary>
    /// <param name="x">Shape [point].</param>
    /// <param name="xUncertainty">Shape [point]: standard uncertainties, not negative.</param>
    /// <param name="y">Shape [point].</param>
    /// <param name="yUncertainty">Shape [point]: standard uncertainties; not both zero for a point.</param>
    /// <exception cref="ArgumentException">Fewer than two points, lengths that differ, all x equal, a point without uncertainty.</exception>
    public static StraightLine Fit(
        ReadOnlySpan<double> x,
        ReadOnlySpan<double> xUncertainty,
        ReadOnlySpan<double> y,
        ReadOnlySpan<double> yUncertainty
    )
    {
        int n = x.Length;
        if (n < 2 || y.Length != n || xUncertainty.Length != n || yUncertainty.Length != n)
            throw new ArgumentException("At least two points, and as many of each array, are needed.", nameof(x));
        double slope = FirstSlope(x, y);
        var weight = new double[n];
        var beta = new double[n];
        double xMean = 0;
        double yMean = 0;
        for (int iteration = 0; iteration < MostIterations; iteration++)
        {
            double before = slope;
            slope = Step(x, xUncertainty, y, yUncertainty, slope, weight, beta, out xMean, out yMean);
            if (Math.Abs(slope - before) <= 1e-15 * Math.Abs(slope))
                break;
        }
        Step(x, xUncertainty, y, yUncertainty, slope, weight, beta, out xMean, out yMean);
        double intercept = yMean - slope * xMean;
        double sumWeight = 0;
        double adjustedMean = 0;
        for (int i = 0; i < n; i++)
        {
            sumWeight += weight[i];
            adjustedMean += weight[i] * (xMean + beta[i]);
        }
        adjustedMean /= sumWeight;
        double spread = 0;
        double chiSquare = 0;
        for (int i = 0; i < n; i++)
        {
            double u = xMean + beta[i] - adjustedMean;
            double residual = y[i] - intercept - slope * x[i];
            spread += weight[i] * u * u;
            chiSquare += weight[i] * residual * residual;
        }
        double slopeVariance = 1 / spread;
        return new StraightLine
        {
            Intercept = intercept,
            Slope = slope,
            SlopeUncertainty = Math.Sqrt(slopeVariance),
            InterceptUncertainty = Math.Sqrt(1 / sumWeight + adjustedMean * adjustedMean * slopeVariance),
            Covariance = -adjustedMean * slopeVariance,
            ChiSquare = chiSquare,
        };
    }

    private static double FirstSlope(ReadOnlySpan<double> x, ReadOnlySpan<double> y)
    {
        double xMean = 0;
        double yMean = 0;
        for (int i = 0; i < x.Length; i++)
        {
            xMean += x[i] / x.Length;
            yMean += y[i] / x.Length;
        }
        double sxx = 0;
        double sxy = 0;
        for (int i = 0; i < x.Length; i++)
        {
            sxx += (x[i] - xMean) * (x[i] - xMean);
            sxy += (x[i] - xMean) * (y[i] - yMean);
        }
        if (!(sxx > 0))
            throw new ArgumentException("All x are equal; no slope can be found.", nameof(x));
        return sxy / sxx;
    }

    private static double Step(
        ReadOnlySpan<double> x,
        ReadOnlySpan<double> xUncertainty,
        ReadOnlySpan<double> y,
        ReadOnlySpan<double> yUncertainty,
        double slope,
        double[] weight,
        double[] beta,
        out double xMean,
        out double yMean
    )
    {
        double sum = 0;
        xMean = 0;
        yMean = 0;
        for (int i = 0; i < x.Length; i++)
        {
            double variance = yUncertainty[i] * yUncertainty[i] + slope * slope * xUncertainty[i] * xUncertainty[i];
            if (!(variance > 0))
                throw new ArgumentException("A point has no uncertainty at all.", nameof(yUncertainty));
            weight[i] = 1 / variance;
            sum += weight[i];
            xMean += weight[i] * x[i];
            yMean += weight[i] * y[i];
        }
        xMean /= sum;
        yMean /= sum;
        double above = 0;
        double below = 0;
        for (int i = 0; i < x.Length; i++)
        {
            double u = x[i] - xMean;
            double v = y[i] - yMean;
            beta[i] =
                weight[i] * (u * yUncertainty[i] * yUncertainty[i] + slope * v * xUncertainty[i] * xUncertainty[i]);
            above += weight[i] * beta[i] * v;
            below += weight[i] * beta[i] * u;
        }
        return above / below;
    }
}
