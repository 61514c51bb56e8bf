using EchoToThickness.Grids;
using EchoToThickness.Measurement;
using EchoToThickness.Procedures;
using EchoToThickness.Stacks;
using Xunit;

namespace EchoToThickness.Tests.Engine;

/// <summary>Order and kept evidence are matters of speed: the plain run is what they are compared with, byte for byte.</summary>
public sealed class MeasurementOrderTests
{
    private const int Scans = 140;
    private const int Beams = 12;

    private static readonly MemoryAScanSource Source = SyntheticStack.Build(
        Scans,
        Beams,
        (scan, beam) => 4e-3 + 0.02e-3 * scan + 0.1e-3 * beam
    );

    private static Procedure Gates(double startSeconds, TrackRule track) =>
        ProcedureText.Parse(
            FormattableString.Invariant(
                $"""
                [interface]
                track = "{(track == TrackRule.Path ? "path" : "none")}"
                pick = "peak"
                [[gate]]
                name = "one"
                start = "{startSeconds * 1e6:0.###} us"
                width = "4 us"
                [pairing]
                rule = "difference"
                to = "one"
                """
            ),
            "test"
        );

    private static Procedure Mapped(double jump) =>
        new()
        {
            Map = new MapSettings { Choice = MapChoice.SemiGlobal, JumpNats = jump },
        };

    private static CollectingSink Measure(
        Procedure procedure,
        MeasurementOrder? order = null,
        EvidenceStore? store = null,
        int threads = 2
    )
    {
        MeasurementPlan plan = MeasurementPlan.Compile(procedure, Source.Info);
        store?.Prepare(plan);
        var sink = new CollectingSink();
        MeasurementEngine.Run(
            Source,
            plan,
            plan.CreateHeader("test"),
            sink,
            new MeasurementOptions
            {
                Threads = threads,
                Order = order,
                Evidence = store,
            }
        );
        return sink;
    }

    private static void Same(CollectingSink expected, CollectingSink found)
    {
        foreach (GridLayer layer in expected.Grid.Layers.Where(l => GridLayers.TypeOf(l) == GridLayerType.Float32))
            Assert.Equal(expected.Grid[layer].Select(Bits), found.Grid[layer].Select(Bits));
        Assert.Equal(expected.Grid.Status, found.Grid.Status);
        Assert.Equal(expected.Grid.Notes, found.Grid.Notes);
    }

    private static int Bits(float value) => BitConverter.SingleToInt32Bits(value);

    [Fact]
    public void Run_AnyOrder_GivesTheSameBytes()
    {
        var order = new MeasurementOrder { FirstScan = 90, ScanCount = 20 };
        foreach (
            Procedure procedure in (Procedure[])
                [new(), Gates(0.7e-6, TrackRule.None), Gates(0.7e-6, TrackRule.Path), Mapped(3)]
        )
            Same(Measure(procedure), Measure(procedure, order));
    }

    [Fact]
    public void Run_Order_HandsOutWhatIsLookedAtFirstAndEvenly()
    {
        var first = new List<int>();
        MeasurementPlan plan = MeasurementPlan.Compile(Gates(0.7e-6, TrackRule.None), Source.Info);
        MeasurementEngine.Run(
            Source,
            plan,
            plan.CreateHeader("test"),
            new RowsSink(first),
            new MeasurementOptions
            {
                Threads = 1,
                Order = new MeasurementOrder { FirstScan = 84, ScanCount = 63 },
            }
        );
        // 12 beams: 21 lines a tile, so tiles begin at 0, 21, ...; three of seven (84, 105, 126) are looked at, phases 4, 6 and 5.
        Assert.Equal([84, 126, 105], first.Take(3));
        Assert.Equal(Enumerable.Range(0, 7).Select(i => 21 * i), first.Order());
    }

    [Fact]
    public void Evidence_OtherGateOverTrackedInterfaces_IsReusedAndGivesTheSameBytes()
    {
        var store = new EvidenceStore(Source, 1 << 30);
        Same(Measure(Gates(0.7e-6, TrackRule.Path)), Measure(Gates(0.7e-6, TrackRule.Path), store: store));
        MeasurementPlan other = MeasurementPlan.Compile(Gates(0.9e-6, TrackRule.Path), Source.Info);
        Assert.True(store.Prepare(other));
        Same(Measure(Gates(0.9e-6, TrackRule.Path)), Measure(Gates(0.9e-6, TrackRule.Path), store: store));
    }

    [Fact]
    public void Evidence_OtherChoiceOverTheMap_IsReusedAndGivesTheSameBytes()
    {
        var store = new EvidenceStore(Source, 1 << 30);
        Same(Measure(Mapped(3)), Measure(Mapped(3), store: store));
        Procedure belief = new()
        {
            Map = new MapSettings { Choice = MapChoice.BeliefPropagation, JumpNats = 1 },
        };
        Assert.True(store.Prepare(MeasurementPlan.Compile(belief, Source.Info)));
        Same(Measure(belief), Measure(belief, store: store));
        Same(Measure(Mapped(3)), Measure(Mapped(3), store: store));
    }

    [Fact]
    public void Evidence_WhatPassOneDependsOnChanged_IsDropped()
    {
        var store = new EvidenceStore(Source, 1 << 30);
        _ = Measure(Gates(0.7e-6, TrackRule.Path), store: store);
        Procedure changed = Gates(0.7e-6, TrackRule.Path);
        changed = changed with { Interface = changed.Interface with { MaxJumpSeconds = 0.1e-6 } };
        Assert.False(store.Prepare(MeasurementPlan.Compile(changed, Source.Info)));
        Assert.False(store.Prepare(MeasurementPlan.Compile(new Procedure(), Source.Info)));
        Same(Measure(new Procedure()), Measure(new Procedure(), store: store));
        var small = new EvidenceStore(Source, 1000);
        Assert.False(small.Prepare(MeasurementPlan.Compile(Mapped(3), Source.Info)));
        Assert.False(small.Prepare(MeasurementPlan.Compile(Mapped(3), Source.Info)));
    }

    private sealed class RowsSink(List<int> first) : IGridSink
    {
        public void Begin(GridHeader header) { }

        public void Write(GridTile tile) => first.Add(tile.FirstScan);

        public void Complete(GridSummary summary) { }
    }
}
