using MathNet.Numerics.LinearAlgebra;

namespace EchoToThickness.Validation.Effects;

/// <summary>
/// The CR2 covariance <c>B (sum X_g' A_g e_g e_g' A_g X_g) B</c>, <c>A_g = (I - H_gg)^(-1/2)</c>. With Z = X_g B^(1/2), H_gg = Z Z' and
/// <c>(I - Z Z')^(-1/2) = I + Z f(Z'Z) Z'</c>, <c>f(x) = ((1 - x)^(-1/2) - 1) / x</c>: no matrix is larger than the number of coefficients.
/// </summary>
internal static class ClusterRobust
{
    /// <summary>Covariance of the coefficients; degrees of freedom of each are written to <paramref name="dofs"/>.</summary>
    public static Matrix<double> Covariance(
        Matrix<double> x,
        Vector<double> residual,
        Matrix<double> bread,
        Factor clusters,
        double[] dofs
    )
    {
        int p = x.ColumnCount;
        int g = clusters.Levels.Count;
        Matrix<double> root = Function(bread, Math.Sqrt);
        var cross = new Matrix<double>[g];
        var score = new Vector<double>[g];
        for (int k = 0; k < g; k++)
        {
            cross[k] = Matrix<double>.Build.Dense(p, p);
            score[k] = Vector<double>.Build.Dense(p);
        }
        for (int i = 0; i < x.RowCount; i++)
        {
            int k = clusters.Codes[i];
            Vector<double> row = x.Row(i);
            cross[k] += row.OuterProduct(row);
            score[k] += residual[i] * row;
        }
        Matrix<double> meat = Matrix<double>.Build.Dense(p, p);
        var adjust = new Matrix<double>[g];
        var square = new Matrix<double>[g];
        for (int k = 0; k < g; k++)
        {
            Matrix<double> s = root * cross[k] * root;
            // X_g' A_g v = X_g' v + X_g' Z f Z' v = (I + cross root f root) X_g' v, and the same with 1 / (1 - x) for A_g².
            adjust[k] = Matrix<double>.Build.DenseIdentity(p) + cross[k] * root * Function(s, F) * root;
            square[k] = Matrix<double>.Build.DenseIdentity(p) + cross[k] * root * Function(s, G) * root;
            Vector<double> adjusted = adjust[k] * score[k];
            meat += adjusted.OuterProduct(adjusted);
        }
        for (int j = 0; j < p; j++)
        {
            Vector<double> c = bread.Column(j);
            // a_g = A_g X_g B c_j; entries of the quadratic form: d_gh a_g'a_g - (X_g'a_g)' B (X_h'a_h).
            var u = new Vector<double>[g];
            var v = new Vector<double>[g];
            double trace = 0;
            double norm = 0;
            var own = new double[g];
            for (int k = 0; k < g; k++)
            {
                u[k] = adjust[k] * cross[k] * c;
                v[k] = bread * u[k];
                own[k] = c * (square[k] * cross[k] * c);
            }
            for (int k = 0; k < g; k++)
            for (int h = k; h < g; h++)
            {
                double entry = (h == k ? own[k] : 0) - u[k] * v[h];
                norm += (h == k ? 1 : 2) * entry * entry;
                if (h == k)
                    trace += entry;
            }
            dofs[j] = trace * trace / norm;
        }
        return bread * meat * bread;
    }

    // A cluster that alone carries a direction (x = 1) has no residual there; the generalised inverse root is 0.
    private static double F(double x) =>
        x > 1 - 1e-9 ? -1
        : x < 1e-8 ? 0.5 + 0.375 * x
        : (1 / Math.Sqrt(1 - x) - 1) / x;

    private static double G(double x) => x > 1 - 1e-9 ? -1 : 1 / (1 - x);

    private static Matrix<double> Function(Matrix<double> symmetric, Func<double, double> function)
    {
        Matrix<double> even = (symmetric + symmetric.Transpose()) * 0.5;
        var evd = even.Evd(Symmetricity.Symmetric);
        Vector<double> values = evd.EigenValues.Real().Map(v => function(Math.Max(v, 0)));
        return evd.EigenVectors * Matrix<double>.Build.DenseOfDiagonalVector(values) * evd.EigenVectors.Transpose();
    }
}
