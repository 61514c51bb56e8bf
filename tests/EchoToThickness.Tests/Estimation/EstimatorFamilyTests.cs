using EchoToThickness.Estimation;
using EchoToThickness.Procedures;
using EchoToThickness.Tests.Engine;
using EchoToThickness.Uncertainty;
using Xunit;

namespace EchoToThickness.Tests.Estimation;

public sealed class EstimatorFamilyTests
{
    private const double Period = SyntheticStack.SampleRateHz / SyntheticStack.FrequencyHz;

    public static TheoryData<EstimationMethod> All => [.. EstimatorFamily.Methods];

    public static TheoryData<EstimationMethod> ForOverlap =>
        [
            EstimationMethod.Deconvolution,
            EstimationMethod.Sparse,
            EstimationMethod.Parametric,
            EstimationMethod.JointFit,
        ];

    /// <summary>
    /// Noiseless plate, every sub-sample place: the error is the method's bias. Parabolas: twice the largest bias on a cosine (interface and wall
    /// may err to opposite sides). Zero crossing and flank: bounds of their remarks. Repetition methods: an echo cut by the end of the record (spacing
    /// 212 here) moves them by up to a tenth of a sample, 3 um; deconvolution: order of its model, a fifth. The rest: hundredths of a sample from what tails and cut echoes leave.
    /// </summary>
    [Theory]
    [InlineData(EstimationMethod.Flank, 0.03)]
    [InlineData(EstimationMethod.Peak, 0.0066)]
    [InlineData(EstimationMethod.ZeroCrossing, 0.024)]
    [InlineData(EstimationMethod.EnvelopePeak, 0.004)]
    [InlineData(EstimationMethod.CrossCorrelation, 0.004)]
    [InlineData(EstimationMethod.MatchedFilter, 0.004)]
    [InlineData(EstimationMethod.Autocorrelation, 0.1)]
    [InlineData(EstimationMethod.Cepstrum, 0.1)]
    [InlineData(EstimationMethod.Resonance, 0.1)]
    [InlineData(EstimationMethod.Deconvolution, 0.2)]
    [InlineData(EstimationMethod.Sparse, 0.004)]
    [InlineData(EstimationMethod.Parametric, 0.001)]
    [InlineData(EstimationMethod.JointFit, 0.002)]
    public void Estimate_NoiselessPlate_ErrsByItsBiasOnly(EstimationMethod method, double largestSamples)
    {
        var bench = new PlateBench(new EstimationSettings { Method = method });
        for (int k = 0; k < 20; k++)
        {
            double spacing = 200 + 0.05 * k + 3 * k;
            // A noise of 80 dB under the wall keeps the statistics finite; the envelope methods move by under 0.002 sample (3 x 6.6 x 0.00008).
            float[] aScan = PlateBench.Noisy(PlateBench.Plate(spacing, PlateBench.Front + 0.031 * k), 80, k);
            SpacingEstimate estimate = bench.Measure(aScan);
            Assert.True(estimate.Found, $"{method}: nothing found at {spacing}.");
            Assert.True(
                Math.Abs(estimate.SpacingSamples - spacing) <= largestSamples + 0.002,
                $"{method}: {estimate.SpacingSamples} for {spacing}."
            );
        }
    }

    [Theory]
    [MemberData(nameof(All))]
    public void Estimate_RecordInverted_ReadsTheSame(EstimationMethod method)
    {
        var bench = new PlateBench(new EstimationSettings { Method = method });
        float[] aScan = PlateBench.Noisy(PlateBench.Plate(231.4), 35, 5);
        SpacingEstimate plain = bench.Measure(aScan);
        SpacingEstimate turned = bench.Measure(aScan.Select(v => -v).ToArray());
        Assert.Equal(plain.SpacingSamples, turned.SpacingSamples, 1e-6);
    }

    [Theory]
    [MemberData(nameof(All))]
    public void Estimate_AmplitudeScaled_ReadsTheSame(EstimationMethod method)
    {
        var bench = new PlateBench(new EstimationSettings { Method = method });
        float[] aScan = PlateBench.Noisy(PlateBench.Plate(180.3), 35, 6);
        SpacingEstimate plain = bench.Measure(aScan);
        // A power of two changes no mantissa.
        SpacingEstimate scaled = bench.Measure(aScan.Select(v => 0.25f * v).ToArray());
        Assert.Equal(plain.SpacingSamples, scaled.SpacingSamples, 1e-6);
        Assert.Equal(plain.SignalRatio, scaled.SignalRatio, 1e-3 * plain.SignalRatio);
    }

    [Theory]
    [MemberData(nameof(All))]
    public void Estimate_AfterAnotherRecord_GivesTheSameBits(EstimationMethod method)
    {
        float[] aScan = PlateBench.Noisy(PlateBench.Plate(222.6), 25, 12);
        SpacingEstimate fresh = new PlateBench(new EstimationSettings { Method = method }).Measure(aScan);
        var used = new PlateBench(new EstimationSettings { Method = method });
        used.Measure(PlateBench.Noisy(PlateBench.Plate(71.3), 30, 13));
        Assert.Equal(fresh, used.Measure(aScan));
    }

    /// <summary>1.5 to 3 mm of steel at 7 MHz and 30 dB: a wall off by a tenth is gross. 40 records a method; the study has 10,000.</summary>
    [Theory]
    [MemberData(nameof(ForOverlap))]
    public void Estimate_ThinWallAtThirtyDecibels_IsNeverGross(EstimationMethod method)
    {
        var bench = new PlateBench(new EstimationSettings { Method = method });
        for (int k = 0; k < 40; k++)
        {
            double wall = 1.5e-3 + 1.5e-3 * k / 39;
            double spacing = wall / PlateBench.MetresPerSample;
            SpacingEstimate estimate = bench.Measure(PlateBench.Noisy(PlateBench.Plate(spacing), 30, 100 + k));
            Assert.True(estimate.Found);
            Assert.True(
                Math.Abs(estimate.SpacingSamples / spacing - 1) < 0.1,
                $"{method} at {1e3 * wall:0.00} mm: {estimate.SpacingSamples} for {spacing}."
            );
        }
    }

    /// <summary>
    /// Kay 1993: maximum likelihood reaches the bound. 400 records: the ratio has a standard deviation of 1/sqrt(800) = 3.5 %; asked for within
    /// three of them of 1. The stated bound of each record must say the same, and twice it hold 95 % (standard deviation 1.1 %).
    /// </summary>
    [Theory]
    [InlineData(EchoReference.Interface)]
    [InlineData(EchoReference.Pulse)]
    public void JointFit_TwentyDecibels_IsOnTheCramerRaoBound(EchoReference reference)
    {
        var bench = new PlateBench(
            new EstimationSettings { Method = EstimationMethod.JointFit, Reference = reference }
        );
        const int records = 400;
        double squares = 0;
        double own = 0;
        int within = 0;
        for (int k = 0; k < records; k++)
        {
            double spacing = 203 + (k % 20) * 0.05;
            SpacingEstimate estimate = bench.Measure(PlateBench.Noisy(PlateBench.Plate(spacing), 20, 1000 + k));
            double error = estimate.SpacingSamples - spacing;
            squares += error * error;
            own += error * error / (estimate.BoundSamples * estimate.BoundSamples);
            within += Math.Abs(error) < 2 * estimate.BoundSamples ? 1 : 0;
        }
        double bound = SyntheticStack.SampleRateHz * Bound(203.5, 20);
        Assert.InRange(Math.Sqrt(squares / records) / bound, 0.895, 1.105);
        Assert.InRange(Math.Sqrt(own / records), 0.895, 1.105);
        Assert.InRange((double)within / records, 0.92, 0.985);
    }

    [Fact]
    public void MatchedFilter_OneWallAtThirtyDecibels_IsOnTheBoundOfThePair()
    {
        var bench = new PlateBench(new EstimationSettings { Method = EstimationMethod.MatchedFilter });
        const int records = 400;
        double squares = 0;
        var pulse = new GaussianPulse(SyntheticStack.FrequencyHz, 0.6);
        for (int k = 0; k < records; k++)
        {
            double spacing = 450 + (k % 20) * 0.05;
            SpacingEstimate estimate = bench.Measure(
                PlateBench.Noisy(PlateBench.Plate(spacing), 30, 4000 + k),
                44,
                520
            );
            squares += Math.Pow(estimate.SpacingSamples - spacing, 2);
        }
        double noise = PlateBench.Wall * Math.Pow(10, -1.5);
        double bound =
            SyntheticStack.SampleRateHz
            * CramerRao.SeparationSeconds(
                pulse,
                PlateBench.Interface,
                PlateBench.Wall,
                4.5e-6,
                noise,
                SyntheticStack.SampleRateHz,
                false
            );
        Assert.InRange(Math.Sqrt(squares / records) / bound, 0.895, 1.105);
    }

    /// <summary>Nothing behind the interface: 200 records of noise, in which a 5-fold statistic is a wrong wall. Three are allowed (1.5 %).</summary>
    [Theory]
    [InlineData(EstimationMethod.MatchedFilter)]
    [InlineData(EstimationMethod.Sparse)]
    [InlineData(EstimationMethod.JointFit)]
    public void Estimate_NoWall_StaysUnderTheUsualLimit(EstimationMethod method)
    {
        var bench = new PlateBench(new EstimationSettings { Method = method });
        int wrong = 0;
        for (int k = 0; k < 200; k++)
        {
            var aScan = new float[PlateBench.Samples];
            SyntheticStack.AddPulse(aScan, PlateBench.Front, PlateBench.Interface);
            SpacingEstimate estimate = bench.Measure(PlateBench.Noisy(aScan, 15, 9000 + k));
            wrong += estimate.Found && estimate.SignalRatio >= new EstimationSettings().WeakestRatio ? 1 : 0;
        }
        Assert.InRange(wrong, 0, 3);
    }

    [Theory]
    [MemberData(nameof(All))]
    public void Estimate_RangeBehindTheRecord_FindsNothing(EstimationMethod method)
    {
        var bench = new PlateBench(new EstimationSettings { Method = method });
        SpacingEstimate estimate = bench.Measure(PlateBench.Noisy(PlateBench.Plate(200), 30, 3), 900, 1200);
        Assert.False(estimate.Found);
    }

    [Theory]
    [MemberData(nameof(All))]
    public void Estimate_AfterTheFirst_AllocatesNothing(EstimationMethod method)
    {
        var bench = new PlateBench(new EstimationSettings { Method = method });
        float[] aScan = PlateBench.Noisy(PlateBench.Plate(231.4), 30, 5);
        bench.Measure(aScan);
        Assert.Equal(0, Allocation.Of(() => bench.Measure(aScan)));
    }

    /// <summary>
    /// A Gaussian spectrum times exp(-q (w - w0) / w0) is the same Gaussian, moved down by q s^2 / w0: echo n is a Gabor pulse of a lower frequency. The
    /// fit that knows attenuation finds q and the wall; echoes of copies cannot fit it.
    /// </summary>
    [Fact]
    public void JointFit_EchoesLosingHighFrequencies_FindsWallAndStaysUnbiased()
    {
        const double spacing = 170.4;
        const double loss = 0.12;
        double sigma = PlateBench.Scale.PulseSigma;
        double omega = 2 * Math.PI / Period;
        var aScan = new float[PlateBench.Samples];
        SyntheticStack.AddPulse(aScan, PlateBench.Front, PlateBench.Interface);
        for (int n = 1; PlateBench.Front + n * spacing < PlateBench.Samples - 30; n++)
        {
            double lower = omega - n * loss / (sigma * sigma) / omega;
            double amplitude = 0.08 * Math.Pow(0.85, n - 1) * Math.Exp(Math.Pow(n * loss / sigma / omega, 2) / 2);
            for (int i = 0; i < aScan.Length; i++)
            {
                double u = i - PlateBench.Front - n * spacing;
                if (Math.Abs(u) < 6 * sigma)
                    aScan[i] -= (float)(amplitude * Math.Exp(-u * u / (2 * sigma * sigma)) * Math.Cos(lower * u));
            }
        }
        PlateBench.Noisy(aScan, 50, 1);
        SpacingEstimate plain = new PlateBench(new EstimationSettings { Method = EstimationMethod.JointFit }).Measure(
            aScan
        );
        SpacingEstimate fitted = new PlateBench(
            new EstimationSettings { Method = EstimationMethod.JointFit, FitAttenuation = true }
        ).Measure(aScan);
        // The residual of copies inflates their stated uncertainty; the fit that fits is down at the noise.
        Assert.True(fitted.BoundSamples < 0.3 * plain.BoundSamples);
        Assert.Equal(spacing, fitted.SpacingSamples, 5 * fitted.BoundSamples);
    }

    [Fact]
    public void JointFit_WallsTurnedInPhase_NeedsTheFittedPhase()
    {
        const double turn = 0.6;
        const double spacing = 210.2;
        var aScan = new float[PlateBench.Samples];
        SyntheticStack.AddPulse(aScan, PlateBench.Front, PlateBench.Interface);
        double sigma = PlateBench.Scale.PulseSigma;
        for (int n = 1; n <= 3; n++)
        for (int i = 0; i < aScan.Length; i++)
        {
            double u = i - PlateBench.Front - n * spacing;
            aScan[i] -= (float)(
                0.08
                * Math.Pow(0.85, n)
                * Math.Exp(-u * u / (2 * sigma * sigma))
                * Math.Cos(2 * Math.PI * u / Period + turn)
            );
        }
        PlateBench.Noisy(aScan, 40, 1);
        SpacingEstimate plain = new PlateBench(new EstimationSettings { Method = EstimationMethod.JointFit }).Measure(
            aScan
        );
        SpacingEstimate fitted = new PlateBench(
            new EstimationSettings { Method = EstimationMethod.JointFit, FitPhase = true }
        ).Measure(aScan);
        Assert.True(Math.Abs(plain.SpacingSamples - spacing) > 0.2);
        Assert.Equal(spacing, fitted.SpacingSamples, 5 * fitted.BoundSamples);
    }

    [Fact]
    public void JointFit_CalibrationEcho_ReadsAsTheModelPulse()
    {
        var echo = new float[121];
        SyntheticStack.AddPulse(echo, 60, 0.4);
        float[] aScan = PlateBench.Noisy(PlateBench.Plate(187.65), 30, 8);
        SpacingEstimate calibrated = new PlateBench(
            new EstimationSettings
            {
                Method = EstimationMethod.JointFit,
                Reference = EchoReference.Calibration,
                CalibrationEcho = echo.Select(v => (double)v).ToArray(),
            }
        ).Measure(aScan);
        SpacingEstimate model = new PlateBench(
            new EstimationSettings { Method = EstimationMethod.JointFit, Reference = EchoReference.Pulse }
        ).Measure(aScan);
        Assert.Equal(model.SpacingSamples, calibrated.SpacingSamples, 1e-5);
    }

    private static double Bound(double spacing, double decibels) =>
        CramerRao.TrainSpacingSeconds(
            new GaussianPulse(SyntheticStack.FrequencyHz, 0.6),
            PlateBench.Interface,
            PlateBench.Wall,
            PlateBench.Decay,
            spacing / SyntheticStack.SampleRateHz,
            PlateBench.Front / SyntheticStack.SampleRateHz,
            (PlateBench.Samples - 1 - PlateBench.Front) / SyntheticStack.SampleRateHz,
            PlateBench.Wall * Math.Pow(10, -decibels / 20),
            SyntheticStack.SampleRateHz
        );
}
