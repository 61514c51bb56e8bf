using MathNet.Numerics;

namespace EchoToThickness.Statistics.Numerics;

/// <summary>The standard normal distribution.</summary>
internal static class NormalDistribution
{
    /// <summary>Probability of a value at or below <paramref name="z"/>.</summary>
    public static double Below(double z) => 0.5 * SpecialFunctions.Erfc(-z / Math.Sqrt(2));

    /// <summary>Density.</summary>
    public static double Density(double z) => Math.Exp(-0.5 * z * z) / Math.Sqrt(2 * Math.PI);

    /// <summary>The value that a share <paramref name="probability"/> lies below.</summary>
    public static double Quantile(double probability) => -Math.Sqrt(2) * SpecialFunctions.ErfcInv(2 * probability);
}
