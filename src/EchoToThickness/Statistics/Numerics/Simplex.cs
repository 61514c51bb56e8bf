namespace EchoToThickness.Statistics.Numerics;

/// <summary>Minimum of a function of few variables by the simplex of Nelder and Mead (1965), restarted until it stands still.</summary>
internal static class Simplex
{
    /// <summary>Finds a minimum.</summary>
    /// <param name="function">May return +infinity outside its domain, but not at the start.</param>
    /// <param name="start">Start.</param>
    /// <param name="step">First step of each variable.</param>
    /// <param name="tolerance">Difference of the values over the simplex at which one run ends.</param>
    /// <param name="restarts">Fresh simplexes at the best point.</param>
    /// <returns>Best point and its value.</returns>
    public static (double[] Point, double Value) Minimise(
        Func<double[], double> function,
        double[] start,
        double[] step,
        double tolerance = 1e-11,
        int restarts = 2
    )
    {
        double[] best = (double[])start.Clone();
        double value = function(best);
        double size = 1;
        for (int run = 0; run <= restarts; run++)
        {
            double before = value;
            (best, value) = Run(function, best, value, step, size, tolerance);
            size *= 0.2;
            if (run > 0 && before - value <= tolerance * (1 + Math.Abs(value)))
                break;
        }
        return (best, value);
    }

    private static (double[], double) Run(
        Func<double[], double> function,
        double[] start,
        double startValue,
        double[] step,
        double size,
        double tolerance
    )
    {
        int n = start.Length;
        var points = new double[n + 1][];
        var values = new double[n + 1];
        points[0] = (double[])start.Clone();
        values[0] = startValue;
        for (int k = 0; k < n; k++)
        {
            points[k + 1] = (double[])start.Clone();
            points[k + 1][k] += step[k] * size;
            values[k + 1] = function(points[k + 1]);
        }
        var centre = new double[n];
        var trial = new double[n];
        for (int iteration = 0; iteration < 600 * n; iteration++)
        {
            Array.Sort(values, points);
            if (
                values[n] - values[0] <= tolerance * (1 + Math.Abs(values[0]))
                && Extent(points, step) < Math.Sqrt(tolerance) * 0.3
            )
                break;
            Array.Clear(centre);
            for (int k = 0; k < n; k++)
            for (int j = 0; j < n; j++)
                centre[j] += points[k][j] / n;
            double reflected = Try(function, centre, points[n], trial, 1);
            if (reflected < values[0])
            {
                double[] first = (double[])trial.Clone();
                double expanded = Try(function, centre, points[n], trial, 2);
                if (expanded < reflected)
                    Replace(points, values, n, trial, expanded);
                else
                    Replace(points, values, n, first, reflected);
            }
            else if (reflected < values[n - 1])
                Replace(points, values, n, trial, reflected);
            else
            {
                double factor = reflected < values[n] ? 0.5 : -0.5;
                double contracted = Try(function, centre, points[n], trial, factor);
                if (contracted < Math.Min(reflected, values[n]))
                    Replace(points, values, n, trial, contracted);
                else
                    for (int k = 1; k <= n; k++)
                    {
                        for (int j = 0; j < n; j++)
                            points[k][j] = 0.5 * (points[k][j] + points[0][j]);
                        values[k] = function(points[k]);
                    }
            }
        }
        Array.Sort(values, points);
        return (points[0], values[0]);
    }

    private static double Extent(double[][] points, double[] step)
    {
        double largest = 0;
        for (int k = 1; k < points.Length; k++)
        for (int j = 0; j < step.Length; j++)
            largest = Math.Max(largest, Math.Abs((points[k][j] - points[0][j]) / step[j]));
        return largest;
    }

    private static double Try(
        Func<double[], double> function,
        double[] centre,
        double[] worst,
        double[] trial,
        double factor
    )
    {
        for (int j = 0; j < centre.Length; j++)
            trial[j] = centre[j] + factor * (centre[j] - worst[j]);
        return function(trial);
    }

    private static void Replace(double[][] points, double[] values, int place, double[] point, double value)
    {
        points[place] = (double[])point.Clone();
        values[place] = value;
    }
}
