using System.Numerics;
using EchoToThickness.Estimation;
using EchoToThickness.Simulation.Scenes;
using EchoToThickness.Simulation.Waves;
using EchoToThickness.Tests.Estimation;
using Xunit;

namespace EchoToThickness.Simulation.Tests.Waves;

public sealed class FlatWallTests
{
    private const double Steel = 7850.0 * 5920;
    private const double Water = 1000.0 * 1480;

    /// <summary>
    /// Plane waves on bare steel over gas: interface R, back walls -(1 - R²) R^(n-1) (over R: the interface is scaled to 0.7), times 2g/c_w + 2nd/c.
    /// From algebra; written out with the closed-form pulse. 2e-4 is what the cut of the spectrum leaves; one nanosecond would be 3e-2.
    /// </summary>
    [Theory]
    [InlineData(InnerMedium.Gas, -1.0)]
    [InlineData(InnerMedium.Liquid, -0.9382937)]
    [InlineData(InnerMedium.Bonded, 0.3654345)]
    public void AddEchoes_PlaneWave_IsTheSumOfPulsesOfTheLayeredPlate(InnerMedium inner, double wall)
    {
        var bench = new WaveBench(WaveBench.Settings with { Diffraction = false });
        bench.Cell.ThicknessMetres = 7.1234e-3;
        bench.Cell.CouplantMetres = 3.777e-3;
        bench.Cell.Inner = inner;
        float[] record = bench.Record();
        double r = (Steel - Water) / (Steel + Water);
        var expected = new float[record.Length];
        var pulse = new GaborPulse(7e6, 0.6);
        double scale = 0.7 / r;
        double time = 2 * 3.777e-3 / 1480;
        pulse.Add(expected, WaveBench.StartSeconds, WaveBench.RateHz, time, scale * r);
        for (int n = 1; n < 6; n++)
        {
            double amplitude = scale * (1 - r * r) * wall * Math.Pow(-r * wall, n - 1);
            pulse.Add(expected, WaveBench.StartSeconds, WaveBench.RateHz, time + n * 2 * 7.1234e-3 / 5920, amplitude);
        }
        for (int i = 0; i < record.Length; i++)
            Assert.Equal(expected[i], record[i], 2e-4);
    }

    /// <summary>
    /// A face that reflects F gives the p-th pass of the couplant F^(p-1) G^p: second pass 2 R g1 on its first back wall, g1² + 2 R g2 on its second. From
    /// algebra, by spectral amplitude at the centre frequency of well separated echoes.
    /// </summary>
    [Fact]
    public void AddEchoes_ReverberatingCouplant_GivesEachMultipleItsOwnTrain()
    {
        const double face = 0.3;
        var bench = new WaveBench(WaveBench.Settings with { Diffraction = false, FaceReflection = face });
        // Three and a half walls to a pass of the couplant: the echoes of neighbouring trains stand midway between each other.
        double wallMetres = 4.1e-3 / 1480 * 5920 / 3.5;
        bench.Cell.ThicknessMetres = wallMetres;
        bench.Cell.CouplantMetres = 4.1e-3;
        float[] record = bench.Record(1800);
        double couplant = 2 * 4.1e-3 / 1480;
        double metal = 2 * wallMetres / 5920;
        double r = (Steel - Water) / (Steel + Water);
        double g1 = -(1 - r * r);
        double g2 = -(1 - r * r) * r;
        Complex unit = WaveBench.SpectrumAt(record, couplant, 0.4e-6, 7e6) / r;
        // Within 1.3e-4 of the strongest echo: the cut spectrum's ripple under a weak one.
        Assert.Equal(face * r * r, Ratio(2 * couplant), 5e-4);
        Assert.Equal(face * 2 * r * g1, Ratio(2 * couplant + metal), 5e-4);
        Assert.Equal(face * (g1 * g1 + 2 * r * g2), Ratio(2 * couplant + 2 * metal), 5e-4);

        double Ratio(double time) => (WaveBench.SpectrumAt(record, time, 0.4e-6, 7e6) / unit).Real;
    }

    /// <summary>
    /// Finite aperture: the response of interface and back walls over the plane wave's is that of the angular spectrum, which makes no Fresnel
    /// approximation. Phase within 0.04 rad (1 ns at 7 MHz), modulus within 2 %: the Fresnel approximation's own error over 8 x 8 and 4 x 6 mm.
    /// </summary>
    [Theory]
    [InlineData(8e-3, 8e-3, 8e-3)]
    [InlineData(8e-3, 8e-3, 4e-3)]
    [InlineData(4e-3, 6e-3, 10e-3)]
    public void AddEchoes_FiniteAperture_AgreesWithTheAngularSpectrum(double aperture, double elevation, double wall)
    {
        WaveSettings settings = WaveBench.Settings with { ApertureMetres = aperture, ElevationMetres = elevation };
        var bench = new WaveBench(settings);
        var plane = new WaveBench(settings with { Diffraction = false });
        bench.Cell.ThicknessMetres = plane.Cell.ThicknessMetres = wall;
        float[] record = bench.Record();
        float[] reference = plane.Record();
        var spectrum = new AngularSpectrum(
            new AngularSpectrumSetup
            {
                ApertureMetres = aperture,
                ElevationMetres = elevation,
                FrequencyHz = 7e6,
                VelocityMetresPerSecond = 5920,
                CouplantMetresPerSecond = 1480,
            }
        );
        Complex scale = Measured(0) / spectrum.Response(7e6, 0, wall, 4e-3);
        Assert.Equal(0, scale.Phase, 0.02);
        for (int n = 1; n <= 2; n++)
        {
            Complex ratio = Measured(n) / scale / spectrum.Response(7e6, n, wall, 4e-3);
            Assert.Equal(1, ratio.Magnitude, 0.02);
            Assert.Equal(0, ratio.Phase, 0.04);
        }

        Complex Measured(int n)
        {
            double time = 2 * 4e-3 / 1480 + n * 2 * wall / 5920;
            return WaveBench.SpectrumAt(record, time, 0.6e-6, 7e6) / WaveBench.SpectrumAt(reference, time, 0.6e-6, 7e6);
        }
    }

    /// <summary>
    /// The library's own correction, <see cref="FresnelDelay"/>, written apart from this model: phase delay at the centre frequency within 0.3 ns (its table is
    /// linear in steps of 0.01 of S).
    /// </summary>
    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    public void AddEchoes_FiniteAperture_IsEarlyByTheFresnelDelay(int order)
    {
        var bench = new WaveBench(WaveBench.Settings);
        float[] record = bench.Record();
        double couplant = 2 * 4e-3 / 1480;
        double metal = order * 2 * 8e-3 / 5920;
        Complex echo = WaveBench.SpectrumAt(record, couplant + metal, 0.7e-6, 7e6);
        double delay = (-echo).Phase / (2 * Math.PI * 7e6);
        double expected = new FresnelDelay(8e-3, 8e-3, 7e6, 1480, 5920).Seconds(couplant, metal);
        Assert.True(expected < -1e-9, "The case must have an advance to test.");
        Assert.Equal(expected, delay, 0.3e-9);
    }

    /// <summary>
    /// Attenuation alpha0 (f/f0)² lowers the centre of a Gaussian spectrum by <c>2 beta fc v / (1 + 2 beta v)</c>, beta = alpha0 x / f0² in nepers and
    /// v = variance of the amplitude spectrum; from algebra (product of Gaussians).
    /// </summary>
    [Fact]
    public void AddEchoes_Attenuation_LowersTheCentreFrequencyByTheFormula()
    {
        WaveSettings settings = WaveBench.Settings with
        {
            Diffraction = false,
            AttenuationDecibelsPerMetre = 200,
            AttenuationFrequencyHz = 7e6,
        };
        var bench = new WaveBench(settings);
        bench.Cell.ThicknessMetres = 10e-3;
        float[] record = bench.Record();
        double time = 2 * 4e-3 / 1480 + 2 * 10e-3 / 5920;
        double moment = 0;
        double total = 0;
        for (double f = 1e6; f < 14e6; f += 20e3)
        {
            double magnitude = WaveBench.SpectrumAt(record, time, 0.6e-6, f).Magnitude;
            moment += f * magnitude;
            total += magnitude;
        }
        double nepers = 200 / (20 / Math.Log(10)) * 20e-3;
        double beta = nepers / (7e6 * 7e6);
        double sigma = new GaborPulse(7e6, 0.6).SigmaSeconds;
        double variance = Math.Pow(1 / (2 * Math.PI * sigma), 2);
        double shift = 2 * beta * 7e6 * variance / (1 + 2 * beta * variance);
        Assert.True(shift > 0.2e6);
        Assert.Equal(7e6 - shift, moment / total, 10e3);
    }

    [Fact]
    public void AddEchoes_Facts_SayWhatTheRecordHolds()
    {
        var bench = new WaveBench(WaveBench.Settings with { FaceReflection = 0.2 });
        bench.Cell.DelaySeconds = 33e-9;
        bench.Cell.ThicknessMetres = 7e-3;
        float[] record = bench.Record(1600);
        EchoFacts facts = bench.Facts;
        Assert.Equal(2 * 4e-3 / 1480 + 33e-9, facts.InterfaceSeconds, 1e-12);
        Assert.Equal(facts.InterfaceSeconds + 2 * 7e-3 / 5920, facts.BackWallSeconds, 1e-12);
        Assert.Equal(0.7, Peak(facts.InterfaceSeconds), 0.01);
        Assert.Equal(facts.InterfaceAmplitude, Peak(facts.InterfaceSeconds), 0.02);
        Assert.Equal(Math.Abs(facts.BackWallAmplitude), Peak(facts.BackWallSeconds), 0.01);
        Assert.Equal(Math.Abs(facts.CouplantMultipleAmplitude), Peak(facts.CouplantMultipleSeconds), 0.01);
        Assert.True(facts.BackWallAmplitude < 0);
        Assert.Equal(1, facts.Coherence);

        float Peak(double time)
        {
            float peak = 0;
            for (int i = 0; i < record.Length; i++)
            {
                if (Math.Abs(WaveBench.StartSeconds + i / WaveBench.RateHz - time) < 0.15e-6)
                    peak = Math.Max(peak, Math.Abs(record[i]));
            }
            return peak;
        }
    }

    [Fact]
    public void AddEchoes_Dry_AddsNothing()
    {
        var bench = new WaveBench(WaveBench.Settings);
        bench.Cell.CoupledFraction = 0;
        Assert.All(bench.Record(), sample => Assert.Equal(0, sample));
        Assert.True(double.IsNaN(bench.Facts.InterfaceSeconds));
    }

    /// <summary>An echo is the same wherever the record begins and ends: a shifted record holds shifted samples, cut echoes are cut, not moved.</summary>
    [Fact]
    public void AddEchoes_RecordCutAnywhere_HoldsTheSameSamples()
    {
        var bench = new WaveBench(WaveBench.Settings);
        float[] whole = bench.Record();
        for (int first = 0; first < 700; first += 61)
        {
            var part = new float[137];
            bench.Model.AddEchoes(
                bench.Cell,
                WaveBench.StartSeconds + first / WaveBench.RateHz,
                WaveBench.RateHz,
                part,
                bench.Workspace,
                out _
            );
            for (int i = 0; i < part.Length; i++)
                Assert.Equal(whole[first + i], part[i], 3e-6);
        }
    }

    [Fact]
    public void AddEchoes_FlatWall_DoesNotAllocate()
    {
        var bench = new WaveBench(WaveBench.Settings with { FaceReflection = 0.1 });
        bench.Record();
        var samples = new float[1000];
        bench.Model.AddEchoes(bench.Cell, 1e-6, 100e6, samples, bench.Workspace, out _);
        long before = GC.GetAllocatedBytesForCurrentThread();
        for (int i = 0; i < 20; i++)
            bench.Model.AddEchoes(bench.Cell, 1e-6, 100e6, samples, bench.Workspace, out _);
        Assert.Equal(0, GC.GetAllocatedBytesForCurrentThread() - before);
    }
}
