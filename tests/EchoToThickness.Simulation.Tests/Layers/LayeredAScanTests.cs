using System.Text.Json;
using EchoToThickness.Simulation.Layers;
using Xunit;

namespace EchoToThickness.Simulation.Tests.Layers;

public sealed class LayeredAScanTests
{
    private const double RateHz = 100e6;
    private const double FrequencyHz = 7e6;
    private static readonly LayerMaterial Water = new(1482.358, 998.207);
    private static readonly LayerMaterial Steel = new(5920, 7850);

    [Theory]
    [InlineData(0, 0.0)]
    [InlineData(0, 0.9)]
    [InlineData(1, 0.0)]
    public void Render_PlateOfTheOutsideTable_IsTheSumOfItsEchoes(int train, double phase)
    {
        // Amplitudes and times of the first echoes from testdata/checks/01_layer_response.json (mpmath); pulses by their own formula, at
        // a start off the sample grid. The record ends before echo 10, the first one the table lacks.
        using JsonDocument table = JsonDocument.Parse(
            File.ReadAllText(Checks.PathOf("testdata", "checks", "01_layer_response.json"))
        );
        JsonElement echoes = table.RootElement.GetProperty("echo_trains")[train];
        double[] arrivals = [.. echoes.GetProperty("arrival_s").EnumerateArray().Select(e => e.GetDouble())];
        double[] amplitudes = [.. echoes.GetProperty("amplitude").EnumerateArray().Select(e => e.GetDouble())];
        double wall = train == 0 ? 5e-3 : 8e-3;
        LayerMaterial back = train == 0 ? Water : new LayerMaterial(343.2, 1.204);
        double couplant = 3.1234e-3;
        double first = 2 * couplant / Water.VelocityMetresPerSecond;
        double start = first - 1.23456e-6;
        int samples = (int)((arrivals[^1] + 0.5e-6 + 1.23456e-6) * RateHz);
        LayeredAScan ascan = new(FrequencyHz, 0.6, phase, RateHz, start, samples);
        double[] actual = new double[samples];
        ascan.Render(new LayeredMedium(Water, [new(Steel, wall)], back), couplant, 0, actual);
        double sigma = new GaborPulse(FrequencyHz, 0.6).SigmaSeconds;
        for (int i = 0; i < samples; i++)
        {
            double expected = 0;
            for (int e = 0; e < arrivals.Length; e++)
            {
                double time = start + i / RateHz - first - arrivals[e];
                expected +=
                    amplitudes[e]
                    * Math.Exp(-time * time / (2 * sigma * sigma))
                    * Math.Cos(2 * Math.PI * FrequencyHz * time + phase);
            }
            // The documented 1e-10 of folding and rounding; the table's amplitudes are exact.
            Assert.Equal(expected, actual[i], 1e-9);
        }
    }

    [Fact]
    public void Render_ReflectingFace_AddsTheCouplantsMultiples()
    {
        // A wall so thick that its echo comes late: the record holds interface echo n at 2 n d / c with amplitude r (g r)^(n-1).
        const double face = 0.3;
        double couplant = 2e-3;
        LayeredAScan ascan = new(FrequencyHz, 0.6, 0, RateHz, 0, 1200);
        double[] actual = new double[1200];
        ascan.Render(new LayeredMedium(Water, [], Steel), couplant, face, actual);
        double reflection = 0.9382837259980582;
        double step = 2 * couplant / Water.VelocityMetresPerSecond;
        double sigma = new GaborPulse(FrequencyHz, 0.6).SigmaSeconds;
        for (int i = 0; i < actual.Length; i++)
        {
            double expected = 0;
            double amplitude = reflection;
            for (int n = 1; n < 10; n++, amplitude *= face * reflection)
            {
                double time = i / RateHz - n * step;
                expected +=
                    amplitude
                    * Math.Exp(-time * time / (2 * sigma * sigma))
                    * Math.Cos(2 * Math.PI * FrequencyHz * time);
            }
            Assert.Equal(expected, actual[i], 1e-9);
        }
    }

    [Fact]
    public void Render_AttenuatingCouplant_WeakensByItsLossAtEachFrequency()
    {
        // With n = 0 every frequency loses alike: exp(-2 a d) on the interface echo, nothing else.
        double couplant = 4e-3;
        double nepers = 30;
        LayerMaterial lossy = Water with { AttenuationNepersPerMetre = nepers, AttenuationPower = 0 };
        LayeredAScan ascan = new(FrequencyHz, 0.6, 0, RateHz, 4e-6, 300);
        double[] clean = new double[300];
        double[] weak = new double[300];
        ascan.Render(new LayeredMedium(Water, [], null), couplant, 0, clean);
        ascan.Render(new LayeredMedium(lossy, [], null), couplant, 0, weak);
        double factor = Math.Exp(-2 * nepers * couplant);
        for (int i = 0; i < clean.Length; i++)
            Assert.Equal(factor * clean[i], weak[i], 1e-9);
        Assert.True(clean.Max(Math.Abs) > 0.9);
    }

    [Fact]
    public void Render_AttenuationGrowingWithFrequency_LowersTheCentreAsAGaussianPulseDoes()
    {
        // n = 1 on a Gaussian spectrum of standard deviation s = 1 / (2 pi sigma) moves its centre by -A s² with exp(-A f); the pulse keeps
        // its width and shrinks by exp(-A f0 + A² s² / 2). (Algebra of Gaussian integrals,
        // for a pulse so narrow that nothing of it is left at frequency 0, where |f| has its corner.)
        double couplant = 4e-3;
        LayerMaterial lossy = Water with
        {
            AttenuationNepersPerMetre = 50,
            AttenuationFrequencyHz = FrequencyHz,
            AttenuationPower = 1,
        };
        double start = 2 * couplant / Water.VelocityMetresPerSecond - 1.5e-6;
        LayeredAScan ascan = new(FrequencyHz, 0.3, 0, RateHz, start, 300);
        double[] actual = new double[300];
        ascan.Render(new LayeredMedium(lossy, [], null), couplant, 0, actual);
        double sigma = new GaborPulse(FrequencyHz, 0.3).SigmaSeconds;
        double spread = 1 / (2 * Math.PI * sigma);
        double slope = 2 * 50 * couplant / FrequencyHz;
        double centre = FrequencyHz - slope * spread * spread;
        double peak = Math.Exp(-slope * FrequencyHz + slope * slope * spread * spread / 2);
        for (int i = 0; i < actual.Length; i++)
        {
            double time = i / RateHz - 1.5e-6;
            double expected =
                -peak * Math.Exp(-time * time / (2 * sigma * sigma)) * Math.Cos(2 * Math.PI * centre * time);
            Assert.Equal(expected, actual[i], 1e-9);
        }
    }

    [Theory]
    [InlineData(-0.5e-6)]
    [InlineData(0)]
    [InlineData(3.3333e-6)]
    [InlineData(17.77e-6)]
    public void Render_AnyStart_IsAPieceOfTheSameAScan(double start)
    {
        LayeredMedium medium = new(Water, [new(Steel, 2e-3)], null);
        LayeredAScan whole = new(FrequencyHz, 0.6, 0, RateHz, start - 200 / RateHz, 700);
        LayeredAScan piece = new(FrequencyHz, 0.6, 0, RateHz, start, 500);
        double[] first = new double[700];
        double[] second = new double[500];
        whole.Render(medium, 2e-3, 0.2, first);
        piece.Render(medium, 2e-3, 0.2, second);
        for (int i = 0; i < second.Length; i++)
            Assert.Equal(first[i + 200], second[i], 1e-9);
    }

    [Fact]
    public void AScan_ThatCannotBe_IsRefused()
    {
        Assert.Contains(
            "half the sample rate",
            Assert.Throws<ArgumentException>(() => new LayeredAScan(20e6, 0.9, 0, 50e6, 0, 100)).Message
        );
        Assert.Throws<ArgumentOutOfRangeException>(() => new LayeredAScan(7e6, 0.6, 0, 100e6, 0, 0));
        Assert.Throws<ArgumentOutOfRangeException>(() => new LayeredAScan(7e6, 0, 0, 100e6, 0, 10));
        Assert.Throws<ArgumentException>(() => new LayeredAScan(7e6, 0.6, 0, 100e6, double.NaN, 10));
        LayeredAScan ascan = new(7e6, 0.6, 0, 100e6, 0, 10);
        LayeredMedium medium = new(Water, [], null);
        Assert.Throws<ArgumentOutOfRangeException>(() => ascan.Render(medium, -1e-3, 0, new double[10]));
        Assert.Throws<ArgumentOutOfRangeException>(() => ascan.Render(medium, 1e-3, 1.5, new double[10]));
        Assert.Throws<ArgumentException>(() => ascan.Render(medium, 1e-3, 0, new double[9]));
    }
}
