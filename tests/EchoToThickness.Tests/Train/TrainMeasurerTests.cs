using EchoToThickness.Evidence;
using EchoToThickness.Grids;
using EchoToThickness.Measurement;
using EchoToThickness.Pairing;
using EchoToThickness.Procedures;
using EchoToThickness.Signals;
using EchoToThickness.Stacks;
using EchoToThickness.Tests.Engine;
using Xunit;

namespace EchoToThickness.Tests.Train;

public class TrainMeasurerTests
{
    private const double Spacing = 270.27; // samples; 8 mm at 5920 m/s and 100 MS/s

    private static readonly double Wall = Spacing / SyntheticStack.SampleRateHz * SyntheticStack.Velocity / 2;

    [Fact]
    public void MeasureCell_SoundWall_PairsInterfaceAndWalls()
    {
        CellResult cell = Measure(aScan => Train(aScan, 150, Spacing));
        Assert.Equal(CellStatus.Measured, cell.Status);
        Assert.Equal(Wall, cell.ThicknessMetres, 0.5e-6);
        Assert.Equal(0, cell.PairedOrders & 15);
        Assert.Equal(Wall, cell.ThicknessInterfaceWallMetres, 1e-6);
        Assert.Equal(Wall, cell.ThicknessWallWallMetres, 1e-6);
    }

    [Fact]
    public void MeasureCell_WholeRecordInverted_ReadsTheSame()
    {
        CellResult plain = Measure(aScan => Train(aScan, 150, Spacing));
        CellResult turned = Measure(aScan =>
        {
            Train(aScan, 150, Spacing);
            for (int i = 0; i < aScan.Length; i++)
                aScan[i] = -aScan[i];
        });
        Assert.Equal(plain.Status, turned.Status);
        Assert.Equal(plain.ThicknessMetres, turned.ThicknessMetres, 1e-9);
    }

    [Fact]
    public void MeasureCell_CouplantEchoStrongerThanTheWall_IsNamedAndNotPaired()
    {
        // Second pass through the couplant at twice the interface time, at three times the wall's strength, inside the train.
        double start = 1.5e-6 * SyntheticStack.SampleRateHz;
        CellResult cell = Measure(aScan =>
        {
            Train(aScan, 150, Spacing);
            SyntheticStack.AddPulse(aScan, 2 * (start + 150) - start, 0.25);
        });
        Assert.Equal(CellStatus.Measured, cell.Status);
        Assert.Equal(Wall, cell.ThicknessMetres, 5e-6);
    }

    [Fact]
    public void MeasureCell_InterfaceLost_TimesWallToWall()
    {
        CellResult cell = Measure(aScan =>
        {
            for (int n = 0; n < 5; n++)
                SyntheticStack.AddPulse(aScan, 60 + n * 170, -0.3 * Math.Pow(0.9, n));
        });
        Assert.Equal(CellStatus.Measured, cell.Status);
        Assert.True(cell.Notes.HasFlag(CellNotes.WithoutInterface));
        Assert.Equal(170 / SyntheticStack.SampleRateHz * SyntheticStack.Velocity / 2, cell.ThicknessMetres, 1e-6);
    }

    [Fact]
    public void MeasureCell_SaturatedInterface_TimesWallToWallAndSaysSo()
    {
        CellResult cell = Measure(aScan =>
        {
            Train(aScan, 150, Spacing, 6);
            for (int i = 0; i < aScan.Length; i++)
                aScan[i] = Math.Clamp(aScan[i], -1, 1);
        });
        Assert.Equal(CellStatus.Measured, cell.Status);
        Assert.True(cell.Notes.HasFlag(CellNotes.InterfaceSaturated));
        Assert.Equal(1, cell.PairedOrders & 15);
        Assert.Equal(Wall, cell.ThicknessMetres, 1e-6);
    }

    [Theory]
    [InlineData(TrainExpectation.Laminar, CellStatus.LaminarReflector)]
    [InlineData(TrainExpectation.Pits, CellStatus.Measured)]
    public void MeasureCell_ReflectorBeforeTheWall_FollowsTheStatedExpectation(
        TrainExpectation expect,
        CellStatus status
    )
    {
        // A small reflector at 3.4 mm over a visible wall at 8 mm: one record, two readings, told apart by the procedure only.
        double depth = 0.43 * Spacing;
        CellResult cell = Measure(
            aScan =>
            {
                // The interface lies late enough that no couplant echo falls between.
                Train(aScan, 250, Spacing);
                SyntheticStack.AddPulse(aScan, 250 + depth, -0.16);
                SyntheticStack.AddPulse(aScan, 250 + 2 * depth, -0.05);
            },
            new TrainSettings { Expect = expect }
        );
        Assert.Equal(status, cell.Status);
        double reflector = depth / SyntheticStack.SampleRateHz * SyntheticStack.Velocity / 2;
        if (expect == TrainExpectation.Laminar)
        {
            Assert.Equal(Wall, cell.ThicknessMetres, 10e-6);
            Assert.Equal(reflector, cell.ReflectorDepthMetres, 20e-6);
        }
        else
            Assert.Equal(reflector, cell.ThicknessMetres, 20e-6);
    }

    [Fact]
    public void MeasureCell_InterfaceOverNoiseOnly_HardlyEverReadsANumber()
    {
        // Evidence of 12 to 13 nats over some hundred independent spacings: about one number in a thousand records. Five or more in
        // a thousand have a chance of 0.4 % at that rate.
        int numbers = 0;
        for (int seed = 0; seed < 1000; seed++)
        {
            var random = new Random(seed);
            CellResult cell = Measure(aScan =>
            {
                SyntheticStack.AddPulse(aScan, 150, 0.7);
                foreach (ref float sample in aScan.AsSpan())
                {
                    double u = Math.Sqrt(-2 * Math.Log(1 - random.NextDouble()));
                    sample += (float)(0.01 * u * Math.Cos(2 * Math.PI * random.NextDouble()));
                }
            });
            if (!double.IsNaN(cell.ThicknessMetres))
                numbers++;
        }
        Assert.InRange(numbers, 0, 4);
    }

    [Fact]
    public void MeasureCell_TransmittedPulseInTheRecord_IsPassedOverFromSearchStart()
    {
        // The transmitted pulse rings at the start of the record, stronger than the interface.
        void Draw(float[] aScan)
        {
            Train(aScan, 250, Spacing);
            for (int k = 0; k < 4; k++)
                SyntheticStack.AddPulse(aScan, 20 + 25 * k, 1.5 * Math.Pow(0.7, k));
        }

        CellResult cell = Measure(Draw, search: new InterfaceSettings { SearchStartSeconds = 1.5e-6 + 1.8e-6 });
        Assert.Equal(CellStatus.Measured, cell.Status);
        Assert.Equal(Wall, cell.ThicknessMetres, 1e-6);
        Assert.Equal(1.5e-6 + 2.5e-6, cell.InterfaceSeconds, 1e-10);
    }

    [Fact]
    public void MeasureCell_InterfaceBehindSearchEnd_IsNotTaken()
    {
        CellResult cell = Measure(
            aScan => Train(aScan, 250, Spacing),
            search: new InterfaceSettings { SearchEndSeconds = 3e-6 }
        );
        Assert.True(double.IsNaN(cell.InterfaceSeconds));
    }

    [Theory]
    [InlineData("[conditioning]\nsignal = \"envelope\"", "conditioning")]
    [InlineData("[conditioning]\naverage_beams = 3", "conditioning")]
    [InlineData("[interface]\nlevel = \"30 % of full scale\"", "interface")]
    [InlineData("[interface]\ntrack = \"path\"", "interface")]
    [InlineData("[[gate]]\nname = \"a\"\nstart = \"1 us\"\nwidth = \"1 us\"", "gate[1]")]
    public void Compile_SettingsThatTheTrainPassesOver_AreRefused(string toml, string key)
    {
        Procedure procedure = ProcedureText.Parse(toml, "p.toml");
        ProcedureException error = Assert.Throws<ProcedureException>(() =>
            MeasurementPlan.Compile(procedure, Info(1) with { Neighbours = NeighbourAxes.Both })
        );
        Assert.Contains(error.Findings, finding => finding.Key == key);
    }

    [Theory]
    [InlineData(0.9)]
    [InlineData(1.0)]
    [InlineData(1.1)]
    public void MeasureCell_WallThinnerThanEchoesResolve_IsNotReadAtAMultiple(double wallMillimetres)
    {
        // 2.1 to 2.6 periods between echoes: under the 2.8 that the rule resolves. Any number would be two or three times the wall.
        double spacing = 2e-3 * wallMillimetres / SyntheticStack.Velocity * SyntheticStack.SampleRateHz;
        CellResult cell = Measure(aScan =>
        {
            SyntheticStack.AddPulse(aScan, 250, 0.7);
            for (int n = 1; n <= 14; n++)
                SyntheticStack.AddPulse(aScan, 250 + n * spacing, -0.08 * Math.Pow(0.9, n - 1));
        });
        Assert.True(double.IsNaN(cell.ThicknessMetres), $"Reads {1e3 * cell.ThicknessMetres:F3} mm.");
    }

    [Theory]
    [InlineData(60e6)]
    [InlineData(0.5e6)]
    public void Compile_FrequencyThatTheRateCannotShow_IsRefusedWithTheRange(double frequencyHz)
    {
        var procedure = new Procedure { Train = new TrainSettings { FrequencyHz = frequencyHz } };
        MeasurementPlan plan = MeasurementPlan.Compile(procedure, Info(1));
        ProcedureException error = Assert.Throws<ProcedureException>(() => plan.CreateMeasurer());
        Assert.Contains("625000", error.Message, StringComparison.Ordinal);
        Assert.Contains("wrong unit", error.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void MeasureCell_FlatLine_SaysNoInterface() =>
        Assert.Equal(CellStatus.NoInterfaceEcho, Measure(_ => { }).Status);

    [Fact]
    public void Measure_EveryKindOfRecord_AllocatesNothing()
    {
        const int cells = 60;
        var samples = new float[cells * 1000];
        var random = new Random(3);
        for (int cell = 0; cell < cells; cell++)
        {
            Span<float> aScan = samples.AsSpan(cell * 1000, 1000);
            Train(aScan, 100 + cell, 120 + 3 * cell);
            double noise = cell % 3 == 0 ? 0.05 : 0.001;
            foreach (ref float sample in aScan)
                sample += (float)(noise * (random.NextDouble() - 0.5));
        }
        MemoryAScanSource source = MemoryAScanSource.From<float>(Info(cells), samples);
        MeasurementPlan plan = MeasurementPlan.Compile(new Procedure(), source.Info);
        LineMeasurer measurer = plan.CreateMeasurer();
        var tile = new GridTile(cells, plan.Layers);
        tile.Place(0, 1, 0, cells);
        using IAScanReader reader = source.OpenReader();
        long allocated = Allocation.Of(() => measurer.Measure(reader.Lend(0, 1, 0, cells), tile, null));
        Assert.Equal(0, allocated);
        Assert.Contains((byte)CellStatus.Measured, tile.Status);
    }

    private static void Train(Span<float> aScan, double start, double spacing, double gain = 1)
    {
        SyntheticStack.AddPulse(aScan, start, 0.7 * gain);
        for (int n = 1; n < 6 && start + n * spacing < aScan.Length - 40; n++)
            SyntheticStack.AddPulse(aScan, start + n * spacing, -0.08 * gain * Math.Pow(0.85, n - 1));
    }

    private static CellResult Measure(
        Action<float[]> draw,
        TrainSettings? train = null,
        InterfaceSettings? search = null
    )
    {
        var aScan = new float[1000];
        draw(aScan);
        MemoryAScanSource source = MemoryAScanSource.From<float>(Info(1), aScan);
        MeasurementPlan plan = MeasurementPlan.Compile(
            new Procedure { Train = train ?? new TrainSettings(), Interface = search ?? new InterfaceSettings() },
            source.Info
        );
        return MeasurementEngine.Explain(source, plan, 0, 0, new MeasurementTrace());
    }

    private static StackInfo Info(int beams) =>
        new()
        {
            Name = "train",
            Shape = new StackShape(1, beams, 1000),
            SampleType = SampleType.Float32,
            TimeBase = new TimeBase { SampleRateHz = SyntheticStack.SampleRateHz, StartSeconds = 1.5e-6 },
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
