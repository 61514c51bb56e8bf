using EchoToThickness.Grids;
using EchoToThickness.Measurement;
using EchoToThickness.Pairing;
using EchoToThickness.Procedures;
using EchoToThickness.Stacks;
using Xunit;

namespace EchoToThickness.Tests.Engine;

public class MeasurementEngineTests
{
    private static double Wall(int scan, int beam) => 4e-3 + 0.02e-3 * scan + 0.1e-3 * beam;

    [Fact]
    public void Run_NoiseFreeTrain_ReadsEveryWallWithinAMicrometre()
    {
        // Plane copies of one pulse: the only errors are 16-bit rounding and the sub-sample fit.
        MemoryAScanSource source = SyntheticStack.Build(20, 16, Wall);
        CollectingSink sink = Measure(source, new Procedure(), 2);
        for (int scan = 0; scan < 20; scan++)
        for (int beam = 0; beam < 16; beam++)
        {
            Assert.Equal((byte)CellStatus.Measured, sink.Grid.Status[scan * 16 + beam]);
            Assert.Equal(Wall(scan, beam), sink.Grid[GridLayer.Thickness][scan * 16 + beam], 1e-6);
        }
    }

    [Theory]
    [InlineData(PairingRule.Train)]
    [InlineData(PairingRule.Difference)]
    public void Run_AnyNumberOfThreads_GivesTheSameBytes(PairingRule rule)
    {
        MemoryAScanSource source = SyntheticStack.Build(173, 16, Wall);
        Procedure procedure = rule == PairingRule.Train ? new Procedure() : Gates(TrackRule.Path);
        CollectingSink one = Measure(source, procedure, 1);
        foreach (int threads in (int[])[2, 8])
        {
            CollectingSink many = Measure(source, procedure, threads);
            foreach (GridLayer layer in one.Grid.Layers)
            {
                if (GridLayers.TypeOf(layer) == GridLayerType.Float32)
                    Assert.True(
                        one.Grid[layer].AsSpan().SequenceEqual(many.Grid[layer])
                            || SameWithNaN(one.Grid[layer], many.Grid[layer]),
                        $"{layer} differs with {threads} threads."
                    );
            }
            Assert.Equal(one.Grid.Status, many.Grid.Status);
            Assert.Equal(one.Grid.Notes, many.Grid.Notes);
            Assert.Equal(one.Summary!.CountByStatus, many.Summary!.CountByStatus);
        }
    }

    [Fact]
    public void Run_GroupsAndStrips_DeliverEveryCellOnce()
    {
        MemoryAScanSource source = SyntheticStack.Build(173, 5, Wall);
        foreach (Procedure procedure in (Procedure[])[new Procedure(), Gates(TrackRule.Median)])
            Assert.All(Measure(source, procedure, 3).Arrivals, arrivals => Assert.Equal(1, arrivals));
    }

    [Fact]
    public void Explain_AnyCell_AgreesWithTheGrid()
    {
        MemoryAScanSource source = SyntheticStack.Build(150, 8, Wall);
        foreach (Procedure procedure in (Procedure[])[new Procedure(), Gates(TrackRule.Path)])
        {
            CollectingSink sink = Measure(source, procedure, 2);
            MeasurementPlan plan = MeasurementPlan.Compile(procedure, source.Info);
            foreach ((int scan, int beam) in ((int, int)[])[(0, 0), (63, 7), (64, 0), (149, 3)])
            {
                CellResult cell = MeasurementEngine.Explain(source, plan, scan, beam, new MeasurementTrace());
                Assert.Equal(sink.Grid[GridLayer.Thickness][scan * 8 + beam], (float)cell.ThicknessMetres);
                Assert.Equal(sink.Grid.Status[scan * 8 + beam], (byte)cell.Status);
            }
        }
    }

    [Fact]
    public void Run_Cancelled_NeverCompletesTheSink()
    {
        MemoryAScanSource source = SyntheticStack.Build(200, 16, Wall);
        MeasurementPlan plan = MeasurementPlan.Compile(new Procedure(), source.Info);
        using var cancel = new CancellationTokenSource();
        var sink = new CollectingSink();
        var options = new MeasurementOptions { Progress = (_, _) => cancel.Cancel(), Cancellation = cancel.Token };
        Assert.Throws<OperationCanceledException>(() =>
            MeasurementEngine.Run(source, plan, plan.CreateHeader("test"), sink, options)
        );
        Assert.Null(sink.Summary);
    }

    [Fact]
    public void Run_VelocityDoubled_DoublesEveryWall()
    {
        MemoryAScanSource source = SyntheticStack.Build(4, 8, Wall);
        var wide = new WallSettings { MinimumMetres = 1e-3, MaximumMetres = 40e-3 };
        Procedure At(double velocity) =>
            new()
            {
                Wall = wide,
                Velocity = new VelocitySettings { ValueMetresPerSecond = velocity },
            };
        float[] once = Measure(source, At(3000), 1).Grid[GridLayer.Thickness];
        float[] twice = Measure(source, At(6000), 1).Grid[GridLayer.Thickness];
        for (int cell = 0; cell < once.Length; cell++)
            Assert.Equal(2 * once[cell], twice[cell], 1e-9f);
    }

    [Fact]
    public void Compile_UnknownLayer_NamesTheLayersThereAre()
    {
        MemoryAScanSource source = SyntheticStack.Build(1, 1, Wall);
        var procedure = new Procedure { Output = new OutputSettings { Layers = ["thicknes"] } };
        ProcedureException error = Assert.Throws<ProcedureException>(() =>
            MeasurementPlan.Compile(procedure, source.Info)
        );
        Assert.Contains("thicknes", error.Message, StringComparison.Ordinal);
        Assert.Contains("uncertainty_noise", error.Message, StringComparison.Ordinal);
    }

    internal static CollectingSink Measure(IAScanSource source, Procedure procedure, int threads)
    {
        MeasurementPlan plan = MeasurementPlan.Compile(procedure, source.Info);
        var sink = new CollectingSink();
        MeasurementEngine.Run(
            source,
            plan,
            plan.CreateHeader("test"),
            sink,
            new MeasurementOptions { Threads = threads }
        );
        return sink;
    }

    private static bool SameWithNaN(float[] a, float[] b) =>
        a.Zip(b).All(pair => BitConverter.SingleToInt32Bits(pair.First) == BitConverter.SingleToInt32Bits(pair.Second));

    private static Procedure Gates(TrackRule track) =>
        new()
        {
            Conditioning = new ConditioningSettings { Signal = SignalChoice.Rectified },
            Interface = new InterfaceSettings { Track = track },
            Gates =
            [
                new GateSettings
                {
                    Name = "wall 1",
                    Start = GateExtent.FromDepth(2e-3),
                    Width = GateExtent.FromDepth(7e-3),
                    Level = new LevelRule(0.05, LevelReference.FullScale),
                    Take = EchoChoice.First,
                },
            ],
            Pairing = new PairingSettings { Rule = PairingRule.Difference, To = "wall 1" },
        };
}
