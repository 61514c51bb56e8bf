using EchoToThickness.Echoes;
using EchoToThickness.Estimation;
using EchoToThickness.Tests.Echoes;
using EchoToThickness.Tests.Engine;
using Xunit;

namespace EchoToThickness.Tests.Estimation;

public class EchoDelayTests
{
    [Theory]
    [InlineData(250.0)]
    [InlineData(250.13)]
    [InlineData(250.5)]
    [InlineData(250.87)]
    public void Measure_InvertedCopy_FindsTheDelay(double delay)
    {
        EchoRecord record = EchoRecordTests.Make(
            0,
            aScan =>
            {
                SyntheticStack.AddPulse(aScan, 200.4, 0.7);
                SyntheticStack.AddPulse(aScan, 200.4 + delay, -0.2);
            }
        );
        EchoDelay measured = EchoDelay.Measure(
            record,
            record.Candidates[0].Sample,
            record.Candidates[1].Sample,
            40,
            -1
        );
        // Cosine interpolation at 14 samples a period: under two thousandths of a sample (0.02 ns, 0.06 um of steel).
        Assert.Equal(delay, measured.DelaySamples, 2e-3);
        Assert.Equal(1, measured.Coherence, 1e-3);
    }

    [Fact]
    public void ResolveCycles_OneEchoACycleOff_IsPutRight()
    {
        EchoRecord record = EchoRecordTests.Make(
            0,
            aScan =>
            {
                for (int n = 0; n <= 3; n++)
                    SyntheticStack.AddPulse(aScan, 150 + 200 * n, n == 0 ? 0.7 : -0.2);
            }
        );
        var points = new TrainPoint[4];
        for (int n = 0; n <= 3; n++)
        {
            // Echo 2 is looked for half a period late, so that the true maximum and the next one both lie within the lags.
            int sample = record.Candidates[n].Sample + (n == 2 ? 7 : 0);
            EchoDelay delay =
                n == 0 ? EchoDelay.Zero : EchoDelay.Measure(record, record.Candidates[0].Sample, sample, 40, -1);
            points[n] = new TrainPoint(n, n, delay, record.Candidates[n].AmplitudeFraction);
        }
        EchoDelay wrong = points[2].Delay;
        Assert.True(wrong.Count >= 2, "The test needs a second maximum one period away.");
        wrong.Chosen = wrong.Chosen == 0 ? 1 : 0;
        points[2] = points[2] with { Delay = wrong };
        TrainFit.ResolveCycles(points, record.Scale);
        Assert.Equal(400, points[2].Delay.DelaySamples, 0.01);
    }

    [Theory]
    [InlineData(8e-3, 4e-3, 3e-3, 1)]
    [InlineData(8e-3, 7e-3, 3e-3, 1)]
    [InlineData(8e-3, 7e-3, 3e-3, 2)]
    [InlineData(4e-3, 8e-3, 2e-3, 1)]
    public void FresnelDelay_Strip_AgreesWithTheAngularSpectrum(double aperture, double wall, double gap, int order)
    {
        // Independent formulation: angular spectrum over the pulse's band (AngularSpectrum), no Fresnel approximation.
        var exact = new AngularSpectrum(
            new AngularSpectrumSetup
            {
                ApertureMetres = aperture,
                FrequencyHz = 7e6,
                VelocityMetresPerSecond = 5920,
                CouplantMetresPerSecond = 1480,
            }
        );
        var fresnel = new FresnelDelay(aperture, null, 7e6, 1480, 5920);
        double couplant = 2 * gap / 1480;
        double metal = 2 * order * wall / 5920;
        double delay = fresnel.Seconds(couplant, metal) - fresnel.Seconds(couplant, 0);
        // One nanosecond is 3 um of steel; the centre frequency stands for the band.
        Assert.Equal(exact.CorrelationDelaySeconds(0, order, wall, gap), delay, 1e-9);
    }

    [Theory]
    [InlineData(7e-3, 0, 1)]
    [InlineData(9e-3, 0, 1)]
    [InlineData(7e-3, 1, 2)]
    public void FresnelDelay_Square_AgreesWithTheAngularSpectrum(double wall, int earlier, int later)
    {
        var exact = new AngularSpectrum(
            new AngularSpectrumSetup
            {
                ApertureMetres = 4e-3,
                ElevationMetres = 4e-3,
                FrequencyHz = 5e6,
                VelocityMetresPerSecond = 5920,
                CouplantMetresPerSecond = 1480,
            }
        );
        var fresnel = new FresnelDelay(4e-3, 4e-3, 5e6, 1480, 5920);
        double couplant = 2 * 2.5e-3 / 1480;
        double roundTrip = 2 * wall / 5920;
        double delay = fresnel.Seconds(couplant, later * roundTrip) - fresnel.Seconds(couplant, earlier * roundTrip);
        // Two nanoseconds are 6 um of steel, what the reference itself leaves out (AngularSpectrum). Measured: 1.4 and 1.9 ns from the interface; a
        // small square is where the Fresnel approximation is worst.
        Assert.Equal(exact.CorrelationDelaySeconds(earlier, later, wall, 2.5e-3), delay, 2e-9);
    }
}
