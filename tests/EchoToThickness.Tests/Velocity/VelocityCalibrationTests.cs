using EchoToThickness.Procedures;
using EchoToThickness.Velocity;
using Xunit;

namespace EchoToThickness.Tests.Velocity;

public sealed class VelocityCalibrationTests
{
    private static readonly CalibrationPoint[] TwoSteps =
    [
        new() { ThicknessMetres = 5e-3, TimeSeconds = 2.052e-6 },
        new() { ThicknessMetres = 20e-3, TimeSeconds = 7.124e-6 },
    ];

    [Fact]
    public void Fit_TwoSteps_IsExact()
    {
        VelocityCalibration fit = VelocityCalibration.Fit(TwoSteps);
        // Rows TR-2pt-v, TR-2pt-off, TR-2pt-read: printed to 12 digits.
        Assert.Equal(CheckRows.Expected("TR-2pt-v"), fit.MetresPerSecond, 1e-7);
        Assert.Equal(CheckRows.Expected("TR-2pt-off"), 1e6 * fit.ZeroSeconds, 1e-9);
        Assert.Equal(CheckRows.Expected("TR-2pt-read"), 1e3 * fit.ThicknessMetres(4.589e-6), 1e-9);
        Assert.Equal(0, fit.DegreesOfFreedom);
        Assert.Equal(1, fit.ChiSquareProbability);
        Assert.All(fit.ResidualsSeconds, r => Assert.Equal(0, r, 1e-18));
    }

    [Fact]
    public void Fit_TwoSteps_PropagatesByHand()
    {
        // c = 2 (d2 - d1) / (t2 - t1), t0 = (t1 d2 - t2 d1) / (d2 - d1): first-order propagation written out (JCGM 100:2008, 5.1).
        VelocityCalibration fit = VelocityCalibration.Fit(TwoSteps);
        double c = fit.MetresPerSecond;
        double span = 15e-3;
        double u = Math.Sqrt(4e-18 + Math.Pow(2 / c * 5e-6, 2)); // time uncertainty of a point, thickness folded in
        double slope = Math.Sqrt(2) * u / span;
        double zero = u * Math.Sqrt(20e-3 * 20e-3 + 5e-3 * 5e-3) / span;
        double covariance = -u * u * (20e-3 + 5e-3) / (span * span); // of zero and slope
        Assert.Equal(c * c / 2 * slope, fit.UncertaintyMetresPerSecond, 1e-9);
        Assert.Equal(zero, fit.ZeroUncertaintySeconds, 1e-15);
        Assert.Equal(-c * c / 2 * covariance, fit.VelocityZeroCovariance, 1e-15);
        // At either step the thickness is as uncertain as that step's own point: c/2 u.
        Assert.Equal(c / 2 * u, fit.ThicknessUncertaintyMetres(5e-3), 1e-12);
        Assert.Equal(c / 2 * u, fit.ThicknessUncertaintyMetres(20e-3), 1e-12);
        // Between the steps it is smaller: half way by the square root of two.
        Assert.Equal(c / 2 * u / Math.Sqrt(2), fit.ThicknessUncertaintyMetres(12.5e-3), 1e-12);
    }

    [Fact]
    public void Fit_ManyStepsWithNoise_GivesResidualsAndChiSquare()
    {
        double[] noise = [1e-9, -2e-9, 1.5e-9, 0.5e-9, -1e-9];
        CalibrationPoint[] points = noise
            .Select(
                (e, i) =>
                    new CalibrationPoint
                    {
                        ThicknessMetres = 4e-3 * (i + 1),
                        ThicknessUncertaintyMetres = 0,
                        TimeSeconds = 30e-9 + 8e-3 * (i + 1) / 5920 + e,
                    }
            )
            .ToArray();
        VelocityCalibration fit = VelocityCalibration.Fit(points);
        // Equal weights: the ordinary least-squares line of the noise over -2..2 has slope sum(x e)/10 and mean 0.
        double slopeNoise = (-2 * 1e-9 - 1 * -2e-9 + 1 * 0.5e-9 + 2 * -1e-9) / 10 / 4e-3;
        double expected = 2 / (2 / 5920.0 + slopeNoise);
        Assert.Equal(expected, fit.MetresPerSecond, 1e-6);
        Assert.Equal(fit.ResidualsSeconds.Sum(r => r * r) / 4e-18, fit.ChiSquare, 1e-9);
        Assert.Equal(3, fit.DegreesOfFreedom);
        Assert.Equal(1, fit.Widening);
        Assert.InRange(fit.ChiSquareProbability, 0.3, 0.9);
    }

    [Fact]
    public void Fit_SkippedCycle_WidensAndIsImprobable()
    {
        CalibrationPoint[] points = Enumerable
            .Range(1, 5)
            .Select(i => new CalibrationPoint
            {
                ThicknessMetres = 4e-3 * i,
                TimeSeconds = 8e-3 * i / 5920 + (i == 3 ? 1 / 7e6 : 0),
            })
            .ToArray();
        VelocityCalibration fit = VelocityCalibration.Fit(points);
        Assert.True(fit.ChiSquareProbability < 1e-6);
        Assert.Equal(Math.Sqrt(fit.ChiSquare / 3), fit.Widening, 1e-12);
        Assert.Equal(2, fit.ResidualsSeconds.ToList().IndexOf(fit.ResidualsSeconds.Max()));
    }

    [Fact]
    public void FromOneStep_WithAWrongZero_MissesThinWallAsTabulated()
    {
        // TR-1pt: zero taken as 0 while it is 0.361 us, calibrated on 20 mm, true velocity 5915.5 m/s: error on 5 mm.
        double time = 0.361e-6 + 2 * 20e-3 / 5915.5;
        VelocityCalibration fit = VelocityCalibration.FromOneStep(
            new CalibrationPoint { ThicknessMetres = 20e-3, TimeSeconds = time },
            0,
            0
        );
        double reading = fit.ThicknessMetres(0.361e-6 + 2 * 5e-3 / 5915.5);
        Assert.Equal(CheckRows.Expected("TR-1pt"), 1e3 * (reading - 5e-3), 1e-8);
    }

    [Fact]
    public void FromOneStep_ZeroUncertainty_CancelsOnTheStepItself()
    {
        var point = new CalibrationPoint
        {
            ThicknessMetres = 10e-3,
            TimeSeconds = 20e-3 / 5920,
            TimeUncertaintySeconds = 0,
            ThicknessUncertaintyMetres = 0,
        };
        VelocityCalibration fit = VelocityCalibration.FromOneStep(point, 0, 3e-9);
        Assert.Equal(0, fit.ThicknessUncertaintyMetres(10e-3), 1e-9);
        Assert.Equal(5920.0 / 2 * 3e-9, fit.ThicknessUncertaintyMetres(1e-12), 1e-9);
    }

    public static TheoryData<CalibrationPoint[], string> Unusable =>
        new()
        {
            { [TwoSteps[0]], "cannot give velocity and zero" },
            { [TwoSteps[0], TwoSteps[0] with { TimeSeconds = 3e-6 }], "same thickness" }, // TR-2pt-bad
            { [TwoSteps[0], TwoSteps[1] with { TimeSeconds = 1e-6 }], "m/s; metals have" },
            { [TwoSteps[0], TwoSteps[1] with { TimeSeconds = 2.1e-6 }], "m/s; metals have" },
            {
                [TwoSteps[0] with { TimeUncertaintySeconds = 0, ThicknessUncertaintyMetres = 0 }, TwoSteps[1]],
                "cannot be weighted"
            },
        };

    [Theory]
    [MemberData(nameof(Unusable))]
    public void Fit_UnusablePoints_SaysWhy(CalibrationPoint[] points, string what)
    {
        ProcedureException error = Assert.Throws<ProcedureException>(() => VelocityCalibration.Fit(points));
        Assert.Contains(what, error.What, StringComparison.Ordinal);
        Assert.Contains("velocity.calibration", error.Where, StringComparison.Ordinal);
        Assert.NotEmpty(error.Remedy);
    }

    [Fact]
    public void StraightLine_PearsonsDataWithYorksWeights_IsThePublishedLine()
    {
        // York 1966, Can. J. Phys. 44:1079, and York et al. 2004: a = 5.47991, b = -0.480533, u(a) = 0.295, u(b) = 0.058,
        // S/(n-2) = 1.483. Data and results from memory of the papers.
        double[] x = [0.0, 0.9, 1.8, 2.6, 3.3, 4.4, 5.2, 6.1, 6.5, 7.4];
        double[] y = [5.9, 5.4, 4.4, 4.6, 3.5, 3.7, 2.8, 2.8, 2.4, 1.5];
        double[] wx = [1000, 1000, 500, 800, 200, 80, 60, 20, 1.8, 1.0];
        double[] wy = [1, 1.8, 4, 8, 20, 20, 70, 70, 100, 500];
        StraightLine line = StraightLine.Fit(
            x,
            wx.Select(w => 1 / Math.Sqrt(w)).ToArray(),
            y,
            wy.Select(w => 1 / Math.Sqrt(w)).ToArray()
        );
        Assert.Equal(5.47991022, line.Intercept, 1e-7);
        Assert.Equal(-0.480533407, line.Slope, 1e-8);
        Assert.Equal(0.2950, line.InterceptUncertainty, 5e-4);
        Assert.Equal(0.0580, line.SlopeUncertainty, 5e-5);
        Assert.Equal(1.4833, line.ChiSquare / 8, 5e-4);
    }
}
