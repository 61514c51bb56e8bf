using EchoToThickness.Grids;
using EchoToThickness.Measurement;
using EchoToThickness.Pairing;
using EchoToThickness.Procedures;
using EchoToThickness.Stacks;
using EchoToThickness.Tests.Engine;
using Xunit;

namespace EchoToThickness.Tests.Train;

/// <summary>Records that real acquisitions make and clean models do not. Physics: signs and strengths of echoes in layers.</summary>
public class TrainRobustnessTests
{
    private const int Samples = 1500;
    private const double Spacing = 270.27; // samples; 8 mm at 5920 m/s and 100 MS/s

    private static readonly WallSettings Range = new() { MinimumMetres = 1e-3, MaximumMetres = 25e-3 };

    private static readonly double Wall = Spacing / SyntheticStack.SampleRateHz * SyntheticStack.Velocity / 2;

    [Theory]
    [InlineData(0.2, 0)]
    [InlineData(0.3, 0)]
    [InlineData(0.5, 0)]
    [InlineData(0.3, 3e-6)] // time origin wrong: only the pattern tells
    [InlineData(0.5, -1e-6)]
    public void MeasureCell_CouplantOverAir_NeverReadsAWall(double face, double shiftSeconds)
    {
        // Water-air is -1, so every round trip multiplies by -R: the polarity alternates.
        CellResult cell = Measure(
            aScan =>
            {
                for (int m = 0; 200 + 350 * m < Samples; m++)
                    SyntheticStack.AddPulse(aScan, 200 + 350 * m, 0.7 * Math.Pow(-face, m));
            },
            1.5e-6 + shiftSeconds
        );
        Assert.NotEqual(CellStatus.Measured, cell.Status);
        Assert.True(double.IsNaN(cell.ThicknessMetres));
    }

    [Fact]
    public void MeasureCell_LoneStrongEchoWhoseRepeatLiesOutside_IsNotAWall()
    {
        // -9 dB against the interface: twice what steel under water can return, and nothing in the record can confirm it.
        CellResult cell = Measure(
            aScan =>
            {
                SyntheticStack.AddPulse(aScan, 300, 0.7);
                SyntheticStack.AddPulse(aScan, 1100, -0.25);
            },
            6e-6
        );
        Assert.Equal(CellStatus.AmbiguousPairing, cell.Status);
        Assert.True(double.IsNaN(cell.ThicknessMetres));
    }

    [Theory]
    [InlineData(-18)]
    [InlineData(-14)]
    [InlineData(-10)]
    [InlineData(-6)]
    [InlineData(6)]
    [InlineData(10)]
    [InlineData(14)]
    [InlineData(18)]
    public void MeasureCell_StrongCouplantEchoOverBackWall2_WallIsNotDoubled(int offSamples)
    {
        // A quarter of the interface, three times the wall: the two together have neither's phase. 3.85 us: the layer echoes about 690.
        CellResult cell = Measure(
            aScan =>
            {
                Train(aScan, 150, Spacing, -0.055);
                SyntheticStack.AddPulse(aScan, 150 + 2 * Spacing + offSamples, 0.17);
            },
            3.9e-6
        );
        Assert.Equal(CellStatus.Measured, cell.Status);
        Assert.Equal(Wall, cell.ThicknessMetres, 0.1e-3);
    }

    [Fact]
    public void MeasureCell_ScatterThatDividesTheWall_IsNotAThinWall()
    {
        // Grain at a quarter and two quarters of the wall's time, a third of its echo: no train of walls grows threefold at its fourth.
        CellResult cell = Measure(aScan =>
        {
            SyntheticStack.AddPulse(aScan, 150, 0.7);
            SyntheticStack.AddPulse(aScan, 150 + Spacing / 4, -0.012);
            SyntheticStack.AddPulse(aScan, 150 + 2 * Spacing / 4, -0.012);
            SyntheticStack.AddPulse(aScan, 150 + 3 * Spacing / 4, -0.011);
            SyntheticStack.AddPulse(aScan, 150 + Spacing, -0.04);
        });
        Assert.Equal(Wall, cell.ThicknessMetres, 0.05e-3);
    }

    [Fact]
    public void MeasureCell_SoftArrayFace_WallIsReadThroughInvertedCouplantEchoes()
    {
        CellResult cell = Measure(aScan =>
        {
            Train(aScan, 150, Spacing, -0.08);
            for (int m = 1; m < 4; m++)
                SyntheticStack.AddPulse(aScan, 150 + 330 * m, 0.7 * Math.Pow(-0.4, m));
        });
        Assert.Equal(CellStatus.Measured, cell.Status);
        Assert.Equal(Wall, cell.ThicknessMetres, 0.05e-3);
    }

    [Theory]
    [InlineData(-0.24)] // aluminium under water: T^2 / R is -9 dB
    [InlineData(-0.60)]
    public void MeasureCell_StrongWallCloseBehindTheInterface_IsNeitherRingDownNorASecondFront(double first)
    {
        const double thin = 5.1 * SyntheticStack.SampleRateHz / SyntheticStack.FrequencyHz;
        CellResult cell = Measure(aScan => Train(aScan, 150, thin, first));
        Assert.Equal(CellStatus.Measured, cell.Status);
        Assert.Equal(thin / SyntheticStack.SampleRateHz * SyntheticStack.Velocity / 2, cell.ThicknessMetres, 0.02e-3);
    }

    [Theory]
    [InlineData(0.3)]
    [InlineData(0.95)]
    [InlineData(5.0)] // cut off at the rails
    public void MeasureCell_TransmittedPulseInTheRecord_IsNotTheInterface(double amplitude)
    {
        CellResult cell = Measure(
            aScan =>
            {
                Train(aScan, 400, Spacing, -0.08);
                for (int i = 0; i < 200; i++)
                    aScan[i] += (float)(amplitude * Math.Exp(-i / 20.0) * Math.Sin(2 * Math.PI * 0.07 * i));
                for (int i = 0; i < aScan.Length; i++)
                    aScan[i] = Math.Clamp(aScan[i], -1, 1);
            },
            0
        );
        Assert.Equal(CellStatus.Measured, cell.Status);
        Assert.Equal(Wall, cell.ThicknessMetres, 2e-6);
        Assert.Equal(4e-6, cell.InterfaceSeconds, 0.02e-6);
    }

    [Fact]
    public void MeasureCell_NoWallUnderStrongNoise_DoesNotTakeNoiseForTheInterface()
    {
        // The interface stands 20 dB over the noise after the filter, so maxima of noise reach 30 % of it in most records; taken for
        // the interface they would make the interface a wall. 300 records, at most one number.
        const int records = 300;
        var samples = new float[records * Samples];
        for (int seed = 0; seed < records; seed++)
        {
            var random = new Random(seed);
            Span<float> aScan = samples.AsSpan(seed * Samples, Samples);
            SyntheticStack.AddPulse(aScan, 700, 0.7);
            foreach (ref float sample in aScan)
            {
                double u = Math.Sqrt(-2 * Math.Log(1 - random.NextDouble()));
                sample += (float)(0.2 * u * Math.Cos(2 * Math.PI * random.NextDouble()));
            }
        }
        MemoryAScanSource source = MemoryAScanSource.From<float>(Info(records, 1.5e-6), samples);
        MeasurementPlan plan = MeasurementPlan.Compile(new Procedure { Wall = Range }, source.Info);
        var tile = new GridTile(records, plan.Layers);
        tile.Place(0, 1, 0, records);
        using IAScanReader reader = source.OpenReader();
        plan.CreateMeasurer().Measure(reader.Lend(0, 1, 0, records), tile, null);
        int numbers = 0;
        foreach (byte status in tile.Status)
            numbers += status == (byte)CellStatus.Measured ? 1 : 0;
        Assert.True(numbers <= 1, $"{numbers} of 300 records read a number");
    }

    [Fact]
    public void MeasureCell_EvenTrainUnderNoise_IsNotSplitIntoReflectorAndWall()
    {
        // Echo 3 stands out by noise (a sixth, one standard deviation): one wall, not a lamination at a third of the depth.
        double[] strengths = [0.090, 0.067, 0.0775, 0.051, 0.072, 0.050, 0.055, 0.055];
        CellResult cell = Measure(aScan =>
        {
            SyntheticStack.AddPulse(aScan, 150, 0.7);
            for (int n = 1; n <= strengths.Length; n++)
                SyntheticStack.AddPulse(aScan, 150 + 134.4 * n, -strengths[n - 1]);
            var random = new Random(1);
            foreach (ref float sample in aScan.AsSpan())
                sample += (float)(0.06 * (random.NextDouble() - 0.5));
        });
        Assert.Equal(CellStatus.Measured, cell.Status);
        Assert.Equal(134.4e-8 * SyntheticStack.Velocity / 2, cell.ThicknessMetres, 0.05e-3);
    }

    private static void Train(Span<float> aScan, double start, double spacing, double first)
    {
        SyntheticStack.AddPulse(aScan, start, 0.7);
        for (int n = 1; n < 8 && start + n * spacing < aScan.Length - 40; n++)
            SyntheticStack.AddPulse(aScan, start + n * spacing, first * Math.Pow(0.8, n - 1));
    }

    private static CellResult Measure(Action<float[]> draw, double startSeconds = 1.5e-6)
    {
        var aScan = new float[Samples];
        draw(aScan);
        MemoryAScanSource source = MemoryAScanSource.From<float>(Info(1, startSeconds), aScan);
        MeasurementPlan plan = MeasurementPlan.Compile(new Procedure { Wall = Range }, source.Info);
        return MeasurementEngine.Explain(source, plan, 0, 0, new MeasurementTrace());
    }

    private static StackInfo Info(int beams, double startSeconds) =>
        new()
        {
            Name = "robust",
            Shape = new StackShape(1, beams, Samples),
            SampleType = SampleType.Float32,
            TimeBase = new TimeBase { SampleRateHz = SyntheticStack.SampleRateHz, StartSeconds = startSeconds },
            Amplitude = AmplitudeScale.For(SampleType.Float32),
            Neighbours = NeighbourAxes.None,
            Acquisition = new AcquisitionFacts
            {
                FrequencyHz = SyntheticStack.FrequencyHz,
                BandwidthFraction = 0.6,
                VelocityMetresPerSecond = SyntheticStack.Velocity,
            },
        };
}
