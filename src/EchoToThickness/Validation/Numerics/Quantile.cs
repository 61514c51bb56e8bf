using EchoToThickness.Statistics.Numerics;
using MathNet.Numerics;

namespace EchoToThickness.Validation.Numerics;

/// <summary>Distribution functions and their inverses; degrees of freedom may be fractional or infinite.</summary>
internal static class Quantile
{
    /// <summary>P(T above t) for t at or above 0 is half of I_{v/(v+t²)}(v/2, 1/2).</summary>
    public static double StudentAbove(double t, double dof)
    {
        if (double.IsNaN(t) || !(dof > 0))
            return double.NaN;
        if (double.IsPositiveInfinity(dof) || dof > 1e9)
            return NormalDistribution.Below(-t);
        double tail = double.IsInfinity(t)
            ? 0
            : 0.5 * SpecialFunctions.BetaRegularized(dof / 2, 0.5, dof / (dof + t * t));
        return t >= 0 ? tail : 1 - tail;
    }

    /// <summary>The value that Student's t lies below with a probability.</summary>
    public static double Student(double probability, double dof)
    {
        if (!(dof > 0))
            return double.NaN;
        if (double.IsPositiveInfinity(dof) || dof > 1e9)
            return NormalDistribution.Quantile(probability);
        if (probability == 0.5)
            return 0;
        double tail = Math.Min(probability, 1 - probability);
        double high = 1;
        while (StudentAbove(high, dof) > tail && high < 1e150)
            high *= 4;
        double t = Roots.Between(x => StudentAbove(x, dof) - tail, 0, high, 1e-15);
        return probability > 0.5 ? t : -t;
    }

    /// <summary>P(chi-squared at or below x).</summary>
    public static double ChiSquaredBelow(double x, double dof) =>
        x <= 0 ? 0
        : double.IsPositiveInfinity(x) ? 1
        : SpecialFunctions.GammaLowerRegularized(dof / 2, x / 2);

    /// <summary>P(chi-squared above x).</summary>
    public static double ChiSquaredAbove(double x, double dof) =>
        x <= 0 ? 1
        : double.IsPositiveInfinity(x) ? 0
        : SpecialFunctions.GammaUpperRegularized(dof / 2, x / 2);

    /// <summary>The value that chi-squared lies below with a probability.</summary>
    public static double ChiSquared(double probability, double dof)
    {
        if (probability <= 0)
            return 0;
        if (probability >= 1)
            return double.PositiveInfinity;
        double high = Math.Max(dof, 1);
        while (ChiSquaredAbove(high, dof) > 1 - probability)
            high *= 2;
        bool upper = probability > 0.5;
        return Roots.Between(
            x => upper ? 1 - probability - ChiSquaredAbove(x, dof) : ChiSquaredBelow(x, dof) - probability,
            0,
            high,
            1e-15
        );
    }

    /// <summary>P(F above x).</summary>
    public static double FisherAbove(double x, double first, double second)
    {
        if (double.IsNaN(x))
            return double.NaN;
        if (x <= 0)
            return 1;
        if (double.IsPositiveInfinity(second))
            return ChiSquaredAbove(x * first, first);
        return double.IsPositiveInfinity(x)
            ? 0
            : SpecialFunctions.BetaRegularized(second / 2, first / 2, second / (second + first * x));
    }

    /// <summary>The value that F lies below with a probability; either number of degrees of freedom may be infinite.</summary>
    public static double Fisher(double probability, double first, double second)
    {
        if (double.IsPositiveInfinity(second))
            return ChiSquared(probability, first) / first;
        if (double.IsPositiveInfinity(first))
            return second / ChiSquared(1 - probability, second);
        double x = Beta(1 - probability, second / 2, first / 2);
        return second * (1 - x) / (first * x);
    }

    /// <summary>The value that a beta variable lies below with a probability.</summary>
    public static double Beta(double probability, double a, double b)
    {
        if (probability <= 0)
            return 0;
        if (probability >= 1)
            return 1;
        return Roots.Between(x => SpecialFunctions.BetaRegularized(a, b, x) - probability, 0, 1, 1e-16);
    }
}
