using System.Numerics;
using Xunit;

namespace EchoToThickness.Tests.Estimation;

public sealed class AngularSpectrumTests
{
    private static readonly AngularSpectrumSetup Square = new()
    {
        ApertureMetres = 4e-3,
        ElevationMetres = 4e-3,
        FrequencyHz = 5e6,
        VelocityMetresPerSecond = 5920,
        CouplantMetresPerSecond = 1480,
    };

    private static readonly AngularSpectrumSetup Strip = Square with { ElevationMetres = null };

    /// <summary>
    /// The exact 3-D elastic solution of the full-wave reference stacks, as their README states it: 4 x 4 mm at 5 MHz, 7 mm wall:
    /// +0.048 mm by the envelope, about 0.05 mm the other way by the phase. The couplant path is not stated there (2 to 3 mm in
    /// the stacks); the left-out angle dependence of the coefficients is worth up to 6 µm, which is the tolerance.
    /// </summary>
    [Theory]
    [InlineData(2.1e-3)]
    [InlineData(2.9e-3)]
    public void Delays_SquareApertureAtSevenMillimetres_AreThoseOfTheFullWaveSolution(double couplantMetres)
    {
        var correction = new AngularSpectrum(Square);
        double byEnvelope = 1e3 * 5920 / 2 * correction.EnvelopeDelaySeconds(0, 1, 7e-3, couplantMetres);
        double byPhase = 1e3 * 5920 / 2 * correction.CorrelationDelaySeconds(0, 1, 7e-3, couplantMetres);
        Assert.Equal(0.048, byEnvelope, 0.006);
        Assert.Equal(-0.050, byPhase, 0.006);
    }

    /// <summary>
    /// The same integral evaluated apart (NumPy 1.24.2, two-dimensional midpoint rule, 300 x 300 nodes): 4 x 4 mm, 5 MHz, 60 %,
    /// couplant path 2.5 mm. Tolerance 0.4 µm: that rule's step and its 0.05 ns time grid (0.15 µm).
    /// </summary>
    [Theory]
    [InlineData(0, 1, 7e-3, -50.5)]
    [InlineData(1, 2, 7e-3, -32.9)]
    [InlineData(0, 1, 9e-3, -63.0)]
    [InlineData(1, 2, 9e-3, -28.9)]
    public void CorrelationDelaySeconds_SquareAperture_AgreesWithTwoDimensionalIntegration(
        int earlier,
        int later,
        double wallMetres,
        double expectedMicrometres
    )
    {
        double delay = new AngularSpectrum(Square).CorrelationDelaySeconds(earlier, later, wallMetres, 2.5e-3);
        Assert.Equal(expectedMicrometres, 1e6 * 5920 / 2 * delay, 0.4);
    }

    /// <summary>
    /// Far field, stationary phase: a strip is early by an eighth of a period, a rectangle by a quarter, less the mean extra path
    /// over the aperture, <c>π a²/(6 λ L)</c> a side; amplitude <c>a/sqrt(λL)</c> a side. The next terms are of order (a²/λL)² =
    /// 0.005.
    /// </summary>
    [Fact]
    public void Response_FarField_HasTheClosedForm()
    {
        const double wall = 0.1;
        double wavelength = 5920 / 5e6;
        double oneSide = 4e-3 / Math.Sqrt(wavelength * 2 * wall);
        double extra = Math.PI / 6 * oneSide * oneSide;
        Complex strip = new AngularSpectrum(Strip).Response(5e6, 1, wall, 0);
        Complex square = new AngularSpectrum(Square).Response(5e6, 1, wall, 0);
        Assert.Equal(-Math.PI / 4 + extra, strip.Phase, 0.005);
        Assert.Equal(-Math.PI / 2 + 2 * extra, square.Phase, 0.01);
        Assert.Equal(oneSide, strip.Magnitude, 0.005 * oneSide);
        Assert.Equal(oneSide * oneSide, square.Magnitude, 0.01 * oneSide * oneSide);
    }

    /// <summary>Close to the aperture the wave is plane: amplitude 1 - O(sqrt(λL)/a), no delay.</summary>
    [Fact]
    public void Response_WideApertureOrShortPath_IsThePlaneWave()
    {
        var wide = new AngularSpectrum(Strip with { ApertureMetres = 40e-3 });
        Complex response = wide.Response(5e6, 1, 2e-3, 2e-3);
        Assert.InRange(response.Magnitude, 0.9, 1.01);
        Assert.Equal(0, response.Phase, 0.06);
    }

    [Fact]
    public void CorrelationDelaySeconds_WiderAperture_IsSmaller()
    {
        double narrow = new AngularSpectrum(Strip).CorrelationDelaySeconds(0, 1, 8e-3, 3e-3);
        double wide = new AngularSpectrum(Strip with { ApertureMetres = 8e-3 }).CorrelationDelaySeconds(
            0,
            1,
            8e-3,
            3e-3
        );
        double square = new AngularSpectrum(Square).CorrelationDelaySeconds(0, 1, 8e-3, 3e-3);
        Assert.True(narrow < wide && wide < 0, $"{narrow} {wide}");
        // A square aperture is a strip twice over: about twice the delay.
        Assert.Equal(2, square / narrow, 0.15);
    }
}
