using MathNet.Numerics.LinearAlgebra;
using MathNet.Numerics.LinearAlgebra.Double;
using MathNet.Numerics.LinearAlgebra.Factorization;

namespace EchoToThickness.Studies.Searching;

/// <summary>
/// A surrogate of an expensive function: a Gaussian process with constant mean, a Matérn 5/2 covariance with a length of its own for every axis, and
/// noise. Words count as corners of a simplex, so that any two differ equally.
/// </summary>
/// <remarks>
/// Rasmussen and Williams, "Gaussian Processes for Machine Learning", 2006: prediction (2.25), (2.26); covariance (4.17); likelihood (2.30) with mean and variance
/// in closed form; leave-one-out (5.12). Lengths and noise are those of the largest posterior density found by a compass search over their
/// logarithms, with a wide normal prior on each (mean of a length 0.5 of the axis, factor e^1.5). Deterministic.
/// </remarks>
public sealed class GaussianProcess
{
    private const double UsualLength = 0.5;
    private const double PriorSpread = 1.5;
    private const double UsualNoise = 1e-3;

    private readonly IReadOnlyList<SearchAxis> _axes;
    private readonly double[][] _points;
    private readonly double[] _scales;
    private readonly double _noise;
    private readonly Cholesky<double> _factor;
    private readonly Vector<double> _weights;
    private readonly Vector<double> _ones;
    private readonly double _onesWeight;
    private readonly double _mean;
    private readonly double _variance;

    private GaussianProcess(
        IReadOnlyList<SearchAxis> axes,
        double[][] points,
        double[] values,
        double[] logarithms,
        bool complete = true
    )
    {
        _axes = axes;
        _points = points;
        _scales = [.. logarithms.Take(axes.Count).Select(l => Math.Exp(-l))];
        _noise = Math.Exp(logarithms[^1]);
        int n = points.Length;
        _factor = DenseMatrix
            .Create(n, n, (i, j) => Covariance(points[i], points[j]) + (i == j ? _noise : 0))
            .Cholesky();
        Vector<double> y = DenseVector.OfArray(values);
        Vector<double> unit = DenseVector.Create(n, 1);
        _ones = _factor.Solve(unit);
        _onesWeight = _ones.Sum();
        _mean = _ones.DotProduct(y) / _onesWeight;
        Vector<double> rest = y - _mean;
        _weights = _factor.Solve(rest);
        _variance = Math.Max(rest.DotProduct(_weights) / n, 1e-300);
        // Twice the negative logarithm of the profile likelihood, without constants, and the prior.
        Misfit =
            n * Math.Log(_variance)
            + _factor.DeterminantLn
            + logarithms.Take(axes.Count).Sum(l => Square((l - Math.Log(UsualLength)) / PriorSpread))
            + Square((logarithms[^1] - Math.Log(UsualNoise)) / (2 * PriorSpread));
        Lengths = [.. _scales.Select(s => 1 / s)];
        LeaveOneOut = complete ? Explained(values) : double.NaN;
    }

    private double Misfit { get; }

    /// <summary>Shape [axis]: length over which the function changes, parts of the axis.</summary>
    public IReadOnlyList<double> Lengths { get; }

    /// <summary>Share of the variance of the values that the process predicts with each value left out in turn; 1 is perfect, 0 no better than the mean.</summary>
    public double LeaveOneOut { get; }

    /// <summary>Fits a process.</summary>
    /// <param name="axes">Axes.</param>
    /// <param name="points">Shape [point][axis].</param>
    /// <param name="values">Shape [point]; finite.</param>
    public static GaussianProcess Fit(IReadOnlyList<SearchAxis> axes, double[][] points, double[] values)
    {
        ArgumentNullException.ThrowIfNull(axes);
        ArgumentNullException.ThrowIfNull(points);
        ArgumentNullException.ThrowIfNull(values);
        if (points.Length < 2 || points.Length != values.Length)
            throw new ArgumentException(
                $"{points.Length} points and {values.Length} values make no surrogate.",
                nameof(points)
            );
        (double[][] few, double[] theirs) = Thinned(points, values, 160);
        double[] best = [];
        double least = double.PositiveInfinity;
        foreach (double start in new[] { UsualLength, 0.15, 2.0 })
        {
            double[] at = [.. axes.Select(_ => Math.Log(start)), Math.Log(UsualNoise)];
            double misfit = Descend(axes, few, theirs, at);
            if (misfit < least)
                (least, best) = (misfit, at);
        }
        return new GaussianProcess(axes, points, values, best);
    }

    /// <summary>The same lengths and noise with other data.</summary>
    /// <param name="points">Shape [point][axis].</param>
    /// <param name="values">Shape [point].</param>
    public GaussianProcess With(double[][] points, double[] values) =>
        new(_axes, points, values, [.. _scales.Select(s => -Math.Log(s)), Math.Log(_noise)]);

    /// <summary>The expected value at a point.</summary>
    /// <param name="point">Shape [axis].</param>
    public double Mean(double[] point)
    {
        double sum = _mean;
        for (int i = 0; i < _points.Length; i++)
            sum += _weights[i] * Covariance(point, _points[i]);
        return sum;
    }

    /// <summary>The expected value at a point, and the standard deviation of the function there (noise left out).</summary>
    /// <param name="point">Shape [axis].</param>
    public (double Mean, double Deviation) Predict(double[] point)
    {
        var k = new double[_points.Length];
        double mean = _mean;
        for (int i = 0; i < k.Length; i++)
        {
            k[i] = Covariance(point, _points[i]);
            mean += _weights[i] * k[i];
        }
        Vector<double> column = DenseVector.OfArray(k);
        Vector<double> solved = _factor.Solve(column);
        double unknownMean = 1 - column.DotProduct(_ones);
        double variance = _variance * (1 - column.DotProduct(solved) + unknownMean * unknownMean / _onesWeight);
        return (mean, Math.Sqrt(Math.Max(variance, 0)));
    }

    private double Covariance(double[] a, double[] b)
    {
        double square = 0;
        for (int axis = 0; axis < a.Length; axis++)
        {
            double d = _axes[axis].IsChoice ? (a[axis] == b[axis] ? 0 : 1) : a[axis] - b[axis];
            d *= _scales[axis];
            square += d * d;
        }
        double r = Math.Sqrt(5 * square);
        return (1 + r + r * r / 3) * Math.Exp(-r);
    }

    private double Explained(double[] values)
    {
        double average = values.Average();
        double all = values.Sum(v => Square(v - average));
        if (!(all > 0))
            return 0;
        Matrix<double> inverse = _factor.Solve(DenseMatrix.CreateIdentity(values.Length));
        double left = 0;
        for (int i = 0; i < values.Length; i++)
        {
            // The mean is estimated from the others too: one row and column less of the inverse of the bordered system.
            double own = inverse[i, i] - _ones[i] * _ones[i] / _onesWeight;
            left += Square(_weights[i] / own);
        }
        return 1 - left / all;
    }

    private static double Descend(IReadOnlyList<SearchAxis> axes, double[][] points, double[] values, double[] at)
    {
        double least = MisfitOf(axes, points, values, at);
        for (double step = 1.2; step > 0.1; )
        {
            bool better = false;
            for (int i = 0; i < at.Length; i++)
            {
                foreach (double sign in new[] { 1.0, -1.0 })
                {
                    double before = at[i];
                    at[i] =
                        i == at.Length - 1
                            ? Math.Clamp(before + 2 * sign * step, Math.Log(1e-8), Math.Log(10))
                            : Math.Clamp(before + sign * step, Math.Log(0.02), Math.Log(50));
                    double misfit = MisfitOf(axes, points, values, at);
                    if (misfit < least - 1e-9)
                    {
                        (least, better) = (misfit, true);
                        break;
                    }
                    at[i] = before;
                }
            }
            if (!better)
                step /= 2;
        }
        return least;
    }

    private static double MisfitOf(IReadOnlyList<SearchAxis> axes, double[][] points, double[] values, double[] at)
    {
        try
        {
            double misfit = new GaussianProcess(axes, points, values, at, false).Misfit;
            return double.IsNaN(misfit) ? double.PositiveInfinity : misfit;
        }
        catch (ArgumentException)
        {
            // Not positive definite in double precision: points closer than the lengths can tell apart, without noise.
            return double.PositiveInfinity;
        }
    }

    /// <summary>At most so many points for the lengths: the best half of them, and every n-th of the rest.</summary>
    private static (double[][] Points, double[] Values) Thinned(double[][] points, double[] values, int most)
    {
        if (points.Length <= most)
            return (points, values);
        int[] order = [.. Enumerable.Range(0, points.Length).OrderBy(i => values[i]).ThenBy(i => i)];
        int[] rest = order[(most / 2)..];
        int[] chosen =
        [
            .. order[..(most / 2)],
            .. Enumerable.Range(0, most - most / 2).Select(i => rest[(int)((long)i * rest.Length / (most - most / 2))]),
        ];
        Array.Sort(chosen);
        return ([.. chosen.Select(i => points[i])], [.. chosen.Select(i => values[i])]);
    }

    private static double Square(double value) => value * value;
}
