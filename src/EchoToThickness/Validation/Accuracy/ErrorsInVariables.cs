using EchoToThickness.Validation.Numerics;

namespace EchoToThickness.Validation.Accuracy;

/// <summary>A straight line where both measured and true values are uncertain.</summary>
public sealed record ErrorsInVariables
{
    /// <summary>Value at a truth of 0.</summary>
    public required Estimate Intercept { get; init; }

    /// <summary>Slope.</summary>
    public required Estimate Slope { get; init; }

    /// <summary>Sum of squared residuals over their variances: about the number of points less two when the uncertainties are right. NaN for a ratio only.</summary>
    public required double ChiSquared { get; init; }

    /// <summary>Probability of so large a sum when they are; NaN for a ratio only.</summary>
    public required double Probability { get; init; }

    /// <summary>Line with the uncertainties of every point (York, Evensen, López Martínez and De Basabe Delgado, Am. J. Physics 72, 2004).</summary>
    /// <param name="truths">True values.</param>
    /// <param name="truthUncertainties">Their standard uncertainties; not both 0 at one point.</param>
    /// <param name="values">Measured values: means of clusters.</param>
    /// <param name="valueUncertainties">Their standard uncertainties.</param>
    /// <param name="refusal">Why there is no line; null when there is one.</param>
    /// <param name="confidence">Two-sided confidence; the normal distribution, since the uncertainties are taken as known.</param>
    public static ErrorsInVariables? Weighted(
        ReadOnlySpan<double> truths,
        ReadOnlySpan<double> truthUncertainties,
        ReadOnlySpan<double> values,
        ReadOnlySpan<double> valueUncertainties,
        out Refusal? refusal,
        double confidence = 0.95
    )
    {
        int n = truths.Length;
        if (truthUncertainties.Length != n || values.Length != n || valueUncertainties.Length != n)
            throw new ArgumentException("Spans of different length.", nameof(values));
        refusal = n < 3 ? Refusal.Observations(n, 3, "points") : null;
        if (refusal != null)
            return null;
        (double mx, double vx) = Bias.Moments(truths);
        (double my, _) = Bias.Moments(values);
        double b = 0;
        for (int i = 0; i < n; i++)
            b += (truths[i] - mx) * (values[i] - my) / ((n - 1) * vx);
        if (!double.IsFinite(b))
        {
            refusal = new Refusal(RefusalReason.NoSpread, 1, 2, "All true values are alike: there is no line.");
            return null;
        }
        var w = new double[n];
        var beta = new double[n];
        double xBar = 0;
        double yBar = 0;
        double change = double.PositiveInfinity;
        for (int iteration = 0; iteration < 500 && change > 1e-15 * (Math.Abs(b) + 1e-300); iteration++)
        {
            double sum = 0;
            xBar = yBar = 0;
            for (int i = 0; i < n; i++)
            {
                double ux = truthUncertainties[i] * truthUncertainties[i];
                double uy = valueUncertainties[i] * valueUncertainties[i];
                if (!(ux + uy > 0))
                    throw new ArgumentOutOfRangeException(
                        nameof(valueUncertainties),
                        0.0,
                        "A point has no uncertainty at all."
                    );
                w[i] = 1 / (uy + b * b * ux);
                sum += w[i];
                xBar += w[i] * truths[i];
                yBar += w[i] * values[i];
            }
            xBar /= sum;
            yBar /= sum;
            double above = 0;
            double below = 0;
            for (int i = 0; i < n; i++)
            {
                double ux = truthUncertainties[i] * truthUncertainties[i];
                double uy = valueUncertainties[i] * valueUncertainties[i];
                double u = truths[i] - xBar;
                double v = values[i] - yBar;
                // W (U / w_y + b V / w_x)
                beta[i] = w[i] * (u * uy + b * v * ux);
                above += w[i] * beta[i] * v;
                below += w[i] * beta[i] * u;
            }
            change = Math.Abs(above / below - b);
            b = above / below;
        }
        double total = 0;
        double mean = 0;
        double chi = 0;
        double a = yBar - b * xBar;
        for (int i = 0; i < n; i++)
        {
            total += w[i];
            mean += w[i] * (xBar + beta[i]);
            chi += w[i] * Math.Pow(values[i] - a - b * truths[i], 2);
        }
        mean /= total;
        double spread = 0;
        for (int i = 0; i < n; i++)
            spread += w[i] * Math.Pow(xBar + beta[i] - mean, 2);
        double sb = Math.Sqrt(1 / spread);
        double sa = Math.Sqrt(1 / total + mean * mean / spread);
        const string method = "line with uncertainties in both (York et al. 2004), normal interval";
        double z = Quantile.Student((1 + confidence) / 2, double.PositiveInfinity);
        Estimate Made(double value, double error) =>
            new(
                method,
                value,
                error,
                ConfidenceInterval.About(value, z * error, confidence),
                n,
                n,
                double.PositiveInfinity
            );
        return new ErrorsInVariables
        {
            Intercept = Made(a, sa),
            Slope = Made(b, sb),
            ChiSquared = chi,
            Probability = Quantile.ChiSquaredAbove(chi, n - 2),
        };
    }

    /// <summary>Deming's line for a known ratio of variances; intervals by leaving out one cluster at a time (Linnet, Statistics in Medicine 9, 1990).</summary>
    /// <param name="observations">Readings; clusters are weighed alike, by their means.</param>
    /// <param name="varianceRatio">Variance of a cluster mean of measured values over the variance of its true value, above 0.</param>
    /// <param name="refusal">Why there is no line; null when there is one.</param>
    /// <param name="confidence">Two-sided confidence, Student's t on clusters - 2.</param>
    public static ErrorsInVariables? Deming(
        IReadOnlyList<Observation> observations,
        double varianceRatio,
        out Refusal? refusal,
        double confidence = 0.95
    )
    {
        ArgumentNullException.ThrowIfNull(observations);
        if (!(varianceRatio > 0 && double.IsFinite(varianceRatio)))
            throw new ArgumentOutOfRangeException(nameof(varianceRatio), varianceRatio, "Above 0.");
        var clusters = new Factor("cluster", observations.Select(o => o.Cluster).ToArray());
        int g = clusters.Levels.Count;
        refusal = g < Bias.LeastClusters ? Refusal.Clusters(g, Bias.LeastClusters) : null;
        if (refusal != null)
            return null;
        double[] x = new ClusteredSample(observations.Select(o => o.Truth).ToArray(), clusters).Means.ToArray();
        double[] y = new ClusteredSample(observations.Select(o => o.Value).ToArray(), clusters).Means.ToArray();
        (double a, double b) = Line(x, y, varianceRatio, -1);
        if (!double.IsFinite(b))
        {
            refusal = new Refusal(RefusalReason.NoSpread, 1, 2, "All true values are alike: there is no line.");
            return null;
        }
        var pseudoA = new double[g];
        var pseudoB = new double[g];
        for (int k = 0; k < g; k++)
        {
            (double ak, double bk) = Line(x, y, varianceRatio, k);
            pseudoA[k] = g * a - (g - 1) * ak;
            pseudoB[k] = g * b - (g - 1) * bk;
        }
        double t = Quantile.Student((1 + confidence) / 2, g - 2);
        Estimate Made(double value, double[] pseudo)
        {
            double error = Math.Sqrt(Bias.Moments(pseudo).Variance / g);
            return new(
                "Deming's line of cluster means, jackknife of clusters (Linnet 1990)",
                value,
                error,
                ConfidenceInterval.About(value, t * error, confidence),
                g,
                observations.Count,
                g - 2
            );
        }
        return new ErrorsInVariables
        {
            Intercept = Made(a, pseudoA),
            Slope = Made(b, pseudoB),
            ChiSquared = double.NaN,
            Probability = double.NaN,
        };
    }

    // b = (q + sqrt(q² + 4 r sxy²)) / (2 sxy), q = syy - r sxx.
    private static (double, double) Line(double[] x, double[] y, double ratio, int without)
    {
        double n = x.Length - (without >= 0 ? 1 : 0);
        double mx = 0;
        double my = 0;
        for (int i = 0; i < x.Length; i++)
            if (i != without)
            {
                mx += (x[i] - x[0]) / n;
                my += (y[i] - y[0]) / n;
            }
        mx += x[0];
        my += y[0];
        double sxx = 0;
        double syy = 0;
        double sxy = 0;
        for (int i = 0; i < x.Length; i++)
            if (i != without)
            {
                sxx += (x[i] - mx) * (x[i] - mx);
                syy += (y[i] - my) * (y[i] - my);
                sxy += (x[i] - mx) * (y[i] - my);
            }
        double q = syy - ratio * sxx;
        double b = (q + Math.Sqrt(q * q + 4 * ratio * sxy * sxy)) / (2 * sxy);
        return (my - b * mx, b);
    }
}
