using EchoToThickness.Procedures;
using EchoToThickness.Stacks;
using EchoToThickness.Uncertainty;
using EchoToThickness.Velocity;
using Xunit;

namespace EchoToThickness.Tests.Uncertainty;

public sealed class UncertaintyModelTests
{
    [Fact]
    public void CalibrationMetres_TextbookBudget_IsTheRow()
    {
        // TR-GUM-*: d = V (t - t0)/2, u(V) = 15 m/s, u(t) = 2 ns, u(t0) = 3 ns.
        ResolvedVelocity velocity = new()
        {
            MetresPerSecond = 5920,
            UncertaintyMetresPerSecond = 15,
            ZeroUncertaintySeconds = 3e-9,
            Source = "test",
        };
        double wall = velocity.InterfaceToWallMetres(3.378378378e-6);
        Assert.Equal(CheckRows.Expected("TR-GUM-d"), 1e3 * wall, 1e-8);
        UncertaintyModel model = Model(velocity);
        double noise = model.SpacingMetres(2e-9, 0);
        double combined = UncertaintyModel.CombinedMetres(noise, model.CalibrationMetres(wall, usesInterface: true));
        Assert.Equal(CheckRows.Expected("TR-GUM-uc"), 1e3 * combined, 1e-10);
        Assert.Equal(CheckRows.Expected("TR-GUM-U"), 2e3 * combined, 2e-10);
        double byVelocity = model.CalibrationMetres(wall, usesInterface: false);
        Assert.Equal(CheckRows.Expected("TR-GUM-share"), 100 * Math.Pow(byVelocity / combined, 2), 1e-6);
        Assert.Equal(wall / 5920 * 15, byVelocity, 1e-15);
    }

    [Fact]
    public void For_WhiteNoise_IsTheCramerRaoBoundOfThePulse()
    {
        UncertaintyModel model = Model(Steel());
        double exact = CramerRao.DelaySeconds(new GaussianPulse(7e6, 0.6), 1, 0.1, 100e6);
        // Discrete and continuous form agree to 1e-6 when the pulse is well sampled (row TD-crlb-cont).
        Assert.Equal(exact, model.BoundSeconds(10), 1e-6 * exact);
        Assert.Equal(
            CramerRao.ThicknessMetres(Math.Sqrt(2) * exact, 5920),
            model.NoiseMetres(10, 10),
            1e-5 * exact * 5920
        );
        Assert.Equal(model.NoiseMetres(10, 10) / 2, model.NoiseMetres(10, 10, roundTrips: 2), 1e-15);
        Assert.Equal(model.NoiseMetres(10, 10) / Math.Sqrt(0.5), model.NoiseMetres(10, 10, efficiency: 0.5), 1e-15);
        Assert.Equal(model.NoiseMetres(10, 1e12), model.SpacingMetres(0, model.BoundSeconds(10)), 1e-12);
    }

    /// <summary>
    /// 8.6 mm of steel at 7 MHz and 60 %, interface amplitude 1, back wall 0.35, ratio 20 dB on the back wall: 2.5 µm at the bound;
    /// velocity 0.5 %: 43 µm; 5 degC: 5.8 µm (worked example computed apart, two digits).
    /// </summary>
    [Fact]
    public void For_WorkedExample_GivesItsLines()
    {
        ResolvedVelocity steel = Steel(temperatureUncertaintyKelvin: 5);
        UncertaintyModel model = Model(steel);
        Assert.Equal(2.5, 1e6 * model.NoiseMetres(10 / 0.35, 10), 0.05);
        Assert.Equal(43, 1e6 * 8.6e-3 / 5920 * steel.ReferenceUncertaintyMetresPerSecond, 0.05);
        Assert.Equal(5.8, 1e6 * 8.6e-3 / 5920 * steel.TemperatureUncertaintyMetresPerSecond, 0.05);
        Assert.True(1e6 * model.SamplingMetres(PickRule.Peak) < 11);
    }

    [Fact]
    public void For_PassBand_NarrowsTheNoiseAndItsIndependentSamples()
    {
        UncertaintyModel white = Model(Steel());
        UncertaintyModel filtered = Model(Steel(), "[conditioning]\nband_low = \"4 MHz\"\nband_high = \"10 MHz\"");
        Assert.Equal(6e6, filtered.NoiseBandwidthHz, 1e-6);
        Assert.Equal(white.EffectiveSamples * 6 / 50, filtered.EffectiveSamples, 1e-9);
        // The same white noise is lower after the filter by sqrt(6/50): the bound is the same.
        Assert.Equal(white.BoundSeconds(10), filtered.BoundSeconds(10 * Math.Sqrt(50 / 6.0)), 1e-15);
    }

    [Fact]
    public void For_UnknownFrequency_SaysThatOneWasAssumed()
    {
        StackInfo stack = Stack() with { Acquisition = new AcquisitionFacts() };
        UncertaintyModel model = UncertaintyModel.For(new Procedure(), stack, Steel());
        Assert.True(model.FrequencyIsAssumed);
        Assert.Equal(10e6, model.Pulse.FrequencyHz);
        Assert.False(Model(Steel()).FrequencyIsAssumed);
    }

    /// <summary>
    /// Picks made by plain code on sampled pulses in white noise, 4000 trials, seeded: the standard deviation of 4000 values has a
    /// standard error of 1.1 %; the linear formula leaves out terms of order 1/ratio² = 0.06 %. Tolerance 4 %; for the parabola 8 %, as its highest sample may change.
    /// </summary>
    [Theory]
    [InlineData(PickRule.ZeroCrossing, 0.04)]
    [InlineData(PickRule.Flank, 0.04)]
    [InlineData(PickRule.Peak, 0.08)]
    public void PickSeconds_AgainstSimulatedPicks_IsTheirSpread(PickRule rule, double tolerance)
    {
        const double ratio = 40;
        UncertaintyModel model = Model(Steel());
        var random = new Random(20240607);
        var errors = new double[4000];
        for (int trial = 0; trial < errors.Length; trial++)
            errors[trial] = SimulatedPick(model.Pulse, rule, 1 / ratio, random);
        double mean = errors.Average();
        double spread = Math.Sqrt(errors.Sum(e => (e - mean) * (e - mean)) / (errors.Length - 1));
        double expected = model.PickSeconds(rule, ratio);
        Assert.InRange(spread / expected, 1 - tolerance, 1 + tolerance);
        Assert.True(expected > model.BoundSeconds(ratio), "no pick beats the bound");
    }

    /// <summary>
    /// 7 MHz, 60 %, 100 MHz, 40 dB on back-wall echo 1 of amplitude 0.35, steel: spread of the wall from interface to back wall in
    /// 1500 simulated A-scans each (NumPy, apart from this program, two digits): zero crossing 0.68, envelope flank at half height
    /// 4.7, envelope peak 19, matched filter 0.30 (bound 0.25). Tolerance 10 %: their two digits and 1500 trials.
    /// </summary>
    [Theory]
    [InlineData(PickRule.ZeroCrossing, "rf", 0.68)]
    [InlineData(PickRule.Flank, "envelope", 4.7)]
    [InlineData(PickRule.EnvelopePeak, "rf", 19)]
    [InlineData(PickRule.Correlation, "rf", 0.25)]
    public void PickSeconds_AgainstOutsideSimulation_AgreesForEveryRule(
        PickRule rule,
        string signal,
        double micrometres
    )
    {
        UncertaintyModel model = Model(Steel(), $"[conditioning]\nsignal = \"{signal}\"");
        double wall = model.SpacingMetres(model.PickSeconds(rule, 100 / 0.35), model.PickSeconds(rule, 100));
        Assert.InRange(1e6 * wall / micrometres, 0.9, 1.1);
    }

    /// <summary>Two-step calibrations drawn with their stated uncertainties, 6000 draws, seeded: standard error 0.9 %.</summary>
    [Theory]
    [InlineData(8e-3)]
    [InlineData(12.5e-3)]
    [InlineData(30e-3)]
    public void CalibrationMetres_AgainstDrawnCalibrations_IsTheirSpread(double wallMetres)
    {
        CalibrationPoint[] steps =
        [
            new() { ThicknessMetres = 5e-3, TimeSeconds = 0.3e-6 + 10e-3 / 5920 },
            new() { ThicknessMetres = 20e-3, TimeSeconds = 0.3e-6 + 40e-3 / 5920 },
        ];
        var procedure = new Procedure { Velocity = new VelocitySettings { Calibration = steps } };
        UncertaintyModel model = UncertaintyModel.For(procedure, Stack(), VelocityResolver.Resolve(procedure, Stack()));
        double expected = model.CalibrationMetres(wallMetres, usesInterface: true);
        var random = new Random(42);
        double time = 0.3e-6 + 2 * wallMetres / 5920;
        double sum = 0;
        const int draws = 6000;
        for (int i = 0; i < draws; i++)
        {
            CalibrationPoint[] drawn = steps
                .Select(s =>
                    s with
                    {
                        ThicknessMetres = s.ThicknessMetres + Normal(random) * s.ThicknessUncertaintyMetres,
                        TimeSeconds = s.TimeSeconds + Normal(random) * s.TimeUncertaintySeconds,
                    }
                )
                .ToArray();
            double error = VelocityCalibration.Fit(drawn).ThicknessMetres(time) - wallMetres;
            sum += error * error;
        }
        Assert.InRange(Math.Sqrt(sum / draws) / expected, 0.96, 1.04);
    }

    [Fact]
    public void CalibrationMetres_InterfaceShare_RunsBetweenBothSpacings()
    {
        UncertaintyModel model = Model(Steel());
        double wall = 8.6e-3;
        Assert.Equal(model.CalibrationMetres(wall, true), model.CalibrationMetres(wall, 1.0));
        Assert.Equal(model.CalibrationMetres(wall, false), model.CalibrationMetres(wall, 0.0));
        Assert.InRange(
            model.CalibrationMetres(wall, 0.5),
            model.CalibrationMetres(wall, false),
            model.CalibrationMetres(wall, true)
        );
    }

    [Fact]
    public void Budget_Lines_SumToTheModelAndPrint()
    {
        ResolvedVelocity velocity = Steel(temperatureUncertaintyKelvin: 5);
        UncertaintyModel model = Model(velocity);
        UncertaintyBudget budget = UncertaintyBudget.For(
            model,
            8.6e-3,
            PickRule.Correlation,
            100,
            20,
            usesInterface: true
        );
        double expected = UncertaintyModel.CombinedMetres(
            model.NoiseMetres(100, 20),
            model.CalibrationMetres(8.6e-3, true),
            model.SamplingMetres(PickRule.Correlation)
        );
        Assert.Equal(expected, budget.CombinedMetres, 1e-12);
        Assert.Equal(model.CalibrationMetres(8.6e-3, true), budget.CommonMetres, 1e-12);
        string text = budget.ToText();
        Assert.Contains("temperature", text, StringComparison.Ordinal);
        Assert.Contains("43.00", text, StringComparison.Ordinal);
        Assert.Contains("wall 8.600 mm, combined standard uncertainty", text, StringComparison.Ordinal);
        Assert.Contains("zero offset", text, StringComparison.Ordinal);
        Assert.DoesNotContain(
            UncertaintyBudget.For(model, 8.6e-3, PickRule.Peak, 100, 20, usesInterface: false).Lines,
            line => line.Source == "zero offset"
        );
    }

    [Fact]
    public void Budget_WithCovariance_IsBelowTheSumWithoutIt()
    {
        CalibrationPoint[] steps =
        [
            new() { ThicknessMetres = 5e-3, TimeSeconds = 2.052e-6 },
            new() { ThicknessMetres = 20e-3, TimeSeconds = 7.124e-6 },
        ];
        var procedure = new Procedure { Velocity = new VelocitySettings { Calibration = steps } };
        UncertaintyModel model = UncertaintyModel.For(procedure, Stack(), VelocityResolver.Resolve(procedure, Stack()));
        UncertaintyBudget budget = UncertaintyBudget.For(model, 12.5e-3, PickRule.Peak, 100, 50, usesInterface: true);
        UncertaintyLine covariance = Assert.Single(budget.Lines, line => line.IsCovariance);
        Assert.True(covariance.ContributionMetres < 0);
        Assert.Equal(model.CalibrationMetres(12.5e-3, true), budget.CommonMetres, 1e-12);
        Assert.Equal(VelocityCalibration.Fit(steps).ThicknessUncertaintyMetres(12.5e-3), budget.CommonMetres, 1e-12);
    }

    [Fact]
    public void RectangularUncertainty_BlockToleranceAndDisplayStep_AreTheRows()
    {
        // TR-16946-floor: 0.02 mm one-sided, rectangular; TR-GUM-rect: half width 0.005 mm.
        Assert.Equal(CheckRows.Expected("TR-16946-floor"), 0.02 * SamplingError.NearestSampleSeconds(1), 1e-10);
        Assert.Equal(
            CheckRows.Expected("TR-GUM-rect"),
            new TabulatedValue(1, 0.005, "", false).RelativeUncertainty,
            1e-12
        );
    }

    private static double SimulatedPick(GaussianPulse pulse, PickRule rule, double noise, Random random)
    {
        const double rate = 100e6;
        double shift = random.NextDouble() - 0.5;
        var s = new double[41];
        for (int n = 0; n < s.Length; n++)
            s[n] = pulse.Value((n - 20 - shift) / rate) + noise * Normal(random);
        double truth = 20 + shift;
        if (rule == PickRule.Peak)
        {
            int top = 20;
            for (int n = 18; n <= 22; n++)
                if (s[n] > s[top])
                    top = n;
            double curvature = s[top - 1] - 2 * s[top] + s[top + 1];
            return (top + (s[top - 1] - s[top + 1]) / (2 * curvature) - truth) / rate;
        }
        // A zero lies a quarter of a period after the peak; a half-peak flank a sixth of a period before it.
        double level = rule == PickRule.Flank ? 0.5 : 0;
        double from =
            rule == PickRule.Flank ? truth - rate / pulse.FrequencyHz / 6 : truth + rate / pulse.FrequencyHz / 4;
        int sign = rule == PickRule.Flank ? 1 : -1;
        double best = double.NaN;
        for (int n = (int)from - 2; n <= (int)from + 2; n++)
            if (sign * (s[n] - level) < 0 && sign * (s[n + 1] - level) >= 0)
            {
                best = n + (level - s[n]) / (s[n + 1] - s[n]);
                break;
            }
        return (best - from) / rate;
    }

    private static double Normal(Random random) =>
        Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());

    private static UncertaintyModel Model(ResolvedVelocity velocity, string toml = "") =>
        UncertaintyModel.For(ProcedureText.Parse(toml, "p.toml"), Stack(), velocity);

    private static ResolvedVelocity Steel(double temperatureUncertaintyKelvin = 0) =>
        VelocityResolver.Resolve(
            new Procedure
            {
                Velocity = new VelocitySettings
                {
                    ValueMetresPerSecond = 5920,
                    TemperatureUncertaintyKelvin = temperatureUncertaintyKelvin,
                },
            },
            Stack()
        );

    private static StackInfo Stack() =>
        new()
        {
            Name = "plate",
            Shape = new StackShape(3, 4, 500),
            SampleType = SampleType.Int16,
            TimeBase = new TimeBase { SampleRateHz = 100e6 },
            Amplitude = AmplitudeScale.For(SampleType.Int16),
            Acquisition = new AcquisitionFacts { FrequencyHz = 7e6, BandwidthFraction = 0.6 },
        };
}
