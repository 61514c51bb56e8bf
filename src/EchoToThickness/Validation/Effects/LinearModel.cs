using EchoToThickness.Validation.Numerics;
using MathNet.Numerics.LinearAlgebra;
using MathNet.Numerics.LinearAlgebra.Factorization;

namespace EchoToThickness.Validation.Effects;

/// <summary>Ordinary least squares, with classical or cluster-robust intervals.</summary>
public sealed class LinearModel
{
    private readonly double[] _residuals;

    private LinearModel(IReadOnlyList<Estimate> coefficients, double[] residuals, double sum, double free, double total)
    {
        Coefficients = coefficients;
        _residuals = residuals;
        ResidualSumOfSquares = sum;
        ResidualDegreesOfFreedom = free;
        Determination = total > 0 ? 1 - sum / total : double.NaN;
    }

    /// <summary>Coefficients in the order of the columns.</summary>
    public IReadOnlyList<Estimate> Coefficients { get; }

    /// <summary>Covariance of the coefficients, shape [coefficient, coefficient]: classical or cluster-robust as the intervals are.</summary>
    public required IReadOnlyList<IReadOnlyList<double>> Covariance { get; init; }

    /// <summary>Values minus fit, shape [observation].</summary>
    public ReadOnlySpan<double> Residuals => _residuals;

    /// <summary>Sum of squared residuals.</summary>
    public double ResidualSumOfSquares { get; }

    /// <summary>Observations minus coefficients.</summary>
    public double ResidualDegreesOfFreedom { get; }

    /// <summary>Standard deviation of the residuals.</summary>
    public double ResidualDeviation => Math.Sqrt(ResidualSumOfSquares / ResidualDegreesOfFreedom);

    /// <summary>Share of the squares about the mean (about 0 without a column of ones) that the fit explains.</summary>
    public double Determination { get; }

    /// <summary>Fits a model.</summary>
    /// <param name="values">Values.</param>
    /// <param name="columns">Columns, the mean among them if wanted.</param>
    /// <param name="confidence">Two-sided confidence of the intervals.</param>
    /// <param name="refusal">Why nothing was fitted; null when it was.</param>
    /// <param name="clusters">Clusters of observations; null when all are independent.</param>
    /// <param name="leastClusters">Cluster-robust intervals are refused below; common practice, no source.</param>
    /// <remarks>
    /// QR by Householder (Golub and Van Loan). Clusters: CR2 with Satterthwaite degrees of freedom of each coefficient (Bell and McCaffrey 2002;
    /// Pustejovsky and Tipton, J. Business and Economic Statistics 36, 2018), all matrices of the size of the coefficients.
    /// </remarks>
    public static LinearModel? Fit(
        ReadOnlySpan<double> values,
        IReadOnlyList<LinearColumn> columns,
        double confidence,
        out Refusal? refusal,
        Factor? clusters = null,
        int leastClusters = Accuracy.Bias.LeastClusters
    )
    {
        ArgumentNullException.ThrowIfNull(columns);
        int n = values.Length;
        int p = columns.Count;
        if (n < p || p == 0)
        {
            refusal = Refusal.Observations(n, Math.Max(p, 1), "observations");
            return null;
        }
        Matrix<double> x = Matrix<double>.Build.Dense(n, p, (i, j) => columns[j].Values[i]);
        QR<double> qr = x.QR(QRMethod.Thin);
        for (int j = 0; j < p; j++)
            if (!(Math.Abs(qr.R[j, j]) > 1e-12 * x.Column(j).L2Norm()))
            {
                refusal = new Refusal(
                    RefusalReason.NotIdentified,
                    j,
                    p,
                    $"The column \"{columns[j].Name}\" is a combination of those before it: the data cannot tell them apart."
                );
                return null;
            }
        refusal = null;
        Vector<double> y = Vector<double>.Build.DenseOfArray(values.ToArray());
        Vector<double> beta = qr.R.Solve(qr.Q.TransposeThisAndMultiply(y));
        Vector<double> residual = y - x * beta;
        // One step of refinement takes out the rounding of the first solution.
        beta += qr.R.Solve(qr.Q.TransposeThisAndMultiply(residual));
        residual = y - x * beta;
        double sum = residual * residual;
        double free = n - p;
        Matrix<double> inverseR = qr.R.Inverse();
        Matrix<double> bread = inverseR * inverseR.Transpose();
        bool hasMean = columns.Any(c => c.Values.All(v => v == 1));
        double middle = hasMean ? y.Average() : 0;
        double total = y.Sum(v => (v - middle) * (v - middle));
        Matrix<double> covariance = bread * (free > 0 ? sum / free : double.NaN);
        var dofs = Enumerable.Repeat(free, p).ToArray();
        Refusal? few = free > 0 ? null : Refusal.Observations(n, p + 1, "observations");
        string method = "least squares, Student's t";
        int units = n;
        if (clusters != null)
        {
            method = "least squares, cluster-robust CR2 (Bell and McCaffrey 2002)";
            units = clusters.Levels.Count;
            if (units < leastClusters)
                few = Refusal.Clusters(units, leastClusters);
            else
                covariance = ClusterRobust.Covariance(x, residual, bread, clusters, dofs);
        }
        var coefficients = new Estimate[p];
        for (int j = 0; j < p; j++)
        {
            double error = Math.Sqrt(covariance[j, j]);
            coefficients[j] =
                few != null
                    ? Estimate.Refused(method, beta[j], units, n, few)
                    : new Estimate(
                        method,
                        beta[j],
                        error,
                        ConfidenceInterval.About(
                            beta[j],
                            Quantile.Student((1 + confidence) / 2, dofs[j]) * error,
                            confidence
                        ),
                        units,
                        n,
                        dofs[j]
                    );
        }
        return new LinearModel(coefficients, residual.ToArray(), sum, free, total)
        {
            Covariance = covariance.ToRowArrays(),
        };
    }

    /// <summary>F test of the columns that a smaller model lacks; for independent observations.</summary>
    /// <param name="smaller">Model whose columns are all in this one.</param>
    /// <param name="source">Name of what was left out.</param>
    public Variance.MeanSquare Compare(LinearModel smaller, string source)
    {
        ArgumentNullException.ThrowIfNull(smaller);
        double dof = smaller.ResidualDegreesOfFreedom - ResidualDegreesOfFreedom;
        double sum = smaller.ResidualSumOfSquares - ResidualSumOfSquares;
        double f = sum / dof / (ResidualSumOfSquares / ResidualDegreesOfFreedom);
        return new(source, sum, dof, f, Quantile.FisherAbove(f, dof, ResidualDegreesOfFreedom));
    }
}
