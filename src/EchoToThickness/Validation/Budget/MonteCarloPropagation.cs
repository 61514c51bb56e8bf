using EchoToThickness.Statistics;
using EchoToThickness.Statistics.Numerics;
using MathNet.Numerics.LinearAlgebra;

namespace EchoToThickness.Validation.Budget;

/// <summary>Propagation of distributions by adaptive Monte Carlo (JCGM 101:2008, 7.9).</summary>
public static class MonteCarloPropagation
{
    /// <summary>Propagates.</summary>
    /// <param name="inputs">Inputs; correlated ones must be normal.</param>
    /// <param name="model">The result from values of the inputs.</param>
    /// <param name="seed">Seed: the same seed gives the same result.</param>
    /// <param name="correlation">Correlation coefficients; null when all are independent.</param>
    /// <param name="coverage">Probability of the coverage intervals.</param>
    /// <param name="digits">Significant digits of the standard uncertainty that must be stable.</param>
    /// <param name="mostTrials">Trials at which it stops, settled or not.</param>
    /// <returns>
    /// Blocks of max(10,000, 100 / (1 - p)) trials until twice the standard error of mean, deviation and both ends of the shortest
    /// interval over blocks is within the tolerance; the result is that of all trials together.
    /// </returns>
    /// <exception cref="StatisticsException">Impossible inputs; correlations that are no correlation matrix, or of inputs that are not normal.</exception>
    public static MonteCarloResult Run(
        IReadOnlyList<UncertaintyInput> inputs,
        Func<double[], double> model,
        ulong seed,
        double[,]? correlation = null,
        double coverage = 0.95,
        int digits = 2,
        int mostTrials = 2_000_000
    )
    {
        ArgumentNullException.ThrowIfNull(inputs);
        ArgumentNullException.ThrowIfNull(model);
        InputChecks.Check(inputs, correlation);
        Matrix<double>? root = Root(inputs, correlation);
        int block = Math.Max(10_000, (int)Math.Ceiling(100 / (1 - coverage)));
        int n = inputs.Count;
        var all = new List<double>();
        var blocks = new List<double[]>();
        var x = new double[n];
        var normal = new double[n];
        double tolerance = double.NaN;
        bool settled = false;
        for (int h = 0; all.Count + block <= Math.Max(mostTrials, block) && !settled; h++)
        {
            var random = new StatisticsRandom(seed, (ulong)h);
            var values = new double[block];
            for (int r = 0; r < block; r++)
            {
                if (root != null)
                    for (int i = 0; i < n; i++)
                        normal[i] = random.Normal();
                for (int i = 0; i < n; i++)
                {
                    double z = 0;
                    if (root != null)
                        for (int j = 0; j <= i; j++)
                            z += root[i, j] * normal[j];
                    x[i] =
                        root != null && inputs[i].Shape == InputShape.Normal
                            ? inputs[i].Value + inputs[i].StandardUncertainty * z
                            : Draw(inputs[i], random);
                }
                values[r] = model(x);
            }
            all.AddRange(values);
            Array.Sort(values);
            ConfidenceInterval shortest = Shortest(values, coverage);
            (double mean, double variance) = Accuracy.Bias.Moments(values);
            blocks.Add([mean, Math.Sqrt(variance), shortest.Low, shortest.High]);
            if (blocks.Count < 2)
                continue;
            tolerance = ToleranceOf(blocks.Average(b => b[1]), digits);
            settled = Enumerable
                .Range(0, 4)
                .All(k =>
                    2 * Math.Sqrt(Accuracy.Bias.Moments(blocks.Select(b => b[k]).ToArray()).Variance / blocks.Count)
                    <= tolerance
                );
        }
        double[] sorted = all.ToArray();
        Array.Sort(sorted);
        (double centre, double spread) = Accuracy.Bias.Moments(sorted);
        int m = sorted.Length;
        int q = (int)(coverage * m + 0.5);
        int first = (m - q) / 2;
        return new MonteCarloResult(
            centre,
            Math.Sqrt(spread),
            Shortest(sorted, coverage),
            new(sorted[first], sorted[Math.Min(first + q, m - 1)], coverage),
            m,
            settled,
            tolerance
        );
    }

    /// <summary>Numerical tolerance (JCGM 101, 7.9.2): u written as c x 10^l with c of that many digits; half of 10^l.</summary>
    internal static double ToleranceOf(double uncertainty, int digits)
    {
        if (!(uncertainty > 0))
            return 0;
        double exponent = Math.Floor(Math.Log10(uncertainty)) - (digits - 1);
        // 9.96 with two digits is written 10, which moves the exponent.
        if (Math.Round(uncertainty / Math.Pow(10, exponent)) >= Math.Pow(10, digits))
            exponent++;
        return 0.5 * Math.Pow(10, exponent);
    }

    private static ConfidenceInterval Shortest(double[] sorted, double coverage)
    {
        int m = sorted.Length;
        int q = Math.Min((int)(coverage * m + 0.5), m - 1);
        int best = 0;
        for (int r = 0; r + q < m; r++)
            if (sorted[r + q] - sorted[r] < sorted[best + q] - sorted[best])
                best = r;
        return new(sorted[best], sorted[best + q], coverage);
    }

    private static double Draw(UncertaintyInput input, StatisticsRandom random)
    {
        double u = input.StandardUncertainty;
        switch (input.Shape)
        {
            case InputShape.Rectangular:
                return input.Value + u * Math.Sqrt(3) * (2 * random.Uniform() - 1);
            case InputShape.Triangular:
                return input.Value + u * Math.Sqrt(6) * (random.Uniform() + random.Uniform() - 1);
            case InputShape.Trapezoidal:
            {
                double b = input.TopRatio;
                double a = u / Math.Sqrt((1 + b * b) / 6);
                return input.Value
                    + 0.5 * a * ((1 + b) * (2 * random.Uniform() - 1) + (1 - b) * (2 * random.Uniform() - 1));
            }
            case InputShape.ArcSine:
                return input.Value + u * Math.Sqrt(2) * Math.Sin(2 * Math.PI * random.Uniform());
            case InputShape.StudentT when double.IsFinite(input.DegreesOfFreedom):
            {
                // Polar method of Bailey, Mathematics of Computation 62, 1994.
                double dof = input.DegreesOfFreedom;
                while (true)
                {
                    double a = 2 * random.Uniform() - 1;
                    double b = 2 * random.Uniform() - 1;
                    double w = a * a + b * b;
                    if (w is >= 1 or 0)
                        continue;
                    return input.Value + u * a * Math.Sqrt(dof * (Math.Pow(w, -2 / dof) - 1) / w);
                }
            }
            default:
                return input.Value + u * random.Normal();
        }
    }

    private static Matrix<double>? Root(IReadOnlyList<UncertaintyInput> inputs, double[,]? correlation)
    {
        if (correlation == null)
            return null;
        int n = inputs.Count;
        for (int i = 0; i < n; i++)
        for (int j = 0; j < n; j++)
            if (i != j && correlation[i, j] != 0 && inputs[i].Shape != InputShape.Normal)
                throw new StatisticsException(
                    $"The input is {inputs[i].Shape} and correlated with {inputs[j].Name}.",
                    $"input {inputs[i].Name}",
                    "describe correlated inputs as normal, or write the model with the independent causes behind them."
                );
        // Full correlation (coefficient 1) is allowed: the root of a semidefinite matrix by Cholesky with zero pivots.
        Matrix<double> root = Matrix<double>.Build.Dense(n, n);
        for (int i = 0; i < n; i++)
        for (int j = 0; j <= i; j++)
        {
            double sum = correlation[i, j];
            for (int k = 0; k < j; k++)
                sum -= root[i, k] * root[j, k];
            if (i == j)
            {
                if (sum < -1e-12)
                    throw new StatisticsException(
                        "The coefficients contradict each other: no quantities can be correlated so.",
                        $"correlation, input {inputs[i].Name}",
                        "take the coefficients from one joint evaluation."
                    );
                root[i, i] = Math.Sqrt(Math.Max(sum, 0));
            }
            else
                root[i, j] = root[j, j] > 1e-8 ? sum / root[j, j] : 0;
        }
        return root;
    }
}
