using EchoToThickness.Echoes;
using EchoToThickness.Signals;
using EchoToThickness.Tests.Engine;
using Xunit;

namespace EchoToThickness.Tests.Echoes;

public class EchoRecordTests
{
    private static readonly EchoScale Scale = new(SyntheticStack.SampleRateHz, SyntheticStack.FrequencyHz, 0.6);

    [Fact]
    public void Prepare_TwoPulses_FindsBothWithTheirPlaceStrengthAndSign()
    {
        EchoRecord record = Make(
            0,
            aScan =>
            {
                SyntheticStack.AddPulse(aScan, 200.25, 0.7);
                SyntheticStack.AddPulse(aScan, 450.5, -0.2);
            }
        );
        Assert.Equal(2, record.Count);
        // A parabola through three envelope samples of this pulse is good to a hundredth of a sample.
        Assert.Equal(200.25, record.Candidates[0].PositionSamples, 0.01);
        Assert.Equal(450.5, record.Candidates[1].PositionSamples, 0.01);
        Assert.Equal(0.2 / 0.7, record.Candidates[1].AmplitudeFraction / record.Candidates[0].AmplitudeFraction, 0.002);
        // Whole lags leave up to 0.11 rad of phase at this delay: 1 - cos is under 0.01.
        Assert.Equal(-1, record.Sign(0, 1), 0.01);
        Assert.Equal(1, record.Sign(0, 0), 1e-6);
    }

    [Theory]
    [InlineData(0.001)]
    [InlineData(0.01)]
    public void Prepare_WhiteNoiseUnderEchoes_MeasuresTheFilteredNoise(double noise)
    {
        // Noise per quadrature after the filter: sigma sqrt(sum |h|^2 / 2), from the taps themselves.
        AnalyticTaps taps = EchoFilter.Design(Scale.SampleRateHz, Scale.FrequencyHz, 0.6, 63);
        double power = 0;
        for (int k = 0; k < taps.Count; k++)
            power += taps.Real[k] * taps.Real[k] + taps.Imaginary[k] * taps.Imaginary[k];
        double expected = noise * Math.Sqrt(power / 2);
        double sum = 0;
        for (int seed = 0; seed < 40; seed++)
            sum += Make(noise, aScan => SyntheticStack.AddPulse(aScan, 200, 0.7), seed).NoiseFraction;
        // One record's noise scatters by about 12 %, the mean over 40 by 2 %; the calibration over 128 records by 1 %.
        Assert.InRange(sum / 40 / expected, 0.95, 1.05);
    }

    [Fact]
    public void IsClipped_FlatTop_OnlyWhereItIsFlat()
    {
        EchoRecord record = Make(
            0,
            aScan =>
            {
                SyntheticStack.AddPulse(aScan, 200, 2.0);
                SyntheticStack.AddPulse(aScan, 500, -0.3);
                for (int i = 0; i < aScan.Length; i++)
                    aScan[i] = Math.Clamp(aScan[i], -1, 1);
            }
        );
        Assert.True(record.IsClipped(0));
        Assert.False(record.IsClipped(record.Count - 1));
    }

    [Fact]
    public void Prepare_FlatLine_HasNoCandidates()
    {
        EchoRecord record = Make(0, _ => { });
        Assert.Equal(0, record.Count);
    }

    internal static EchoRecord Make(double noise, Action<float[]> draw, int seed = 1)
    {
        var aScan = new float[1000];
        draw(aScan);
        var random = new Random(seed);
        for (int i = 0; i < aScan.Length; i++)
        {
            double u = Math.Sqrt(-2 * Math.Log(1 - random.NextDouble()));
            aScan[i] += (float)(noise * u * Math.Cos(2 * Math.PI * random.NextDouble()));
        }
        var record = new EchoRecord(aScan.Length, Scale, 0, KernelPaths.Best);
        aScan.CopyTo(record.Input);
        record.Prepare(3.3, 0.3);
        return record;
    }
}
