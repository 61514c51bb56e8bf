namespace EchoToThickness.Estimation;

/// <summary>Small symmetric positive definite systems, in place, without allocation.</summary>
internal static class NormalEquations
{
    /// <summary>Solves <c>A x = b</c> by Cholesky's factors.</summary>
    /// <param name="matrix">Shape [n × n], row by row; its lower triangle becomes the factor.</param>
    /// <param name="right">Shape [n]: b, becomes x.</param>
    /// <returns>False when the matrix is not positive definite to rounding; b is then spoilt.</returns>
    public static bool Solve(Span<double> matrix, Span<double> right)
    {
        int n = right.Length;
        if (!Factor(matrix, n))
            return false;
        for (int i = 0; i < n; i++)
        {
            double sum = right[i];
            for (int k = 0; k < i; k++)
                sum -= matrix[i * n + k] * right[k];
            right[i] = sum / matrix[i * n + i];
        }
        for (int i = n - 1; i >= 0; i--)
        {
            double sum = right[i];
            for (int k = i + 1; k < n; k++)
                sum -= matrix[k * n + i] * right[k];
            right[i] = sum / matrix[i * n + i];
        }
        return true;
    }

    /// <summary>First diagonal element of the inverse; NaN when the matrix is not positive definite.</summary>
    /// <param name="matrix">Shape [n × n]; spoilt.</param>
    /// <param name="scratch">Shape [n]; spoilt.</param>
    public static double FirstOfInverse(Span<double> matrix, Span<double> scratch)
    {
        scratch.Clear();
        scratch[0] = 1;
        return Solve(matrix, scratch) ? scratch[0] : double.NaN;
    }

    private static bool Factor(Span<double> matrix, int n)
    {
        for (int j = 0; j < n; j++)
        {
            double pivot = matrix[j * n + j];
            double whole = pivot;
            for (int k = 0; k < j; k++)
                pivot -= matrix[j * n + k] * matrix[j * n + k];
            if (!(pivot > 1e-13 * whole))
                return false;
            double root = Math.Sqrt(pivot);
            matrix[j * n + j] = root;
            for (int i = j + 1; i < n; i++)
            {
                double sum = matrix[i * n + j];
                for (int k = 0; k < j; k++)
                    sum -= matrix[i * n + k] * matrix[j * n + k];
                matrix[i * n + j] = sum / root;
            }
        }
        return true;
    }
}
