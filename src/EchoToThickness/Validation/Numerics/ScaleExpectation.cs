using EchoToThickness.Statistics.Numerics;
using MathNet.Numerics;

namespace EchoToThickness.Validation.Numerics;

/// <summary>Expected values over s = sqrt(chi-squared(v) / v), the ratio of an observed to a true standard deviation.</summary>
internal static class ScaleExpectation
{
    /// <summary>
    /// E[g(s)] by the trapezoidal rule in u = ln s, where the density is <c>exp(c + v u - v e^(2u) / 2)</c>. The rule converges faster than
    /// any power of the step for smooth g.
    /// </summary>
    /// <param name="dof">v; may be infinite.</param>
    /// <param name="function">g, bounded.</param>
    /// <param name="steps">Steps in one standard deviation of u.</param>
    public static double Of(double dof, Func<double, double> function, int steps = 16)
    {
        if (dof > 1e8)
            return function(1);
        double half = dof / 2;
        double constant = Math.Log(2) + half * Math.Log(half) - SpecialFunctions.GammaLn(half) - half;
        double step = 1 / Math.Sqrt(2 * dof) / steps;
        double sum = 0;
        double weights = 0;
        for (int side = -1; side <= 1; side += 2)
        for (int k = side < 0 ? 1 : 0; ; k++)
        {
            double u = side * k * step;
            double exponent = dof * u - half * (Math.Exp(2 * u) - 1);
            if (exponent < -42)
                break;
            double weight = Math.Exp(constant + exponent) * step;
            weights += weight;
            sum += weight * function(Math.Exp(u));
        }
        return sum / weights;
    }

    /// <summary>P(noncentral t at or below t): E[Phi(t s - delta)].</summary>
    public static double NoncentralT(double t, double dof, double noncentrality) =>
        Of(dof, s => NormalDistribution.Below(t * s - noncentrality));

    /// <summary>The value that noncentral t lies below with a probability.</summary>
    public static double NoncentralTQuantile(double probability, double dof, double noncentrality)
    {
        double low = -1;
        double high = 1;
        while (NoncentralT(low, dof, noncentrality) > probability)
            low *= 2;
        while (NoncentralT(high, dof, noncentrality) < probability)
            high *= 2;
        return Roots.Between(t => NoncentralT(t, dof, noncentrality) - probability, low, high, 1e-13);
    }
}
