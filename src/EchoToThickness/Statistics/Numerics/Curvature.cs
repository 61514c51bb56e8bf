namespace EchoToThickness.Statistics.Numerics;

/// <summary>Second derivatives by differences, and small symmetric matrices.</summary>
internal static class Curvature
{
    /// <summary>Matrix of second derivatives by central differences of fourth order (two step sizes, Richardson).</summary>
    /// <param name="function">Smooth near the point.</param>
    /// <param name="point">Where.</param>
    /// <param name="step">Step of each variable, about a hundredth of its standard error.</param>
    public static double[,] Hessian(Func<double[], double> function, double[] point, double[] step)
    {
        double[,] wide = Plain(function, point, step, 2);
        double[,] fine = Plain(function, point, step, 1);
        int n = point.Length;
        for (int i = 0; i < n; i++)
        for (int j = 0; j < n; j++)
            fine[i, j] = (4 * fine[i, j] - wide[i, j]) / 3;
        return fine;
    }

    /// <summary>First derivatives by central differences.</summary>
    public static double[] Gradient(Func<double[], double> function, double[] point, double[] step)
    {
        var gradient = new double[point.Length];
        for (int k = 0; k < point.Length; k++)
        {
            double[] moved = (double[])point.Clone();
            moved[k] = point[k] + step[k];
            double up = function(moved);
            moved[k] = point[k] - step[k];
            gradient[k] = (up - function(moved)) / (2 * step[k]);
        }
        return gradient;
    }

    /// <summary>Inverse of a symmetric positive definite matrix; null when it is not.</summary>
    public static double[,]? Inverse(double[,] matrix)
    {
        int n = matrix.GetLength(0);
        var lower = new double[n, n];
        for (int i = 0; i < n; i++)
        for (int j = 0; j <= i; j++)
        {
            double sum = matrix[i, j];
            for (int k = 0; k < j; k++)
                sum -= lower[i, k] * lower[j, k];
            if (i == j)
            {
                if (!(sum > 0) || !double.IsFinite(sum))
                    return null;
                lower[i, i] = Math.Sqrt(sum);
            }
            else
                lower[i, j] = sum / lower[j, j];
        }
        var inverse = new double[n, n];
        for (int column = 0; column < n; column++)
        {
            var x = new double[n];
            for (int i = 0; i < n; i++)
            {
                double sum = i == column ? 1 : 0;
                for (int k = 0; k < i; k++)
                    sum -= lower[i, k] * x[k];
                x[i] = sum / lower[i, i];
            }
            for (int i = n - 1; i >= 0; i--)
            {
                for (int k = i + 1; k < n; k++)
                    x[i] -= lower[k, i] * x[k];
                x[i] /= lower[i, i];
            }
            for (int i = 0; i < n; i++)
                inverse[i, column] = x[i];
        }
        return inverse;
    }

    /// <summary>Row vector times matrix times column vector.</summary>
    public static double Form(double[] vector, double[,] matrix)
    {
        double sum = 0;
        for (int i = 0; i < vector.Length; i++)
        for (int j = 0; j < vector.Length; j++)
            sum += vector[i] * matrix[i, j] * vector[j];
        return sum;
    }

    private static double[,] Plain(Func<double[], double> function, double[] point, double[] step, double scale)
    {
        int n = point.Length;
        var hessian = new double[n, n];
        double centre = function(point);
        double At(int i, double a, int j, double b)
        {
            double[] moved = (double[])point.Clone();
            moved[i] += a * scale * step[i];
            moved[j] += b * scale * step[j];
            return function(moved);
        }
        for (int i = 0; i < n; i++)
        {
            double h = scale * step[i];
            hessian[i, i] = (At(i, 1, i, 0) - 2 * centre + At(i, -1, i, 0)) / (h * h);
            for (int j = 0; j < i; j++)
            {
                double mixed =
                    (At(i, 1, j, 1) - At(i, 1, j, -1) - At(i, -1, j, 1) + At(i, -1, j, -1)) / (4 * h * scale * step[j]);
                hessian[i, j] = mixed;
                hessian[j, i] = mixed;
            }
        }
        return hessian;
    }
}
