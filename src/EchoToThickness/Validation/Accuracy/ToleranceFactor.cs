using EchoToThickness.Statistics.Numerics;
using EchoToThickness.Validation.Numerics;

namespace EchoToThickness.Validation.Accuracy;

/// <summary>Factors k of normal tolerance intervals: mean ± k s holds a share p of the population with a confidence.</summary>
/// <remarks>Sources: ISO 16269-6:2014; Hahn and Meeker, Statistical Intervals, 1991; Howe, JASA 64, 1969; Natrella, NBS Handbook 91, 1963.</remarks>
public static class ToleranceFactor
{
    /// <summary>Exact one-sided factor: a quantile of noncentral t.</summary>
    /// <param name="count">Values behind the mean; may be an effective number.</param>
    /// <param name="degreesOfFreedom">Degrees of freedom of s, count - 1 for one sample.</param>
    /// <param name="share">p, 0 to 1.</param>
    /// <param name="confidence">Confidence, 0 to 1.</param>
    public static double OneSided(double count, double degreesOfFreedom, double share, double confidence)
    {
        Check(count, degreesOfFreedom, share, confidence);
        double root = Math.Sqrt(count);
        return ScaleExpectation.NoncentralTQuantile(
                confidence,
                degreesOfFreedom,
                NormalDistribution.Quantile(share) * root
            ) / root;
    }

    /// <summary>Exact two-sided factor, by integration over the error of the mean.</summary>
    /// <param name="count">Values behind the mean; may be an effective number.</param>
    /// <param name="degreesOfFreedom">Degrees of freedom of s.</param>
    /// <param name="share">p, 0 to 1.</param>
    /// <param name="confidence">Confidence, 0 to 1.</param>
    /// <remarks>Solves <c>E[P(chi² above v r(x)² / k²)] = confidence</c>, x normal with variance 1/n, <c>Phi(x + r) - Phi(x - r) = p</c>.</remarks>
    public static double TwoSided(double count, double degreesOfFreedom, double share, double confidence)
    {
        Check(count, degreesOfFreedom, share, confidence);
        const int points = 160;
        double step = 8.5 / points;
        var radius = new double[points + 1];
        var weight = new double[points + 1];
        double sum = 0;
        for (int i = 0; i <= points; i++)
        {
            radius[i] = Radius(i * step / Math.Sqrt(count), share);
            weight[i] = NormalDistribution.Density(i * step) * (i == 0 ? 0.5 : 1);
            sum += weight[i];
        }
        double Covered(double k)
        {
            double covered = 0;
            for (int i = 0; i <= points; i++)
                covered +=
                    weight[i]
                    * Quantile.ChiSquaredAbove(degreesOfFreedom * radius[i] * radius[i] / (k * k), degreesOfFreedom);
            return covered / sum - confidence;
        }
        double high = 2 * HoweTwoSided(count, degreesOfFreedom, share, confidence);
        return Roots.Between(Covered, high / 16, high, 1e-13);
    }

    /// <summary>Howe's approximation of the two-sided factor.</summary>
    /// <param name="count">Values behind the mean.</param>
    /// <param name="degreesOfFreedom">Degrees of freedom of s.</param>
    /// <param name="share">p, 0 to 1.</param>
    /// <param name="confidence">Confidence, 0 to 1.</param>
    public static double HoweTwoSided(double count, double degreesOfFreedom, double share, double confidence) =>
        NormalDistribution.Quantile((1 + share) / 2)
        * Math.Sqrt(degreesOfFreedom * (1 + 1 / count) / Quantile.ChiSquared(1 - confidence, degreesOfFreedom));

    /// <summary>Natrella's approximation of the one-sided factor; NaN where it does not exist.</summary>
    /// <param name="count">Values behind the mean.</param>
    /// <param name="share">p, 0 to 1.</param>
    /// <param name="confidence">Confidence, 0 to 1.</param>
    public static double NatrellaOneSided(double count, double share, double confidence)
    {
        double zp = NormalDistribution.Quantile(share);
        double zc = NormalDistribution.Quantile(confidence);
        double a = 1 - zc * zc / (2 * (count - 1));
        double b = zp * zp - zc * zc / count;
        return (zp + Math.Sqrt(zp * zp - a * b)) / a;
    }

    /// <summary>Half width r of the interval about x that holds a share of a standard normal population.</summary>
    private static double Radius(double x, double share)
    {
        double low = NormalDistribution.Quantile((1 + share) / 2);
        double high = x + NormalDistribution.Quantile(share) + low;
        return Roots.Between(
            r => NormalDistribution.Below(x + r) - NormalDistribution.Below(x - r) - share,
            low * (1 - 1e-9),
            high,
            1e-14
        );
    }

    private static void Check(double count, double dof, double share, double confidence)
    {
        if (!(count >= 1))
            throw new ArgumentOutOfRangeException(nameof(count), count, "At least 1.");
        if (!(dof > 0))
            throw new ArgumentOutOfRangeException(nameof(dof), dof, "Above 0.");
        if (!(share > 0 && share < 1))
            throw new ArgumentOutOfRangeException(nameof(share), share, "Between 0 and 1.");
        if (!(confidence > 0 && confidence < 1))
            throw new ArgumentOutOfRangeException(nameof(confidence), confidence, "Between 0 and 1.");
    }
}
