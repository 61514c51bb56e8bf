using EchoToThickness.Validation;
using EchoToThickness.Validation.Accuracy;
using EchoToThickness.Validation.Budget;
using EchoToThickness.Validation.Detection;
using EchoToThickness.Validation.Effects;
using EchoToThickness.Validation.Variance;
using MathNet.Numerics.Distributions;

namespace EchoToThickness.ValidationCoverage;

/// <summary>The methods and designs that are checked. Quick ones run in the tests too.</summary>
internal static class CoverageCases
{
    private static readonly int[] Uneven = [1, 2, 3, 5, 8, 12, 20, 30];

    /// <summary>Cases in the order of the table.</summary>
    public static IReadOnlyList<CoverageCase> All { get; } =
    [
        new(
            "bias, cluster means, 8 x 20, correlation 0.5",
            0.95,
            0,
            0,
            d => Bias.OfClusterMeans(d.Clusters(Draw.Equal(8, 20), 1, 1)).Interval.Contains(0)
        ),
        new(
            "bias, readings CR2, 8 clusters of 1 to 30, correlation 0.5",
            0.95,
            0.02,
            0.02,
            d => Bias.OfReadings(d.Clusters(Uneven, 1, 1)).Interval.Contains(0)
        ),
        new(
            "equivalence at its limit (size), 8 x 5",
            0.05,
            0,
            0,
            d => EquivalenceTest.Of(Bias.OfClusterMeans(d.Clusters(Draw.Equal(8, 5), 0.1, 0.1, 1)), -1, 1).IsEquivalent
        ),
        new(
            "tolerance (95, 95) two-sided, 10 single values",
            0.95,
            0,
            0,
            d => Holds(ToleranceInterval.Of(ClusteredSample.Independent(d.Normals(10))), 1)
        )
        {
            QuickTrials = 300,
        },
        new(
            "tolerance (95, 95) upper, 10 single values",
            0.95,
            0,
            0,
            d => Holds(ToleranceInterval.Of(ClusteredSample.Independent(d.Normals(10)), side: ToleranceSide.Upper), 1)
        )
        {
            QuickTrials = 300,
        },
        new(
            "tolerance (95, 95) two-sided, 10 x 5, correlation 0.6",
            0.95,
            0.01,
            0.04,
            d => Holds(ToleranceInterval.Of(d.Clusters(Draw.Equal(10, 5), Math.Sqrt(0.6), Math.Sqrt(0.4))), 1)
        )
        {
            QuickTrials = 300,
        },
        new(
            "tolerance (95, 95) two-sided, 8 clusters of 1 to 30, correlation 0.3",
            0.95,
            0.01,
            0.05,
            d => Holds(ToleranceInterval.Of(d.Clusters(Uneven, Math.Sqrt(0.3), Math.Sqrt(0.7))), 1)
        )
        {
            QuickTrials = 300,
        },
        new(
            "tolerance (95, 95) upper, 10 x 5, correlation 0.6",
            0.95,
            0.01,
            0.03,
            d =>
                Holds(
                    ToleranceInterval.Of(
                        d.Clusters(Draw.Equal(10, 5), Math.Sqrt(0.6), Math.Sqrt(0.4)),
                        side: ToleranceSide.Upper
                    ),
                    1
                )
        )
        {
            QuickTrials = 60,
        },
        new(
            "tolerance (95, 95) upper, 8 clusters of 1 to 30, correlation 0.3",
            0.95,
            0.02,
            0.05,
            d =>
                Holds(
                    ToleranceInterval.Of(d.Clusters(Uneven, Math.Sqrt(0.3), Math.Sqrt(0.7)), side: ToleranceSide.Upper),
                    1
                )
        )
        {
            QuickTrials = 60,
        },
        new(
            "repeatability deviation, 6 x 3",
            0.95,
            0,
            0,
            d => OneWayAnalysis.Of(d.Clusters(Draw.Equal(6, 3), 1, 0.5))!.Repeatability().Interval.Contains(0.5)
        ),
        new(
            "reproducibility deviation, 10 x 3",
            0.95,
            0.01,
            0.02,
            d =>
                OneWayAnalysis
                    .Of(d.Clusters(Draw.Equal(10, 3), 1, 1))!
                    .Reproducibility()
                    .Interval.Contains(Math.Sqrt(2))
        )
        {
            QuickTrials = 400,
        },
        new(
            "deviation between groups, 10 x 3",
            0.95,
            0.01,
            0.03,
            d => OneWayAnalysis.Of(d.Clusters(Draw.Equal(10, 3), 1, 1))!.BetweenGroups().Interval.Contains(1)
        )
        {
            QuickTrials = 400,
        },
        new(
            "gauge deviation, 10 parts x 3 operators x 2",
            0.95,
            0.02,
            0.03,
            d => Gauge(d).Gauge.Deviation.Interval.Contains(Math.Sqrt(0.25 + 0.0625 + 0.25))
        )
        {
            QuickTrials = 400,
        },
        new(
            "limit of agreement, 20 single differences",
            0.95,
            0.01,
            0.02,
            d => BlandAltman.Of(ClusteredSample.Independent(d.Normals(20))).UpperLimit.Interval.Contains(1.9599639845)
        )
        {
            QuickTrials = 400,
        },
        new(
            "limit of agreement, 12 features x 3",
            0.95,
            0.02,
            0.03,
            d =>
                BlandAltman
                    .Of(d.Clusters(Draw.Equal(12, 3), Math.Sqrt(0.5), Math.Sqrt(0.5)))
                    .UpperLimit.Interval.Contains(1.9599639845)
        )
        {
            QuickTrials = 400,
        },
        new(
            "slope measured on true, 15 single readings",
            0.95,
            0,
            0,
            d => Line(d, 15, 1, out _).Slope.Interval.Contains(1)
        ),
        new(
            "slope measured on true, CR2, 12 features x 6",
            0.95,
            0.02,
            0.02,
            d => Line(d, 12, 6, out _).Slope.Interval.Contains(1)
        ),
        new(
            "lack of fit of a true line (size), 12 features x 6",
            0.05,
            0,
            0,
            d => Line(d, 12, 6, out _).LackOfFit!.Probability < 0.05
        ),
        new(
            "identity of slope and intercept (size), 15 single readings",
            0.05,
            0,
            0,
            d => Line(d, 15, 1, out _).Identity.Probability < 0.05
        ),
        new("Deming slope, jackknife, 20 points", 0.95, 0.04, 0.02, Deming) { QuickTrials = 400 },
        new("York slope, 10 points of known uncertainty", 0.95, 0.01, 0.01, York) { QuickTrials = 400 },
        new("Grubbs (size), 15 values", 0.05, 0.005, 0.005, d => OutlierTest.Grubbs(d.Normals(15)).Flagged.Count > 0)
        {
            QuickTrials = 400,
        },
        new(
            "generalised deviate, up to 3 (size), 30 values",
            0.05,
            0.005,
            0.01,
            d => OutlierTest.GeneralisedDeviate(d.Normals(30), 3).Flagged.Count > 0
        )
        {
            QuickTrials = 400,
        },
        new(
            "exact binomial, 40 trials at 0.93",
            0.95,
            0,
            0.05,
            d =>
                BinomialInterval
                    .ClopperPearson(Enumerable.Range(0, 40).Count(_ => d.Uniform() < 0.93), 40, 0.95)
                    .Contains(0.93)
        )
        {
            QuickTrials = 400,
        },
        new("exact Poisson, 2.5 calls expected", 0.95, 0, 0.05, FalseCallRate) { QuickTrials = 400 },
        new(
            "place offset, Hotelling (size), 8 features",
            0.05,
            0,
            0,
            d =>
                LocationError
                    .Of(
                        d.Normals(8),
                        d.Normals(8),
                        new Factor("feature", Enumerable.Range(0, 8).Select(Draw.Name).ToArray())
                    )
                    .OffsetProbability < 0.05
        ),
        new("a90/95 hit/miss, likelihood ratio, 80 features", 0.95, 0.02, 0.02, d => HitMiss(d, 80, 1, ratio: true))
        {
            QuickTrials = 150,
        },
        new("a90/95 hit/miss, Wald, 80 features", 0.95, 0.02, 0.04, d => HitMiss(d, 80, 1, ratio: false))
        {
            QuickTrials = 150,
        },
        new(
            "a90/95 hit/miss, cluster-robust Wald, 80 features x 3 looks",
            0.95,
            0.03,
            0.04,
            d => HitMiss(d, 80, 3, ratio: false)
        )
        {
            QuickTrials = 150,
        },
        new(
            "a90/95 signal response, delta method, 50 features, censored",
            0.95,
            0.03,
            0.01,
            d => Signal(d, ratio: false)
        )
        {
            QuickTrials = 150,
        },
        new(
            "a90/95 signal response, likelihood ratio, 50 features, censored",
            0.95,
            0.03,
            0.01,
            d => Signal(d, ratio: true)
        )
        {
            QuickTrials = 150,
        },
        new("claimed uncertainty, ratio of scores, 15 clusters x 4", 0.95, 0.06, 0.02, Claim),
        new("expanded uncertainty, three means of 4, 6 and 9 readings", 0.95, 0.01, 0.02, Budget),
        new("effect of a 2^3 design with two runs each", 0.95, 0, 0, Effect),
    ];

    /// <summary>Cases too slow for the tests, and naive ones that show what clusters do.</summary>
    public static IReadOnlyList<CoverageCase> Slow { get; } =
    [
        new("restricted likelihood, deviation between 10 groups of 1 to 6", 0.95, 0.03, 0.03, Restricted),
        new("a90/95 signal response, calibrated, 50 features, censored", 0.95, 0.04, 0.02, Calibrated),
        new(
            "NAIVE, for comparison: t interval of all readings, 8 x 20, correlation 0.5",
            0.95,
            1,
            0,
            d =>
                Bias.OfClusterMeans(ClusteredSample.Independent(d.Clusters(Draw.Equal(8, 20), 1, 1).Values))
                    .Interval.Contains(0)
        ),
        new(
            "NAIVE, for comparison: a90/95 of 240 looks at 80 features taken as independent",
            0.95,
            1,
            0,
            d => HitMiss(d, 80, 3, ratio: true, true)
        ),
    ];

    /// <summary>Whether an interval holds 95 % of a normal population of mean 0.</summary>
    private static bool Holds(Estimate interval, double deviation)
    {
        double above = double.IsPositiveInfinity(interval.Interval.High)
            ? 1
            : Normal.CDF(0, deviation, interval.Interval.High);
        double below = double.IsNegativeInfinity(interval.Interval.Low)
            ? 0
            : Normal.CDF(0, deviation, interval.Interval.Low);
        return above - below >= 0.95;
    }

    private static GaugeStudy Gauge(Draw d)
    {
        double[] part = d.Normals(10);
        double[] op = d.Normals(3);
        double[] both = d.Normals(30);
        var values = new List<double>();
        var parts = new List<string>();
        var operators = new List<string>();
        for (int i = 0; i < 60; i++)
        {
            int p = i % 10;
            int o = i / 10 % 3;
            values.Add(part[p] + 0.5 * op[o] + 0.25 * both[p * 3 + o] + 0.5 * d.Normal());
            parts.Add(Draw.Name(p));
            operators.Add(Draw.Name(o));
        }
        return GaugeStudy.Of(values.ToArray(), new Factor("part", parts), new Factor("operator", operators));
    }

    private static MeasuredOnTrue Line(Draw d, int features, int cells, out Refusal? refusal)
    {
        var seen = new List<Observation>();
        for (int g = 0; g < features; g++)
        {
            double truth = 4 + 2 * (g % 4);
            double shift = cells > 1 ? d.Normal() : 0;
            for (int i = 0; i < cells; i++)
                seen.Add(new Observation(truth + shift + d.Normal(), truth, Draw.Name(g)));
        }
        return MeasuredOnTrue.Of(seen, out refusal)!;
    }

    private static bool? Deming(Draw d)
    {
        Observation[] seen = Enumerable
            .Range(0, 20)
            .Select(i => new Observation(i * 0.5 + 0.4 * d.Normal(), i * 0.5 + 0.4 * d.Normal(), Draw.Name(i)))
            .ToArray();
        return ErrorsInVariables.Deming(seen, 1, out _)?.Slope.Interval.Contains(1);
    }

    private static bool? York(Draw d)
    {
        double[] u = Enumerable.Range(0, 10).Select(i => 0.1 + 0.03 * i).ToArray();
        double[] x = Enumerable.Range(0, 10).Select(i => i + u[i] * d.Normal()).ToArray();
        double[] y = Enumerable.Range(0, 10).Select(i => i + u[9 - i] * d.Normal()).ToArray();
        return ErrorsInVariables.Weighted(x, u, y, u.Reverse().ToArray(), out _)?.Slope.Interval.Contains(1);
    }

    private static bool? FalseCallRate(Draw d)
    {
        // Poisson by Knuth's product of uniforms, five units of 0.5 m² at one call per square metre.
        var counts = new int[5];
        for (int k = 0; k < 5; k++)
        for (double product = d.Uniform(); product > Math.Exp(-0.5); product *= d.Uniform())
            counts[k]++;
        Estimate rate = FalseCalls.Of(counts, [0.5, 0.5, 0.5, 0.5, 0.5], dispersionLevel: 0).PoissonRate;
        return rate.Interval.Contains(1);
    }

    private static bool? HitMiss(Draw d, int features, int looks, bool ratio, bool asIndependent = false)
    {
        // a50 = 1, a90 = 2. Looks of one feature share one uniform number with chance 0.6: the curve of a single look stays as it is.
        double slope = Math.Log(9) / Math.Log(2);
        var sizes = new List<double>();
        var hits = new List<bool>();
        var names = new List<string>();
        for (int g = 0; g < features; g++)
        {
            double size = 0.4 * Math.Pow(12, g / (features - 1.0));
            double shared = d.Uniform();
            for (int l = 0; l < looks; l++)
            {
                sizes.Add(size);
                names.Add(Draw.Name(g));
                hits.Add(
                    (looks > 1 && d.Uniform() < 0.6 ? shared : d.Uniform())
                        < 1 / (1 + Math.Exp(-slope * Math.Log(size)))
                );
            }
        }
        Factor? feature = looks > 1 && !asIndependent ? new Factor("feature", names) : null;
        SizeLimit? limit = HitMissModel.Fit(sizes.ToArray(), hits.ToArray(), feature, null, out _)?.At(0.9);
        Estimate? made = ratio ? limit?.LikelihoodRatio : limit?.Wald;
        // A limit that does not exist is beyond every size: it covers.
        return made == null ? null : made.Refusal is { Reason: RefusalReason.Unbounded } || made.Interval.High >= 2;
    }

    private static bool? Signal(Draw d, bool ratio)
    {
        double[] size = Enumerable.Range(0, 50).Select(i => 0.2 * Math.Pow(20, i / 49.0)).ToArray();
        double[] signal = size.Select(a => Math.Exp(1.2 + 0.9 * Math.Log(a) + 0.35 * d.Normal())).ToArray();
        var settings = new SignalResponseSettings
        {
            LeftLimit = 0.9,
            RightLimit = 9,
            DecisionLevel = 2,
        };
        SizeLimit? limit = SignalResponseModel.Fit(size, signal, null, settings, out _)?.At(0.9);
        double truth = Math.Exp((Math.Log(2) + 1.2815515655446 * 0.35 - 1.2) / 0.9);
        return (ratio ? limit?.LikelihoodRatio : limit?.Wald)?.Interval.High >= truth;
    }

    private static bool? Calibrated(Draw d)
    {
        double[] size = Enumerable.Range(0, 50).Select(i => 0.2 * Math.Pow(20, i / 49.0)).ToArray();
        double[] signal = size.Select(a => Math.Exp(1.2 + 0.9 * Math.Log(a) + 0.35 * d.Normal())).ToArray();
        var settings = new SignalResponseSettings
        {
            LeftLimit = 0.9,
            RightLimit = 9,
            DecisionLevel = 2,
        };
        double truth = Math.Exp((Math.Log(2) + 1.2815515655446 * 0.35 - 1.2) / 0.9);
        return SignalResponseModel
                .Fit(size, signal, null, settings, out _)
                ?.Calibrated(0.9, (ulong)(1e9 * d.Uniform()), 199)
                .Interval.High >= truth;
    }

    private static bool? Claim(Draw d)
    {
        var seen = new List<Observation>();
        for (int g = 0; g < 15; g++)
        {
            double shared = d.Normal();
            for (int i = 0; i < 4; i++)
                seen.Add(new Observation(0.6 * shared + 0.8 * d.Normal(), 0, Draw.Name(g)));
        }
        return ClaimedUncertainty.Of(seen, Enumerable.Repeat(1.0, seen.Count).ToArray()).Ratio.Interval.Contains(1);
    }

    private static bool? Budget(Draw d)
    {
        UncertaintyInput Of(string name, int readings, double scale) =>
            UncertaintyInput.FromReadings(name, d.Normals(readings).Select(z => scale * z).ToArray());
        UncertaintyInput[] inputs = [Of("a", 4, 1), Of("b", 6, 1.5), Of("c", 9, 2)];
        return MeasurementBudget.Of(inputs, x => x[0] + x[1] + x[2], null, [1, 1, 1]).Expanded.Interval.Contains(0);
    }

    private static bool? Effect(Draw d)
    {
        Factor[] factors = Enumerable
            .Range(0, 3)
            .Select(k => new Factor(
                Draw.Name(k),
                Enumerable.Range(0, 16).Select(r => (r >> k & 1) == 0 ? "low" : "high").ToArray()
            ))
            .ToArray();
        double[] values = Enumerable.Range(0, 16).Select(r => (r & 1) * 1.5 + d.Normal()).ToArray();
        return TwoLevelDesign.Of(values, factors, out _)!.Effects[0].Effect.Interval.Contains(1.5);
    }

    private static bool? Restricted(Draw d)
    {
        int[] sizes = [1, 2, 3, 4, 5, 6, 1, 2, 4, 6];
        ClusteredSample sample = d.Clusters(sizes, 1, 1);
        var group = new Factor("group", sample.Clusters.ToArray().Select(Draw.Name).ToArray());
        return RestrictedLikelihood.Of(sample.Values, [group]).Components[0].Deviation.Interval.Contains(1);
    }
}
