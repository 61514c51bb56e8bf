using EchoToThickness.Tests.Statistics;
using EchoToThickness.Validation;
using EchoToThickness.Validation.Detection;
using Xunit;

namespace EchoToThickness.Tests.Validation;

public sealed class DetectionTests
{
    private static readonly double[] Sizes = StatisticsData.Column("pod_hitmiss_synthetic", 0);

    private static readonly bool[] Hits = StatisticsData
        .Column("pod_hitmiss_synthetic", 1)
        .Select(h => h == 1)
        .ToArray();

    [Fact]
    public void HitMiss_SyntheticSet_EqualsR()
    {
        HitMissModel model = HitMissModel.Fit(Sizes, Hits, null, null, out _)!;
        ReferenceData.Close(CheckRows.Expected("POD-hm-b0"), model.Intercept, 1e-6);
        ReferenceData.Close(CheckRows.Expected("POD-hm-b1"), model.Slope, 1e-6);
        ReferenceData.Close(CheckRows.Expected("POD-hm-se0"), model.InterceptError, 1e-5);
        ReferenceData.Close(CheckRows.Expected("POD-hm-se1"), model.SlopeError, 1e-5);
        ReferenceData.Close(CheckRows.Expected("POD-hm-cov"), model.InterceptSlopeCovariance, 1e-5);
        ReferenceData.Close(CheckRows.Expected("POD-hm-dev"), model.Deviance, 1e-7);
        ReferenceData.Close(CheckRows.Expected("POD-hm-a50"), model.At(0.5).Size, 1e-6);
        SizeLimit a90 = model.At(0.9);
        ReferenceData.Close(CheckRows.Expected("POD-hm-a90"), a90.Size, 1e-6);
        ReferenceData.Close(CheckRows.Expected("POD-hm-a9095-wald"), a90.Wald.Interval.High, 1e-6);
        ReferenceData.Close(CheckRows.Expected("POD-hm-a9095-lr"), a90.LikelihoodRatio.Interval.High, 1e-5);
        HitMissModel wider = HitMissModel.Fit(Sizes, Hits, null, new HitMissSettings { Confidence = 0.975 }, out _)!;
        ReferenceData.Close(CheckRows.Expected("POD-hm-a9095-lr95"), wider.At(0.9).LikelihoodRatio.Interval.High, 1e-5);
        // Band and limit are one curve: the lower edge at a90/95 is 0.9.
        Assert.Equal(0.9, model.Band(a90.LikelihoodRatio.Interval.High).LikelihoodRatio.Low, 1e-6);
        Assert.Equal(0.9, model.Band(a90.Wald.Interval.High).Wald.Low, 1e-9);
        HitMissModel probit = HitMissModel.Fit(
            Sizes,
            Hits,
            null,
            new HitMissSettings { Link = DetectionLink.Probit },
            out _
        )!;
        ReferenceData.Close(CheckRows.Expected("POD-hm-probit-b0"), probit.Intercept, 1e-6);
        ReferenceData.Close(CheckRows.Expected("POD-hm-probit-b1"), probit.Slope, 1e-6);
    }

    [Fact]
    public void HitMiss_FewerFeatures_RefusesTheLimitWithTheNumber()
    {
        HitMissModel model = HitMissModel.Fit(Sizes.AsSpan(1), Hits.AsSpan(1), null, null, out _)!;
        Refusal refusal = model.At(0.9).Wald.Refusal!;
        Assert.Equal((RefusalReason.TooFewFeatures, 59.0, 60.0), (refusal.Reason, refusal.Found, refusal.Needed));
        Assert.Contains("59 features", refusal.Message, StringComparison.Ordinal);
        Assert.True(model.At(0.9).Size > 0);
        Assert.NotNull(model.Bootstrap(0.9, 1).Refusal);
        // Looks do not make features: 60 features seen three times are still 60, and 30 seen four times are 30.
        string[] names = Enumerable.Range(0, 60).Select(i => $"{i / 2}").ToArray();
        HitMissModel twice = HitMissModel.Fit(Sizes, Hits, new Factor("feature", names), null, out _)!;
        Assert.Equal(30, twice.At(0.9).Wald.Refusal!.Found);
    }

    [Fact]
    public void HitMiss_Separation_IsFoundAndFirthIsFinite()
    {
        var reference = ReferenceData.Of("firth");
        double[] sizes = reference.Numbers("size");
        bool[] hits = reference.Numbers("hit").Select(h => h == 1).ToArray();
        Assert.Null(HitMissModel.Fit(sizes, hits, null, null, out Refusal? refusal));
        Assert.Equal(RefusalReason.Separation, refusal!.Reason);
        HitMissModel model = HitMissModel.Fit(
            sizes,
            hits,
            null,
            new HitMissSettings { IsPenalised = true },
            out refusal
        )!;
        Assert.Null(refusal);
        ReferenceData.Close(reference.Numbers("b")[0], model.Intercept, 1e-6);
        ReferenceData.Close(reference.Numbers("b")[1], model.Slope, 1e-6);
        Assert.Null(HitMissModel.Fit([1, 2, 3], [true, true, true], null, null, out refusal));
        Assert.Equal(RefusalReason.Separation, refusal!.Reason);
        Assert.Null(HitMissModel.Fit([2, 2, 2], [true, false, true], null, null, out refusal));
        Assert.Equal(RefusalReason.NoSpread, refusal!.Reason);
        // One tie between a hit and a miss at the boundary is quasi-separation: still no maximum.
        Assert.Null(HitMissModel.Fit([1, 2, 2, 3], [false, false, true, true], null, null, out refusal));
        Assert.Equal(RefusalReason.Separation, refusal!.Reason);
    }

    [Fact]
    public void HitMiss_RepeatedLooks_SandwichOverFeatures()
    {
        var reference = ReferenceData.Of("robust_logit");
        bool[] hits = reference.Numbers("hit").Select(h => h == 1).ToArray();
        var features = new Factor("feature", reference.Names("feature"));
        HitMissModel model = HitMissModel.Fit(reference.Numbers("size"), hits, features, null, out _)!;
        ReferenceData.Close(reference.Numbers("b")[0], model.Intercept, 1e-8);
        ReferenceData.Close(reference.Numbers("b")[1], model.Slope, 1e-8);
        ReferenceData.Close(reference.Numbers("se")[0], model.InterceptError, 1e-7);
        ReferenceData.Close(reference.Numbers("se")[1], model.SlopeError, 1e-7);
        ReferenceData.Close(reference.Number("cov"), model.InterceptSlopeCovariance, 1e-7);
        SizeLimit limit = model.At(0.9);
        Assert.Equal(RefusalReason.RepeatedLooks, limit.LikelihoodRatio.Refusal!.Reason);
        Assert.Equal((70, 210), (limit.Wald.Units, limit.Wald.Observations));
        // Resampling whole features agrees with the robust limit to the scatter of either (15 %).
        Estimate resampled = model.Bootstrap(0.9, 7, 400);
        ReferenceData.Close(limit.Wald.Interval.High, resampled.Interval.High, 0.15);
    }

    [Fact]
    public void HitMiss_FlatOrFalling_IsRefused()
    {
        bool[] turned = Hits.Select(h => !h).ToArray();
        HitMissModel falling = HitMissModel.Fit(Sizes, turned, null, null, out _)!;
        Assert.Equal(RefusalReason.SlopeNotPositive, falling.At(0.9).Wald.Refusal!.Reason);
        double[] sizes = Enumerable.Range(0, 64).Select(i => 1 + i / 64.0).ToArray();
        bool[] flat = Enumerable.Range(0, 64).Select(i => i % 4 != 0).ToArray();
        flat[60] = true;
        HitMissModel model = HitMissModel.Fit(sizes, flat, null, null, out _)!;
        Assert.True(model.Slope > 0);
        Assert.Equal(RefusalReason.Unbounded, model.At(0.95).Wald.Refusal!.Reason);
        Assert.Equal(RefusalReason.Unbounded, model.At(0.95).LikelihoodRatio.Refusal!.Reason);
    }

    [Fact]
    public void SignalResponse_SyntheticSet_EqualsR()
    {
        double[] size = StatisticsData.Column("pod_ahat_synthetic", 0);
        double[] signal = StatisticsData.Column("pod_ahat_synthetic", 1);
        var settings = new SignalResponseSettings
        {
            LeftLimit = 0.9,
            RightLimit = 9.0,
            DecisionLevel = 2.0,
        };
        SignalResponseModel model = SignalResponseModel.Fit(size, signal, null, settings, out _)!;
        ReferenceData.Close(CheckRows.Expected("POD-ah-b0"), model.Intercept, 1e-6);
        ReferenceData.Close(CheckRows.Expected("POD-ah-b1"), model.Slope, 1e-6);
        ReferenceData.Close(CheckRows.Expected("POD-ah-tau"), model.Deviation, 1e-6);
        Assert.Equal(CheckRows.Expected("POD-ah-ll"), model.LogLikelihood, 1e-6);
        ReferenceData.Close(CheckRows.Expected("POD-ah-a50"), model.At(0.5).Size, 1e-6);
        SizeLimit a90 = model.At(0.9);
        ReferenceData.Close(CheckRows.Expected("POD-ah-a90"), a90.Size, 1e-6);
        ReferenceData.Close(CheckRows.Expected("POD-ah-a9095"), a90.Wald.Interval.High, 1e-5);
        // No outside value for the ratio limit: it lies within a few percent of the delta method, and on the band's lower edge.
        ReferenceData.Close(a90.Wald.Interval.High, a90.LikelihoodRatio.Interval.High, 0.05);
        Assert.Equal(0.9, model.Band(a90.LikelihoodRatio.Interval.High).LikelihoodRatio.Low, 1e-6);
        // The calibrated limit lies beyond the delta method's, which holds the truth 89 times in 100 at 50 features (see the table in docs).
        Estimate calibrated = model.Calibrated(0.9, 5, 199);
        Assert.InRange(calibrated.Interval.High, a90.Wald.Interval.High, 1.1 * a90.Wald.Interval.High);
        Assert.Equal(calibrated, model.Calibrated(0.9, 5, 199));
        Refusal refusal = SignalResponseModel
            .Fit(size.AsSpan(0, 39), signal.AsSpan(0, 39), null, settings, out _)!
            .At(0.9)
            .Wald.Refusal!;
        Assert.Equal((RefusalReason.TooFewFeatures, 39.0, 40.0), (refusal.Reason, refusal.Found, refusal.Needed));
    }

    [Fact]
    public void FalseCalls_ExactPoisson_ClosedForms()
    {
        // No call in 2 m²: upper end -ln(0.025) / 2 by P(0) = exp(-rate area).
        FalseCalls none = FalseCalls.Of([0, 0], [1.5, 0.5]);
        ReferenceData.Close(-Math.Log(0.025) / 2, none.PoissonRate.Interval.High, 1e-9);
        Assert.Equal(0, none.PoissonRate.Interval.Low);
        // 3 calls: ends solve sum of Poisson terms = 0.025 (Garwood's table: 0.6187 and 8.7673, from memory).
        FalseCalls three = FalseCalls.Of([1, 0, 1, 0, 1], [0.2, 0.2, 0.2, 0.2, 0.2]);
        Assert.Equal(0.6187, three.PoissonRate.Interval.Low, 1e-4);
        Assert.Equal(8.7673, three.PoissonRate.Interval.High, 1e-4);
        FalseCalls crowded = FalseCalls.Of([12, 0, 0, 0, 0, 0], [1, 1, 1, 1, 1, 1]);
        Assert.Equal(RefusalReason.RepeatedLooks, crowded.PoissonRate.Refusal!.Reason);
        Assert.Null(crowded.RatioRate.Refusal);
        Assert.Equal(2, crowded.RatioRate.Value, 1e-12);
    }
}
