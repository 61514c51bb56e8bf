using EchoToThickness.Procedures;
using EchoToThickness.Stacks;
using EchoToThickness.Velocity;
using Xunit;

namespace EchoToThickness.Tests.Velocity;

public sealed class VelocityResolverTests
{
    [Fact]
    public void Resolve_AllSources_FollowsThePrecedence()
    {
        CalibrationPoint[] steps =
        [
            new() { ThicknessMetres = 5e-3, TimeSeconds = 10e-3 / 5930 },
            new() { ThicknessMetres = 10e-3, TimeSeconds = 20e-3 / 5930 },
        ];
        var all = new VelocitySettings
        {
            ValueMetresPerSecond = 5920,
            Calibration = steps,
            Material = "steel-1020",
        };
        Assert.Equal(5920, Resolve(all).MetresPerSecond);
        Assert.Contains("procedure", Resolve(all).Source, StringComparison.Ordinal);
        ResolvedVelocity calibrated = Resolve(all with { ValueMetresPerSecond = null });
        Assert.Equal(5930, calibrated.MetresPerSecond, 1e-6);
        Assert.StartsWith("calibration on 2 steps", calibrated.Source, StringComparison.Ordinal);
        ResolvedVelocity material = Resolve(all with { ValueMetresPerSecond = null, Calibration = [] });
        Assert.Equal(5890, material.MetresPerSecond);
        Assert.Equal(5890 * 0.01 / Math.Sqrt(3), material.UncertaintyMetresPerSecond, 1e-9);
        ResolvedVelocity stack = Resolve(new VelocitySettings());
        Assert.Equal(5900, stack.MetresPerSecond);
        Assert.Equal("attribute of plate", stack.Source);
        Assert.Equal(0.005 * 5900, stack.UncertaintyMetresPerSecond, 1e-9);
    }

    [Theory]
    [InlineData(5900, 0)]
    [InlineData(5905.8, 0)]
    [InlineData(5906, 1)]
    [InlineData(5850, 1)]
    public void Resolve_DisagreementAboveATenthOfAPercent_Warns(double value, int warnings)
    {
        // |5900 - 5905.8| / 5905.8 = 0.098 %, |5900 - 5906| / 5906 = 0.102 %.
        ResolvedVelocity resolved = Resolve(new VelocitySettings { ValueMetresPerSecond = value });
        Assert.Equal(warnings, resolved.Warnings.Count);
        Assert.All(
            resolved.Warnings,
            w => Assert.Contains("attribute of plate gives 5900 m/s", w, StringComparison.Ordinal)
        );
    }

    [Fact]
    public void Resolve_NoSource_SaysHowToGiveOne()
    {
        StackInfo stack = Stack() with { Acquisition = new AcquisitionFacts() };
        ProcedureException error = Assert.Throws<ProcedureException>(() =>
            VelocityResolver.Resolve(new Procedure(), stack)
        );
        Assert.Contains("velocity.value", error.Remedy, StringComparison.Ordinal);
        Assert.Contains("plate", error.What, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(5.92)]
    [InlineData(0)]
    [InlineData(double.NaN)]
    [InlineData(double.PositiveInfinity)]
    public void Resolve_ImplausibleStackVelocity_IsRefusedWhenNothingElseIsGiven(double attribute)
    {
        StackInfo stack = Stack();
        stack = stack with { Acquisition = stack.Acquisition with { VelocityMetresPerSecond = attribute } };
        ProcedureException error = Assert.Throws<ProcedureException>(() =>
            VelocityResolver.Resolve(new Procedure(), stack)
        );
        Assert.Contains("metals have 500 to 20000 m/s", error.What, StringComparison.Ordinal);
        Assert.Contains("metres per second", error.Remedy, StringComparison.Ordinal);
        var given = new Procedure { Velocity = new VelocitySettings { ValueMetresPerSecond = 5920 } };
        Assert.Equal(5920, VelocityResolver.Resolve(given, stack).MetresPerSecond);
    }

    [Fact]
    public void Resolve_HotPart_CorrectsAsTabulatedAndSaysSo()
    {
        // TR-temp-lin: 10.00 mm read at 130 degC with the velocity of 20 degC and -0.8 m/s/K.
        ResolvedVelocity hot = Resolve(
            new VelocitySettings
            {
                ValueMetresPerSecond = 5920,
                PartTemperatureCelsius = 130,
                TemperatureUncertaintyKelvin = 5,
            }
        );
        double time = 2 * 10e-3 / 5920;
        Assert.Equal(CheckRows.Expected("TR-temp-lin"), 1e3 * hot.WallToWallMetres(time), 1e-9);
        Assert.Contains(
            hot.Corrections,
            line => line.StartsWith("temperature: velocity -88 m/s, wall -0.1", StringComparison.Ordinal)
        );
        Assert.Contains(hot.Warnings, line => line.Contains("0 to 50 degC", StringComparison.Ordinal));
        // 0.8 x 5 K and 0.07 x 110 K in quadrature.
        Assert.Equal(Math.Sqrt(16 + 7.7 * 7.7), hot.TemperatureUncertaintyMetresPerSecond, 1e-9);
        Assert.Equal(Math.Sqrt(29.6 * 29.6 + 16 + 7.7 * 7.7), hot.UncertaintyMetresPerSecond, 1e-9);
    }

    [Fact]
    public void Resolve_StackTemperature_IsUsedWhenTheProcedureHasNone()
    {
        StackInfo stack = Stack();
        stack = stack with { Acquisition = stack.Acquisition with { TemperatureCelsius = 40 } };
        var procedure = new Procedure { Velocity = new VelocitySettings { ValueMetresPerSecond = 5920 } };
        Assert.Equal(5904, VelocityResolver.Resolve(procedure, stack).MetresPerSecond, 1e-9);
    }

    [Fact]
    public void Resolve_Coating_LeavesTheMetal()
    {
        // TR-coat-single: 8 mm of steel under 0.3 mm of paint of 2300 m/s reads 8.772 mm uncorrected; corrected it reads 8.
        var procedure = new Procedure
        {
            Velocity = new VelocitySettings { ValueMetresPerSecond = 5920 },
            Correction = new CorrectionSettings
            {
                CoatingThicknessMetres = 0.3e-3,
                CoatingVelocityMetresPerSecond = 2300,
                CoatingThicknessUncertaintyMetres = 0.02e-3,
            },
        };
        ResolvedVelocity resolved = VelocityResolver.Resolve(procedure, Stack());
        double time = 2 * (0.3e-3 / 2300 + 8e-3 / 5920);
        Assert.Equal(CheckRows.Expected("TR-coat-single"), 1e3 * resolved.WallToWallMetres(time), 1e-9);
        Assert.Equal(8, 1e3 * resolved.InterfaceToWallMetres(time), 1e-9);
        Assert.Equal(CheckRows.Expected("TR-coat-e2e"), 1e3 * resolved.WallToWallMetres(2 * 8e-3 / 5920), 1e-12);
        Assert.Contains(resolved.Corrections, line => line.StartsWith("coating: 260.9 ns", StringComparison.Ordinal));
        Assert.Equal(2 * 0.02e-3 / 2300, resolved.CoatingUncertaintySeconds, 1e-15);
    }

    [Fact]
    public void Resolve_SlantedBeam_CountsWithItsCosine()
    {
        // TR-tilt: 10 mm read along 5 degrees is 10.038 mm.
        var procedure = new Procedure
        {
            Velocity = new VelocitySettings { ValueMetresPerSecond = 5920 },
            Correction = new CorrectionSettings { BeamAngleRadians = 5 * (Math.PI / 180) },
        };
        ResolvedVelocity resolved = VelocityResolver.Resolve(procedure, Stack());
        double time = 2 * CheckRows.Expected("TR-tilt") * 1e-3 / 5920;
        Assert.Equal(10, 1e3 * resolved.WallToWallMetres(time), 1e-9);
        Assert.Contains(resolved.Corrections, line => line.StartsWith("beam angle: 5 deg", StringComparison.Ordinal));
    }

    [Fact]
    public void Resolve_Curvature_DividesByTheMeanPath()
    {
        StackInfo stack = Stack();
        stack = stack with
        {
            Acquisition = stack.Acquisition with { ApertureMetres = 8e-3 },
            Component = new ComponentFacts
            {
                Kind = ComponentKind.Pipe,
                OutsideDiameterMetres = 114.3e-3,
                NominalWallMetres = 8.6e-3,
            },
        };
        var procedure = new Procedure { Correction = new CorrectionSettings { Curvature = true } };
        ResolvedVelocity resolved = VelocityResolver.Resolve(procedure, stack);
        Assert.Equal(1 / (1 + 64e-6 / (24 * 57.15e-3 * 48.55e-3)), resolved.PathFactor, 1e-12);
        Assert.Contains(resolved.Corrections, line => line.StartsWith("curvature: ", StringComparison.Ordinal));
        ProcedureException error = Assert.Throws<ProcedureException>(() =>
            VelocityResolver.Resolve(procedure, Stack())
        );
        Assert.Contains("correction.curvature", error.Where, StringComparison.Ordinal);
    }

    [Fact]
    public void Resolve_Calibration_CarriesZeroAndCovariance()
    {
        var settings = new VelocitySettings
        {
            Calibration =
            [
                new() { ThicknessMetres = 5e-3, TimeSeconds = 2.052e-6 },
                new() { ThicknessMetres = 20e-3, TimeSeconds = 7.124e-6 },
            ],
        };
        ResolvedVelocity resolved = Resolve(settings);
        Assert.Equal(CheckRows.Expected("TR-2pt-read"), 1e3 * resolved.InterfaceToWallMetres(4.589e-6), 1e-9);
        VelocityCalibration fit = VelocityCalibration.Fit(settings.Calibration);
        Assert.Equal(fit.VelocityZeroCovariance, resolved.VelocityZeroCovariance, 1e-18);
        Assert.Equal(fit.ZeroUncertaintySeconds, resolved.ZeroUncertaintySeconds);
        Assert.True(resolved.VelocityZeroCovariance > 0);
    }

    private static ResolvedVelocity Resolve(VelocitySettings settings) =>
        VelocityResolver.Resolve(new Procedure { Velocity = settings }, Stack());

    private static StackInfo Stack() =>
        new()
        {
            Name = "plate",
            Shape = new StackShape(3, 4, 500),
            SampleType = SampleType.Int16,
            TimeBase = new TimeBase { SampleRateHz = 100e6 },
            Amplitude = AmplitudeScale.For(SampleType.Int16),
            Acquisition = new AcquisitionFacts { VelocityMetresPerSecond = 5900 },
        };
}
