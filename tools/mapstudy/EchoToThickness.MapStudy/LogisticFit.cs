namespace EchoToThickness.MapStudy;

/// <summary>Logistic regression by Newton's method with a small ridge on standardised columns, and a floor by likelihood.</summary>
internal static class LogisticFit
{
    private const double Ridge = 3;

    private static readonly double[] Floors = [1e-5, 2e-5, 5e-5, 1e-4, 2e-4, 5e-4, 1e-3];

    /// <summary>Floor, then one weight a column.</summary>
    public static double[] Fit(List<SignedCell> cells)
    {
        int n = cells[0].Columns.Length;
        var mean = new double[n];
        var spread = new double[n];
        foreach (SignedCell cell in cells)
            for (int k = 0; k < n; k++)
                mean[k] += cell.Columns[k] / (double)cells.Count;
        foreach (SignedCell cell in cells)
            for (int k = 0; k < n; k++)
                spread[k] += Math.Pow(cell.Columns[k] - mean[k], 2) / cells.Count;
        mean[0] = 0;
        spread[0] = 1;
        for (int k = 0; k < n; k++)
            spread[k] = Math.Sqrt(spread[k]);
        var weights = new double[n];
        weights[0] = Math.Log(Math.Max(cells.Count(c => c.WrongEcho), 1) / (double)cells.Count);
        double before = Objective(cells, weights, mean, spread);
        for (int round = 0; round < 60; round++)
        {
            double[] step = Step(cells, weights, mean, spread);
            double scale = 1;
            double now;
            var next = new double[n];
            do
            {
                for (int k = 0; k < n; k++)
                    next[k] = weights[k] + scale * step[k];
                now = Objective(cells, next, mean, spread);
                scale /= 2;
            } while (now > before && scale > 1e-6);
            weights = next;
            if (before - now < 1e-5)
                break;
            before = now;
        }
        var plain = new double[n + 1];
        for (int k = 0; k < n; k++)
        {
            if (spread[k] <= 1e-9)
                continue;
            plain[k + 1] = weights[k] / spread[k];
            plain[1] -= k == 0 ? 0 : weights[k] * mean[k] / spread[k];
        }
        plain[0] = Floors.MaxBy(floor => LogLikelihood(cells, plain, floor));
        return plain;
    }

    /// <summary>Probability by floor and weights.</summary>
    public static double Probability(float[] columns, double[] weights, double floor)
    {
        double sum = 0;
        for (int k = 0; k < columns.Length; k++)
            sum += weights[k + 1] * columns[k];
        return floor + (1 - floor) / (1 + Math.Exp(-sum));
    }

    private static double LogLikelihood(List<SignedCell> cells, double[] weights, double floor)
    {
        double sum = 0;
        foreach (SignedCell cell in cells)
        {
            double p = Math.Clamp(Probability(cell.Columns, weights, floor), 1e-12, 1 - 1e-12);
            sum += Math.Log(cell.WrongEcho ? p : 1 - p);
        }
        return sum;
    }

    private static double Objective(List<SignedCell> cells, double[] weights, double[] mean, double[] spread)
    {
        double sum = 0;
        foreach (SignedCell cell in cells)
        {
            double x = Score(cell.Columns, weights, mean, spread);
            sum += Math.Max(x, 0) + Math.Log(1 + Math.Exp(-Math.Abs(x))) - (cell.WrongEcho ? x : 0);
        }
        for (int k = 1; k < weights.Length; k++)
            sum += 0.5 * Ridge * weights[k] * weights[k];
        return sum;
    }

    private static double Score(float[] columns, double[] weights, double[] mean, double[] spread)
    {
        double x = 0;
        for (int k = 0; k < weights.Length; k++)
            x += spread[k] > 1e-9 ? weights[k] * (columns[k] - mean[k]) / spread[k] : 0;
        return x;
    }

    private static double[] Step(List<SignedCell> cells, double[] weights, double[] mean, double[] spread)
    {
        int n = weights.Length;
        var hessian = new double[n, n];
        var gradient = new double[n];
        var z = new double[n];
        foreach (SignedCell cell in cells)
        {
            double x = 0;
            for (int k = 0; k < n; k++)
            {
                z[k] = spread[k] > 1e-9 ? (cell.Columns[k] - mean[k]) / spread[k] : 0;
                x += weights[k] * z[k];
            }
            double p = 1 / (1 + Math.Exp(-x));
            double residual = (cell.WrongEcho ? 1 : 0) - p;
            double weight = p * (1 - p);
            for (int k = 0; k < n; k++)
            {
                gradient[k] += residual * z[k];
                double part = weight * z[k];
                for (int j = 0; j <= k; j++)
                    hessian[k, j] += part * z[j];
            }
        }
        for (int k = 0; k < n; k++)
        {
            hessian[k, k] += k == 0 ? 1e-9 : Ridge;
            gradient[k] -= k == 0 ? 0 : Ridge * weights[k];
        }
        return Solve(hessian, gradient);
    }

    /// <summary>Cholesky; only the lower triangle is read.</summary>
    private static double[] Solve(double[,] matrix, double[] right)
    {
        int n = right.Length;
        for (int i = 0; i < n; i++)
        {
            for (int j = 0; j <= i; j++)
            {
                double sum = matrix[i, j];
                for (int k = 0; k < j; k++)
                    sum -= matrix[i, k] * matrix[j, k];
                matrix[i, j] = i == j ? Math.Sqrt(Math.Max(sum, 1e-12)) : sum / matrix[j, j];
            }
        }
        var x = (double[])right.Clone();
        for (int i = 0; i < n; i++)
        {
            for (int k = 0; k < i; k++)
                x[i] -= matrix[i, k] * x[k];
            x[i] /= matrix[i, i];
        }
        for (int i = n - 1; i >= 0; i--)
        {
            for (int k = i + 1; k < n; k++)
                x[i] -= matrix[k, i] * x[k];
            x[i] /= matrix[i, i];
        }
        return x;
    }
}
