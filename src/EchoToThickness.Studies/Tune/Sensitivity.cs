using EchoToThickness.Studies.Searching;

namespace EchoToThickness.Studies.Tune;

/// <summary>Which keys matter, by a surrogate of the logarithm of the loss.</summary>
/// <param name="RuleSets">Rule sets that the surrogate was learned from.</param>
/// <param name="LeaveOneOut">Share of the variance that it predicts with each rule set left out; what follows is worth no more than this.</param>
/// <param name="Shares">Shares of the variance over the whole space.</param>
/// <param name="Effects">Shape [axis]: places, and the loss at each place averaged over all other keys (geometric mean).</param>
public sealed record Sensitivity(
    int RuleSets,
    double LeaveOneOut,
    VarianceShares Shares,
    IReadOnlyList<(double[] Places, double[] Loss)> Effects
)
{
    private const int MostRuleSets = 500;
    private const int Sample = 1200;
    private const int EffectSample = 200;
    private const int EffectPlaces = 15;

    /// <summary>Learns from rule sets.</summary>
    /// <param name="space">The space.</param>
    /// <param name="points">Shape [rule set][axis].</param>
    /// <param name="logarithms">Shape [rule set]: logarithm of the loss.</param>
    /// <param name="seed">Seed of the samples.</param>
    /// <returns>The sensitivity; null with too few rule sets to learn from.</returns>
    public static Sensitivity? Of(
        IReadOnlyList<SearchAxis> space,
        IReadOnlyList<double[]> points,
        IReadOnlyList<double> logarithms,
        long seed
    )
    {
        ArgumentNullException.ThrowIfNull(space);
        ArgumentNullException.ThrowIfNull(points);
        ArgumentNullException.ThrowIfNull(logarithms);
        if (points.Count < Math.Max(8, 2 * space.Count))
            return null;
        // Evenly over the order in which they came, where there are too many.
        int[] used =
        [
            .. Enumerable
                .Range(0, Math.Min(points.Count, MostRuleSets))
                .Select(i => (int)((long)i * points.Count / Math.Min(points.Count, MostRuleSets))),
        ];
        double[] values = [.. used.Select(i => logarithms[i])];
        if (values.Max() - values.Min() < 1e-12)
            return null;
        GaussianProcess surrogate = GaussianProcess.Fit(space, [.. used.Select(i => points[i])], values);
        var random = new RandomStream((ulong)seed + 0x5E45);
        VarianceShares shares = VarianceShares.Of(space, surrogate.Mean, Sample, random);
        double[][] around = SearchDesign.LatinHypercube(space, EffectSample, random);
        return new Sensitivity(
            used.Length,
            surrogate.LeaveOneOut,
            shares,
            [
                .. space.Select(
                    (axis, i) =>
                    {
                        double[] places =
                            axis.Places > 0 && axis.Places <= 2 * EffectPlaces
                                ? [.. Enumerable.Range(0, axis.Places).Select(axis.LevelAt)]
                                :
                                [
                                    .. Enumerable
                                        .Range(0, EffectPlaces)
                                        .Select(n => axis.Snap(n / (EffectPlaces - 1.0))),
                                ];
                        return (
                            places,
                            Array.ConvertAll(
                                places,
                                place =>
                                    Math.Exp(
                                        around.Average(point =>
                                        {
                                            double[] there = [.. point];
                                            there[i] = place;
                                            return surrogate.Mean(there);
                                        })
                                    )
                            )
                        );
                    }
                ),
            ]
        );
    }
}
