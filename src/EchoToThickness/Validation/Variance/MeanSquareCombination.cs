using EchoToThickness.Validation.Numerics;

namespace EchoToThickness.Validation.Variance;

/// <summary>Intervals of sums and differences of independent mean squares.</summary>
public static class MeanSquareCombination
{
    /// <summary>Degrees of freedom of Satterthwaite (Biometrics Bulletin 2, 1946).</summary>
    /// <param name="coefficients">Coefficients.</param>
    /// <param name="meanSquares">Mean squares.</param>
    /// <param name="degreesOfFreedom">Their degrees of freedom.</param>
    public static double Satterthwaite(
        ReadOnlySpan<double> coefficients,
        ReadOnlySpan<double> meanSquares,
        ReadOnlySpan<double> degreesOfFreedom
    )
    {
        double sum = 0;
        double square = 0;
        for (int i = 0; i < coefficients.Length; i++)
        {
            double part = coefficients[i] * meanSquares[i];
            sum += part;
            square += part * part / degreesOfFreedom[i];
        }
        return sum * sum / square;
    }

    /// <summary>Modified large sample interval: exact when one mean square is all there is, close to its confidence otherwise.</summary>
    /// <param name="coefficients">Coefficients, of either sign.</param>
    /// <param name="meanSquares">Independent mean squares.</param>
    /// <param name="degreesOfFreedom">Their degrees of freedom.</param>
    /// <param name="confidence">Two-sided confidence, 0 to 1.</param>
    /// <returns>Ends as they come out; a variance below 0 is 0 to the caller.</returns>
    /// <remarks>Graybill and Wang, JASA 75, 1980 (sums); Ting, Burdick, Graybill, Jeyaratnam and Lu, J. Statistical Computation and Simulation 35, 1990.</remarks>
    public static ConfidenceInterval ModifiedLargeSample(
        ReadOnlySpan<double> coefficients,
        ReadOnlySpan<double> meanSquares,
        ReadOnlySpan<double> degreesOfFreedom,
        double confidence
    )
    {
        double tail = (1 - confidence) / 2;
        double centre = 0;
        for (int i = 0; i < coefficients.Length; i++)
            centre += coefficients[i] * meanSquares[i];
        double low = Spread(coefficients, meanSquares, degreesOfFreedom, tail);
        Span<double> turned = stackalloc double[coefficients.Length];
        for (int i = 0; i < turned.Length; i++)
            turned[i] = -coefficients[i];
        double high = Spread(turned, meanSquares, degreesOfFreedom, tail);
        return new ConfidenceInterval(centre - Math.Sqrt(low), centre + Math.Sqrt(high), confidence);
    }

    /// <summary>Upper one-sided limit of a combination.</summary>
    internal static double Upper(double[] coefficients, double[] meanSquares, double[] dof, double confidence) =>
        ModifiedLargeSample(coefficients, meanSquares, dof, 2 * confidence - 1).High;

    /// <summary>V of the lower limit; the upper limit is the lower one of the combination with its signs turned.</summary>
    private static double Spread(
        ReadOnlySpan<double> coefficients,
        ReadOnlySpan<double> meanSquares,
        ReadOnlySpan<double> dof,
        double tail
    )
    {
        int n = coefficients.Length;
        int positive = 0;
        foreach (double c in coefficients)
            positive += c > 0 ? 1 : 0;
        Span<double> size = stackalloc double[n];
        Span<double> part = stackalloc double[n];
        for (int i = 0; i < n; i++)
        {
            size[i] = Math.Abs(coefficients[i]) * meanSquares[i];
            part[i] = coefficients[i] > 0 ? Down(dof[i], tail) : Up(dof[i], tail);
        }
        double v = 0;
        for (int i = 0; i < n; i++)
        {
            if (coefficients[i] == 0)
                continue;
            v += part[i] * part[i] * size[i] * size[i];
            for (int j = 0; j < n; j++)
            {
                if (j == i || coefficients[j] == 0 || coefficients[i] < 0)
                    continue;
                if (coefficients[j] < 0)
                {
                    double f = Quantile.Fisher(1 - tail, dof[i], dof[j]);
                    double cross = ((f - 1) * (f - 1) - part[i] * part[i] * f * f - part[j] * part[j]) / f;
                    v += cross * size[i] * size[j];
                }
                else if (j > i && positive > 1)
                {
                    double both = Down(dof[i] + dof[j], tail);
                    double all = dof[i] + dof[j];
                    double cross =
                        both * both * all * all / (dof[i] * dof[j])
                        - part[i] * part[i] * dof[i] / dof[j]
                        - part[j] * part[j] * dof[j] / dof[i];
                    v += cross / (positive - 1) * size[i] * size[j];
                }
            }
        }
        return Math.Max(v, 0);
    }

    // G = 1 - 1 / F(tail above; v, infinity) and H = 1 / F(1 - tail above; v, infinity) - 1.
    private static double Down(double dof, double tail) => 1 - dof / Quantile.ChiSquared(1 - tail, dof);

    private static double Up(double dof, double tail) => dof / Quantile.ChiSquared(tail, dof) - 1;
}
