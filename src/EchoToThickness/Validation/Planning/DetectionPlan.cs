using EchoToThickness.Statistics.Numerics;
using EchoToThickness.Validation.Accuracy;
using EchoToThickness.Validation.Detection;

namespace EchoToThickness.Validation.Planning;

/// <summary>What a hit/miss study of a size would find, by simulation of an assumed curve.</summary>
/// <param name="Trials">Simulated studies.</param>
/// <param name="TrueA90">a90 of the assumed curve.</param>
/// <param name="Success">Share of studies whose a90/95 (likelihood ratio) exists and is at most the target, with its exact interval.</param>
/// <param name="NoCurve">Share of studies without a curve (separation) or without a bound.</param>
/// <param name="MedianLimit">Median a90/95 of the studies that have one.</param>
/// <param name="Coverage">Share of the studies with a limit whose a90/95 is at or above the true a90: should be 0.95.</param>
public sealed record DetectionPlan(
    int Trials,
    double TrueA90,
    Estimate Success,
    double NoCurve,
    double MedianLimit,
    Estimate Coverage
)
{
    /// <summary>Simulates studies on a logarithmic axis with the logit link.</summary>
    /// <param name="a50">Size found half of the time.</param>
    /// <param name="a90">Size found nine times in ten, above a50.</param>
    /// <param name="sizes">Sizes of the features of the study, one look each.</param>
    /// <param name="target">Largest a90/95 that serves the claim.</param>
    /// <param name="seed">Seed.</param>
    /// <param name="trials">Studies; 500 give a share to about 4 %.</param>
    /// <param name="leastFeatures">Features below which no limit is stated.</param>
    public static DetectionPlan Simulate(
        double a50,
        double a90,
        ReadOnlySpan<double> sizes,
        double target,
        ulong seed,
        int trials = 500,
        int leastFeatures = HitMissSettings.CommonLeastFeatures
    )
    {
        if (!(a50 > 0 && a90 > a50))
            throw new ArgumentOutOfRangeException(nameof(a90), a90, "a50 is above 0 and below a90.");
        ArgumentOutOfRangeException.ThrowIfLessThan(trials, 1);
        double slope = Math.Log(9) / Math.Log(a90 / a50);
        double[] axis = sizes.ToArray();
        var settings = new HitMissSettings { LeastFeatures = leastFeatures };
        var limits = new List<double>();
        var hits = new bool[axis.Length];
        for (int trial = 0; trial < trials; trial++)
        {
            var random = new StatisticsRandom(seed, (ulong)trial);
            for (int i = 0; i < axis.Length; i++)
                hits[i] = random.Uniform() < 1 / (1 + Math.Exp(-slope * Math.Log(axis[i] / a50)));
            HitMissModel? model = HitMissModel.Fit(axis, hits, null, settings, out _);
            if (model?.At(0.9).LikelihoodRatio is { Refusal: null } limit)
                limits.Add(limit.Interval.High);
        }
        limits.Sort();
        int success = limits.Count(l => l <= target);
        int covered = limits.Count(l => l >= a90);
        Estimate Share(string what, int events, int of) =>
            new(
                what + ", exact binomial interval",
                of > 0 ? events / (double)of : double.NaN,
                double.NaN,
                BinomialInterval.ClopperPearson(events, of, 0.95),
                of,
                of,
                double.NaN
            );
        return new DetectionPlan(
            trials,
            a90,
            Share("share of simulated studies that meet the target", success, trials),
            1 - limits.Count / (double)trials,
            limits.Count > 0 ? limits[limits.Count / 2] : double.NaN,
            Share("share of limits at or above the truth", covered, limits.Count)
        );
    }
}
