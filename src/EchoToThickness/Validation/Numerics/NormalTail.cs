using EchoToThickness.Statistics.Numerics;

namespace EchoToThickness.Validation.Numerics;

/// <summary>The normal distribution far into its tails.</summary>
internal static class NormalTail
{
    /// <summary>ln Phi(z); below -30 by the asymptotic series (Abramowitz and Stegun 26.2.12, relative error under 1e-9).</summary>
    public static double LogBelow(double z)
    {
        if (z > -30)
            return Math.Log(NormalDistribution.Below(z));
        double q = 1 / (z * z);
        return -0.5 * z * z - Math.Log(-z) - 0.5 * Math.Log(2 * Math.PI) + double.LogP1(-q * (1 - 3 * q * (1 - 5 * q)));
    }

    /// <summary>phi(z) / Phi(z), the derivative of ln Phi.</summary>
    public static double MillsInverse(double z)
    {
        if (z > -30)
            return NormalDistribution.Density(z) / NormalDistribution.Below(z);
        double q = 1 / (z * z);
        return -z / (1 - q * (1 - 3 * q * (1 - 5 * q)));
    }
}
