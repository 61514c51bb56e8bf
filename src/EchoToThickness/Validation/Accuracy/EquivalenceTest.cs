using System.Globalization;
using EchoToThickness.Validation.Numerics;

namespace EchoToThickness.Validation.Accuracy;

/// <summary>Two one-sided tests of a mean error against a tolerance (Schuirmann, J. Pharmacokinetics and Biopharmaceutics 15, 1987).</summary>
public static class EquivalenceTest
{
    /// <summary>Tests that the bias lies within the tolerance.</summary>
    /// <param name="bias">A bias with its standard error and degrees of freedom, from <see cref="Bias"/>.</param>
    /// <param name="lowerTolerance">Lower end of what is allowed, below the upper, in the unit of the bias.</param>
    /// <param name="upperTolerance">Upper end.</param>
    /// <param name="level">Size of the test, 0.05 unless said otherwise.</param>
    public static EquivalenceResult Of(Estimate bias, double lowerTolerance, double upperTolerance, double level = 0.05)
    {
        ArgumentNullException.ThrowIfNull(bias);
        if (!(lowerTolerance < upperTolerance))
            throw new ArgumentOutOfRangeException(
                nameof(upperTolerance),
                upperTolerance,
                string.Create(CultureInfo.InvariantCulture, $"Must be above the lower end {lowerTolerance}.")
            );
        if (bias.Refusal != null)
            return new EquivalenceResult(false, double.NaN, double.NaN, ConfidenceInterval.None, bias);
        double dof = bias.DegreesOfFreedom;
        double lower = Above((bias.Value - lowerTolerance) / bias.StandardError, dof);
        double upper = Above((upperTolerance - bias.Value) / bias.StandardError, dof);
        double half = Quantile.Student(1 - level, dof) * bias.StandardError;
        var interval = ConfidenceInterval.About(bias.Value, half, 1 - 2 * level);
        return new EquivalenceResult(Math.Max(lower, upper) <= level, lower, upper, interval, bias);
    }

    // A mean without any spread stands on its side for certain, and on the limit itself proves nothing.
    private static double Above(double t, double dof) => double.IsNaN(t) ? 1 : Quantile.StudentAbove(t, dof);
}
