using EchoToThickness.Statistics.Describe;
using EchoToThickness.Statistics.Numerics;

namespace EchoToThickness.Statistics.Assessment;

/// <summary>Remaining life from wall, requirement and rate.</summary>
public static class RemainingLife
{
    /// <summary>Life with an interval by Monte Carlo over wall, requirement and rate (independent, normal).</summary>
    /// <param name="input">Input.</param>
    /// <returns>Refused where the wall seems to grow or the rate is zero: that is no infinite life.</returns>
    /// <remarks>
    /// Source of the formula: API 570, remaining life = (actual - required) / rate; half-life rule. Draws with a rate of zero or less count
    /// as infinite life, draws below the requirement as zero.
    /// </remarks>
    public static AssessmentResult<LifeEstimate> Of(RemainingLifeInput input)
    {
        ArgumentNullException.ThrowIfNull(input);
        var basis = new AssessmentBasis(
            "API 570, corrosion rate and remaining life",
            "life = (t - t required) / rate; next inspection = min(life / 2, limit of the class)",
            true,
            "The limit of the class is given by the user"
        );
        if (!(input.WallMetres > 0) || !(input.RequiredWallMetres >= 0) || input.Draws < 100)
            throw new StatisticsException(
                FormattableString.Invariant(
                    $"Wall {input.WallMetres} m, required {input.RequiredWallMetres} m, {input.Draws} draws."
                ),
                "remaining life input",
                "give a wall above zero, a requirement of zero or more, and at least 100 draws"
            );
        CorrosionRate rate = input.Rate;
        if (rate.SeemsToGrow || !(rate.MetresPerYear > 0))
            return AssessmentResult<LifeEstimate>.Refuse(
                basis,
                FormattableString.Invariant(
                    $"The rate is {rate.MetresPerYear * 1e3:0.000} mm a year: a wall that seems to grow has a fault of measurement or position, not an infinite life."
                )
            );
        double years = Math.Max(0, input.WallMetres - input.RequiredWallMetres) / rate.MetresPerYear;
        var lives = new double[input.Draws];
        int below = 0;
        var random = new StatisticsRandom(input.Seed, 0);
        for (int k = 0; k < lives.Length; k++)
        {
            double spare =
                input.WallMetres
                + input.WallUncertaintyMetres * random.Normal()
                - input.RequiredWallMetres
                - input.RequiredWallUncertaintyMetres * random.Normal();
            double drawn = rate.MetresPerYear + rate.StandardUncertaintyMetresPerYear * random.Normal();
            if (spare <= 0)
                below++;
            lives[k] =
                spare <= 0 ? 0
                : drawn <= 0 ? double.PositiveInfinity
                : spare / drawn;
        }
        Array.Sort(lives);
        double Level(double probability) => Quantiles.Of(lives, probability, QuantileType.InverseDistribution);
        double next = years / 2;
        if (input.ClassLimitYears > 0)
            next = Math.Min(next, input.ClassLimitYears);
        return AssessmentResult<LifeEstimate>.Of(
            new LifeEstimate(
                years,
                Level(0.5 - input.Confidence / 2),
                Level(0.5),
                Level(0.5 + input.Confidence / 2),
                (double)below / lives.Length,
                next
            ),
            basis
        );
    }
}
