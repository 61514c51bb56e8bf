using EchoToThickness.Statistics;
using MathNet.Numerics.LinearAlgebra;

namespace EchoToThickness.Validation.Variance;

/// <summary>Sums of a mixed model from which its restricted likelihood follows at a cost that does not depend on the number of values.</summary>
/// <remarks>
/// With S the projection off the fixed columns, C = Z'SZ, b = Z'Sy, c = y'Sy and the roots D of the variance ratios:
/// <c>-2 l = (n - p) ln(2 pi s_e²) + ln|I + D C D| + (c - b'D (I + D C D)^-1 D b) / s_e² + ln|X'X|</c>. T = Z'PZ gives score and information.
/// </remarks>
internal sealed class MixedSums
{
    private readonly Matrix<double> _c;
    private readonly Vector<double> _b;
    private readonly double _squares;
    private readonly int[] _owner;
    private readonly int _free;
    private readonly int _factors;
    private readonly double _logFixed;
    private readonly Matrix<double> _zz;
    private readonly Matrix<double> _zx;
    private readonly Matrix<double> _xx;
    private readonly Vector<double> _zy;
    private readonly Vector<double> _xy;
    private readonly double _origin;

    public MixedSums(ReadOnlySpan<double> values, IReadOnlyList<Factor> random, IReadOnlyList<double[]> covariates)
    {
        int n = values.Length;
        int p = 1 + covariates.Count;
        _factors = random.Count;
        _owner = random.SelectMany((f, k) => Enumerable.Repeat(k, f.Levels.Count)).ToArray();
        int q = _owner.Length;
        _free = n - p;
        if (_free < 1)
            throw new StatisticsException(
                $"{n} values for {p} fixed columns.",
                "restricted likelihood",
                "measure more."
            );
        var offsets = new int[_factors];
        for (int k = 1; k < _factors; k++)
            offsets[k] = offsets[k - 1] + random[k - 1].Levels.Count;
        double mean = 0;
        foreach (double value in values)
            mean += (value - values[0]) / n;
        _origin = values[0] + mean;
        double[] centres = covariates.Select(c => c.Average()).ToArray();
        _zz = Matrix<double>.Build.Dense(q, q);
        _zx = Matrix<double>.Build.Dense(q, p);
        _xx = Matrix<double>.Build.Dense(p, p);
        _zy = Vector<double>.Build.Dense(q);
        _xy = Vector<double>.Build.Dense(p);
        double yy = 0;
        var x = new double[p];
        var place = new int[_factors];
        for (int i = 0; i < n; i++)
        {
            double y = values[i] - _origin;
            yy += y * y;
            x[0] = 1;
            for (int j = 1; j < p; j++)
                x[j] = covariates[j - 1][i] - centres[j - 1];
            for (int k = 0; k < _factors; k++)
                place[k] = offsets[k] + random[k].Codes[i];
            for (int j = 0; j < p; j++)
            {
                _xy[j] += x[j] * y;
                for (int m = 0; m < p; m++)
                    _xx[j, m] += x[j] * x[m];
            }
            foreach (int a in place)
            {
                _zy[a] += y;
                for (int j = 0; j < p; j++)
                    _zx[a, j] += x[j];
                foreach (int other in place)
                    _zz[a, other] += 1;
            }
        }
        Matrix<double> inverse = _xx.Inverse();
        _c = _zz - _zx * inverse * _zx.Transpose();
        _b = _zy - _zx * (inverse * _xy);
        _squares = yy - _xy * (inverse * _xy);
        _logFixed = Math.Log(_xx.Determinant());
        if (!(_squares > 0))
            throw new StatisticsException(
                "All values are alike.",
                "restricted likelihood",
                "nothing varies; there is nothing to divide."
            );
    }

    /// <summary>Log-likelihood, score and T for variances (factors first, readings last).</summary>
    private (double Value, double[] Score, double[,]? Information) Evaluate(double[] variance, bool full)
    {
        double error = variance[_factors];
        int q = _owner.Length;
        var root = new double[q];
        for (int i = 0; i < q; i++)
            root[i] = Math.Sqrt(variance[_owner[i]] / error);
        Matrix<double> inner = Matrix<double>.Build.Dense(
            q,
            q,
            (i, j) => root[i] * _c[i, j] * root[j] + (i == j ? 1 : 0)
        );
        var factor = inner.Cholesky();
        Vector<double> db = Vector<double>.Build.Dense(q, i => root[i] * _b[i]);
        Vector<double> solved = factor.Solve(db);
        double yPy = (_squares - db * solved) / error;
        double value = -0.5 * (_free * Math.Log(2 * Math.PI * error) + factor.DeterminantLn + yPy + _logFixed);
        if (!full)
            return (value, [], null);
        Matrix<double> dc = Matrix<double>.Build.Dense(q, q, (i, j) => root[i] * _c[i, j]);
        Matrix<double> t = (_c - dc.TransposeThisAndMultiply(factor.Solve(dc))) / error;
        Vector<double> zPy = (_b - dc.TransposeThisAndMultiply(solved)) / error;
        int k = _factors;
        var size = new double[k];
        var trace = new double[k];
        var cross = new double[k, k];
        for (int i = 0; i < q; i++)
        {
            size[_owner[i]] += zPy[i] * zPy[i];
            trace[_owner[i]] += t[i, i];
            for (int j = 0; j < q; j++)
                cross[_owner[i], _owner[j]] += t[i, j] * t[i, j];
        }
        // Every trace with the readings follows from P V P = P.
        double yPPy = yPy;
        double traceP = _free;
        for (int i = 0; i < k; i++)
        {
            yPPy -= variance[i] * size[i];
            traceP -= variance[i] * trace[i];
        }
        yPPy /= error;
        traceP /= error;
        var score = new double[k + 1];
        var information = new double[k + 1, k + 1];
        double last = traceP;
        for (int i = 0; i < k; i++)
        {
            score[i] = 0.5 * (size[i] - trace[i]);
            double with = trace[i];
            for (int j = 0; j < k; j++)
            {
                information[i, j] = 0.5 * cross[i, j];
                with -= variance[j] * cross[i, j];
            }
            with /= error;
            information[i, k] = information[k, i] = 0.5 * with;
            last -= variance[i] * with;
        }
        score[k] = 0.5 * (yPPy - traceP);
        information[k, k] = 0.5 * last / error;
        return (value, score, information);
    }

    /// <summary>Expected information of the variances.</summary>
    public double[,] Information(double[] variance) => Evaluate(variance, true).Information!;

    /// <summary>Greatest restricted likelihood by scoring with halved steps; a component that scoring drives below 0 stands at 0.</summary>
    /// <param name="held">Component that is held, or -1.</param>
    /// <param name="heldVariance">Its variance.</param>
    /// <param name="from">Start, or null.</param>
    public (double[] Variance, double Value) Maximise(int held, double heldVariance, double[]? from = null)
    {
        int m = _factors + 1;
        double start = _squares / _free / m;
        // Readings without any spread would make every ratio infinite; a billionth of the spread stands for none.
        double floor = 1e-9 * start;
        double[] variance = from is null ? Enumerable.Repeat(start, m).ToArray() : (double[])from.Clone();
        if (held >= 0)
            variance[held] = held == _factors ? Math.Max(heldVariance, floor) : heldVariance;
        var (value, score, information) = Evaluate(variance, true);
        for (int iteration = 0; iteration < 200; iteration++)
        {
            int[] free = Enumerable.Range(0, m).Where(i => i != held && (variance[i] > 0 || score[i] > 0)).ToArray();
            double[] step = Solve(information!, score, free);
            bool moved = false;
            for (double part = 1; part > 1e-9; part /= 2)
            {
                double[] trial = (double[])variance.Clone();
                for (int i = 0; i < free.Length; i++)
                {
                    double next = variance[free[i]] + part * step[i];
                    // No component falls by more than a factor of ten at once, or it could overshoot past its maximum and stay at 0.
                    double least = variance[free[i]] > 1e-9 * start ? 0.1 * variance[free[i]] : 0;
                    trial[free[i]] = Math.Max(next, free[i] == _factors ? Math.Max(least, floor) : least);
                }
                double at = Evaluate(trial, false).Value;
                if (at > value)
                {
                    moved = at - value > 1e-14 * (1 + Math.Abs(value));
                    variance = trial;
                    break;
                }
            }
            (value, score, information) = Evaluate(variance, true);
            if (!moved)
                break;
        }
        // What is left below a billionth of the spread is 0 when the likelihood does not fall there.
        for (int i = 0; i < _factors; i++)
            if (i != held && variance[i] > 0 && variance[i] < 1e-8 * start)
            {
                double[] trial = (double[])variance.Clone();
                trial[i] = 0;
                double at = Evaluate(trial, false).Value;
                if (at >= value - 1e-9)
                    (variance, value) = (trial, Math.Max(at, value));
            }
        return (variance, value);
    }

    /// <summary>Generalised least squares of the mean, and its variance.</summary>
    public (double Mean, double Variance) Mean(double[] variance)
    {
        double error = variance[_factors];
        int q = _owner.Length;
        var root = new double[q];
        for (int i = 0; i < q; i++)
            root[i] = Math.Sqrt(variance[_owner[i]] / error);
        var factor = Matrix<double>
            .Build.Dense(q, q, (i, j) => root[i] * _zz[i, j] * root[j] + (i == j ? 1 : 0))
            .Cholesky();
        Matrix<double> dx = Matrix<double>.Build.Dense(q, _xx.RowCount, (i, j) => root[i] * _zx[i, j]);
        Vector<double> dy = Vector<double>.Build.Dense(q, i => root[i] * _zy[i]);
        Matrix<double> inverse = ((_xx - dx.TransposeThisAndMultiply(factor.Solve(dx))) / error).Inverse();
        Vector<double> right = (_xy - dx.TransposeThisAndMultiply(factor.Solve(dy))) / error;
        return (_origin + (inverse * right)[0], inverse[0, 0]);
    }

    private static double[] Solve(double[,] information, double[] score, int[] free)
    {
        if (free.Length == 0)
            return [];
        Matrix<double> a = Matrix<double>.Build.Dense(
            free.Length,
            free.Length,
            (i, j) => information[free[i], free[j]]
        );
        for (int i = 0; i < free.Length; i++)
            a[i, i] *= 1 + 1e-12;
        return a.Solve(Vector<double>.Build.Dense(free.Length, i => score[free[i]])).ToArray();
    }
}
