using EchoToThickness.Conditioning;
using EchoToThickness.Procedures;
using EchoToThickness.Stacks;
using EchoToThickness.Tests.Measurement;
using Xunit;

namespace EchoToThickness.Tests.Conditioning;

public class AScanConditionerTests
{
    private static readonly ConditioningSettings Plain = new() { RemoveOffset = false };

    [Theory]
    [InlineData(float.NaN)]
    [InlineData(float.PositiveInfinity)]
    [InlineData(float.NegativeInfinity)]
    public void Condition_SampleIsNotANumber_SaysSo(float bad)
    {
        var samples = new float[50];
        samples[49] = bad;
        Assert.Equal(AScanCondition.InvalidSamples, One(samples, Plain, out _));
    }

    [Fact]
    public void Condition_CellNotStored_SaysSo()
    {
        using MemoryAScanSource source = GateScene.Stack(1, 2, new float[60], present: [1, 0]);
        var conditioner = new AScanConditioner(source.Info, Plain);
        using IAScanReader reader = source.OpenReader();
        AScanBlock block = reader.Lend(0, 1, 0, 2);
        Assert.Equal(AScanCondition.Ready, conditioner.Condition(block, 0, 0));
        Assert.Equal(AScanCondition.NotScanned, conditioner.Condition(block, 0, 1));
    }

    [Fact]
    public void Condition_Offset_IsTheMeanAndOnlyThat()
    {
        var samples = new float[64];
        for (int i = 0; i < 64; i++)
            samples[i] = 0.25f + (i % 2 == 0 ? 0.5f : -0.5f);
        One(samples, new ConditioningSettings(), out AScanConditioner conditioner);
        // Binary fractions: exact.
        for (int i = 0; i < 64; i++)
            Assert.Equal(i % 2 == 0 ? 0.5f : -0.5f, conditioner.Filtered[i]);
        Assert.Equal(0.75f, conditioner.Raw[0]);
    }

    [Fact]
    public void Condition_BandPass_DoesNotMoveAnEcho()
    {
        // A pulse that is symmetric about sample 150 stays symmetric about it: the delay is compensated.
        var samples = new float[301];
        GateScene.Add(samples, 150, 0.5);
        var settings = new ConditioningSettings { BandLowHz = 3e6, BandHighHz = 11e6 };
        One(samples, settings, out AScanConditioner conditioner);
        ReadOnlySpan<float> filtered = conditioner.Filtered;
        for (int k = 1; k < 100; k++)
            Assert.Equal(filtered[150 - k], filtered[150 + k], 1e-6f);
        Assert.True(filtered[150] > 0.35f, $"The echo lost too much: {filtered[150]}.");
    }

    [Fact]
    public void Condition_AverageOverNeighbours_TakesPresentCellsOnTrueAxesOnly()
    {
        // Cell (scan, beam) holds the constant 10 * scan + beam (over 64); (1, 2) is missing, (0, 1) is not a number.
        var samples = new float[9 * 40];
        for (int cell = 0; cell < 9; cell++)
            samples.AsSpan(cell * 40, 40).Fill((10 * (cell / 3) + cell % 3) / 64f);
        samples[1 * 40 + 7] = float.NaN;
        byte[] present = [1, 1, 1, 1, 1, 0, 1, 1, 1];
        var settings = Plain with { AverageBeams = 3, AverageScans = 3 };

        // Both axes, around (1, 1): 0, 2, 10, 11, 20, 21, 22 take part.
        Assert.Equal(86.0 / 7 / 64, Averaged(NeighbourAxes.Both, 1, 1), 1e-6);
        // Along beams: 10 and 11. Along scans: 11 and 21. None: the cell itself.
        Assert.Equal(21.0 / 2 / 64, Averaged(NeighbourAxes.Beam, 1, 1), 1e-6);
        Assert.Equal(32.0 / 2 / 64, Averaged(NeighbourAxes.Scan, 1, 1), 1e-6);
        Assert.Equal(11.0 / 64, Averaged(NeighbourAxes.None, 1, 1), 1e-6);
        // At the corner (2, 2): 11, 21, 22.
        Assert.Equal(54.0 / 3 / 64, Averaged(NeighbourAxes.Both, 2, 2), 1e-6);

        double Averaged(NeighbourAxes axes, int scan, int beam)
        {
            using MemoryAScanSource source = GateScene.Stack(3, 3, samples, axes, present);
            var conditioner = new AScanConditioner(source.Info, settings);
            using IAScanReader reader = source.OpenReader();
            Assert.Equal(AScanCondition.Ready, conditioner.Condition(reader.Lend(0, 3, 0, 3), scan, beam));
            return conditioner.Filtered[20];
        }
    }

    [Fact]
    public void Condition_BlockWithoutTheNeighboursOfTheAverage_IsRefusedByName()
    {
        using MemoryAScanSource source = GateScene.Stack(3, 3, new float[9 * 40]);
        var conditioner = new AScanConditioner(source.Info, Plain with { AverageScans = 3 });
        Assert.Equal((1, 0), (conditioner.HaloScans, conditioner.HaloBeams));
        using IAScanReader reader = source.OpenReader();
        var error = Assert.Throws<ArgumentException>(() => conditioner.Condition(reader.Lend(1, 2, 0, 3), 1, 1));
        Assert.Contains("needs scans 0..2", error.Message, StringComparison.Ordinal);
        // The edge of the stack needs no more than there is.
        Assert.Equal(AScanCondition.Ready, conditioner.Condition(reader.Lend(1, 2, 0, 3), 2, 1));
    }

    [Fact]
    public void Envelope_ToneInsideTheBand_IsItsAmplitude()
    {
        var samples = new float[600];
        for (int i = 0; i < 600; i++)
            samples[i] = (float)(0.4 * Math.Sin(2 * Math.PI * 7e6 / GateScene.SampleRateHz * i + 0.3));
        One(samples, Plain with { BandLowHz = 3e6, BandHighHz = 11e6, Taps = 63 }, out AScanConditioner filtered);
        One(samples, Plain with { Taps = 63 }, out AScanConditioner plain);
        // Band: unit gain at the centre to the filter's ripple with 50 dB of the negative frequency left, 0.5 %. Hilbert transformer under a
        // Hamming window: its ripple at 0.07 of the sample rate is 1.2 %.
        for (int i = 100; i < 500; i++)
        {
            Assert.Equal(0.4, filtered.Envelope(0, 600)[i], 0.4 * 0.005);
            Assert.Equal(0.4, plain.Envelope(0, 600)[i], 0.4 * 0.012);
        }
    }

    [Fact]
    public void Envelope_AskedForInPieces_EqualsTheWhole()
    {
        var samples = new float[400];
        GateScene.Noise(samples, 0.1, new Random(3));
        var settings = Plain with { BandLowHz = 3e6, BandHighHz = 11e6 };
        One(samples, settings, out AScanConditioner whole);
        One(samples, settings, out AScanConditioner pieces);
        float[] expected = whole.Envelope(0, 400).ToArray();
        Assert.Equal(expected[180..200], pieces.Envelope(180, 200)[180..200].ToArray());
        Assert.Equal(expected[350..360], pieces.Envelope(350, 360)[350..360].ToArray());
        Assert.Equal(expected[90..360], pieces.Envelope(90, 95)[90..360].ToArray());
        Assert.Equal(expected, pieces.Envelope(-5, 999).ToArray());
    }

    [Fact]
    public void NoiseFraction_GaussianNoiseWithEchoes_IsItsStandardDeviation()
    {
        var samples = new float[4000];
        GateScene.Noise(samples, 0.02, new Random(12));
        for (int k = 0; k < 5; k++)
            GateScene.Add(samples, 300 + 600 * k, 0.8);
        One(samples, Plain, out AScanConditioner conditioner);
        // Standard error of the estimate from 4000 samples: 1.17 sigma / sqrt(4000) = 1.9 %; five echoes fill 6 % of the record and add 5 %.
        Assert.InRange(conditioner.NoiseFraction, 0.02 * 0.96, 0.02 * 1.10);
    }

    [Fact]
    public void Condition_RectifiedStack_KeepsItsMean()
    {
        float[] samples = [.. Enumerable.Repeat(0.25f, 50)];
        using MemoryAScanSource source = GateScene.Stack(1, 1, samples);
        StackInfo info = source.Info with { Acquisition = new AcquisitionFacts { Form = SignalForm.Rectified } };
        var conditioner = new AScanConditioner(info, new ConditioningSettings { Signal = SignalChoice.Rectified });
        using IAScanReader reader = source.OpenReader();
        conditioner.Condition(reader.Lend(0, 1, 0, 1), 0, 0);
        Assert.Equal(0.25f, conditioner.Signal(0, 50)[10]);
        Assert.False(conditioner.IsSigned);
    }

    private static AScanCondition One(float[] samples, ConditioningSettings settings, out AScanConditioner conditioner)
    {
        using MemoryAScanSource source = GateScene.Stack(1, 1, samples);
        conditioner = new AScanConditioner(source.Info, settings);
        using IAScanReader reader = source.OpenReader();
        return conditioner.Condition(reader.Lend(0, 1, 0, 1), 0, 0);
    }
}
