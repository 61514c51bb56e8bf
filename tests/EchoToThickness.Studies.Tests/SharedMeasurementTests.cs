using EchoToThickness.Grids;
using EchoToThickness.Measurement;
using EchoToThickness.Measurement.Shared;
using EchoToThickness.Procedures;
using EchoToThickness.Simulation;
using EchoToThickness.Stacks;
using Xunit;

namespace EchoToThickness.Studies.Tests;

/// <summary>Procedures measured together get the bytes that each gets by itself.</summary>
public sealed class SharedMeasurementTests
{
    private const string Gates = """
        [conditioning]
        signal = "rf"
        [interface]
        level = "50 % of strongest"
        [[gate]]
        name = "one"
        start = "0.6 us"
        width = "2.6 us"
        level = "4 x noise"
        [[gate]]
        name = "two"
        follows = "one"
        start = "0.6 us"
        width = "2.6 us"
        level = "4 x noise"
        [pairing]
        rule = "difference"
        from = "interface"
        to = "one"
        minimum_snr = "0 dB"
        [velocity]
        value = "5920 m/s"
        """;

    private static readonly string[] Trains =
    [
        "",
        "train.weakest_ratio = 6",
        "train.early_weight = 0.2",
        "train.candidate_level = 5",
        "train.interface_fraction = 50 %",
        "train.frequency = 6 MHz",
        "train.neighbours = false",
        "wall.maximum = 9 mm",
        "velocity.value = 5900 m/s",
        "map.choice = semi-global",
        "map.choice = semi-global; map.jump = 1",
        "map.choice = belief propagation",
        "estimation.method = matched-filter",
        "estimation.method = peak",
        "estimation.method = peak; estimation.search = wall",
        "interface.search_start = 2 us",
    ];

    private static readonly string[] Gated =
    [
        "",
        "gate[1].start = 0.9 us",
        "gate[1].level = 8 x noise",
        "gate[2].level = -12 dB of strongest",
        "interface.level = 30 % of strongest",
        "interface.track = median",
        "interface.track = path",
        "interface.track = path; gate[1].width = 3 us",
        "conditioning.signal = envelope; conditioning.band_low = 3 MHz; conditioning.band_high = 11 MHz",
        "conditioning.signal = envelope; conditioning.band_low = 3 MHz; conditioning.band_high = 11 MHz; gate[1].level = 6 x noise",
        "conditioning.average_beams = 3",
        "conditioning.signal = rectified",
        "agreement; gate[1].level = 3 x noise",
        "pairing.from = one; pairing.to = two",
        "pairing.minimum_snr = 12 dB",
        "gate[1].pick = zero-crossing",
        "interface.pick = correlation; gate[1].pick = correlation",
        "conditioning.signal = rectified; conditioning.remove_offset = false; conditioning.saturation_samples = 0; "
            + "interface.level = 20 % of full scale; gate[1].level = 5 % of full scale; gate[2].level = 5 % of full scale; "
            + "pairing.minimum_snr = -40 dB; output.layers = [\"thickness\"]",
        "conditioning.signal = envelope; conditioning.band_low = 3 MHz; conditioning.band_high = 11 MHz; conditioning.remove_offset = false; "
            + "conditioning.saturation_samples = 0; interface.level = 20 % of full scale; gate[1].level = 5 % of full scale; "
            + "gate[2].level = 5 % of full scale; pairing.minimum_snr = -40 dB; output.layers = [\"thickness\"]",
    ];

    [Theory]
    [InlineData(false, 3)]
    [InlineData(true, 2)]
    public void Run_ManyProcedures_GivesEachItsOwnBytes(bool gates, int threads)
    {
        MemoryAScanSource source = Scan();
        MeasurementPlan[] plans = [.. Procedures(gates).Select(p => MeasurementPlan.Compile(p, source.Info))];
        var found = plans.Select(_ => new Cells(source.Info.Shape)).ToArray();

        SharedMeasurement.Run(
            source,
            plans,
            (plan, tile) => found[plan].Write(tile),
            new SharedOptions { Threads = threads }
        );

        for (int i = 0; i < plans.Length; i++)
        {
            var expected = new Cells(source.Info.Shape);
            MeasurementEngine.Run(
                source,
                plans[i],
                plans[i].CreateHeader(""),
                expected,
                new MeasurementOptions { Threads = 1 }
            );
            foreach (GridLayer layer in plans[i].Layers)
                Assert.True(
                    expected.BytesOf(layer).SequenceEqual(found[i].BytesOf(layer)),
                    $"procedure {i}, layer {layer}"
                );
        }
        // The procedures do differ, or equality would say little.
        Assert.True(
            found.Select(f => Convert.ToHexString(f.BytesOf(GridLayer.Thickness))).Distinct().Count() > plans.Length / 2
        );
    }

    [Fact]
    public void Run_OnlySomeScanPositionsWanted_GivesTheSameCells()
    {
        MemoryAScanSource source = Scan();
        MeasurementPlan[] plans =
        [
            .. Procedures(false).Concat(Procedures(true)).Select(p => MeasurementPlan.Compile(p, source.Info)),
        ];
        var all = plans.Select(_ => new Cells(source.Info.Shape)).ToArray();
        var some = plans.Select(_ => new Cells(source.Info.Shape)).ToArray();
        SharedMeasurement.Run(source, plans, (plan, tile) => all[plan].Write(tile), new SharedOptions());
        SharedMeasurement.Run(
            source,
            plans,
            (plan, tile) => some[plan].Write(tile),
            new SharedOptions { Wanted = [(3, 2), (22, 5)] }
        );
        int beams = source.Info.Shape.Beams;
        for (int i = 0; i < plans.Length; i++)
            foreach (int scan in new[] { 3, 4, 22, 26 })
                Assert.True(
                    all[i]
                        .BytesOf(GridLayer.Thickness)
                        .Slice(scan * beams * 4, beams * 4)
                        .SequenceEqual(some[i].BytesOf(GridLayer.Thickness).Slice(scan * beams * 4, beams * 4)),
                    $"procedure {i}, scan {scan}"
                );
    }

    private static IEnumerable<Procedure> Procedures(bool gates) =>
        (gates ? Gated : Trains).Select(changes =>
        {
            string text = gates ? Gates : "";
            if (changes.StartsWith("agreement", StringComparison.Ordinal))
                text = text.Replace(
                    "rule = \"difference\"\nfrom = \"interface\"\nto = \"one\"",
                    "rule = \"agreement\"",
                    StringComparison.Ordinal
                );
            return ProcedureText
                .Read(
                    text,
                    "p.toml",
                    [
                        .. changes
                            .Split(';', StringSplitOptions.RemoveEmptyEntries)
                            .Select(c => c.Split('=', 2))
                            .Where(c => c.Length == 2)
                            .Select(c => new TomlOverride(c[0].Trim(), c[1].Trim(), "test")),
                    ]
                )
                .Value;
        });

    private static readonly Lazy<MemoryAScanSource> Rendered = new(() =>
    {
        using EchoTrainSource scan = Make();
        StackShape shape = scan.Info.Shape;
        using IAScanReader reader = scan.OpenReader();
        AScanBlock all = reader.Lend(0, shape.Scans, 0, shape.Beams);
        return new MemoryAScanSource(scan.Info, all.Bytes.ToArray(), all.Present.ToArray());
    });

    private static MemoryAScanSource Scan() => Rendered.Value;

    /// <summary>30 x 12 cells with a wandering couplant multiple, a pit, thin wall, noise and A-scans that are missing.</summary>
    private static EchoTrainSource Make() =>
        new(
            new EchoTrainScene
            {
                Name = "shared",
                Seed = 5,
                Scans = 30,
                Beams = 12,
                Samples = 700,
                Wall = new WallMap
                {
                    NominalMetres = 8e-3,
                    Thinnings = [new Thinning(0.009, 0.006, 0.012, 0.012, 4e-3)],
                    Pits = [new Pit(0.022, 0.006, 0.006, 3e-3)],
                },
                Couplant = new CouplantPath(3.3e-3, 0.25e-3, 0.04, 1.5e-3, 0.02e-3),
                CouplantMultipleDecibels = -14,
                NoiseFraction = 0.012,
                DropOutFraction = 0.03,
            }
        );

    private sealed class Cells(StackShape shape) : IGridSink
    {
        private readonly GridTile _all = Whole(shape);

        public void Begin(GridHeader header) { }

        public void Write(GridTile tile)
        {
            lock (_all)
                Paste(tile);
        }

        public void Complete(GridSummary summary) { }

        public ReadOnlySpan<byte> BytesOf(GridLayer layer) =>
            layer switch
            {
                GridLayer.Status => _all.Status,
                GridLayer.PairedOrders => _all.PairedOrders,
                GridLayer.EchoCount => _all.EchoCount,
                GridLayer.Notes => System.Runtime.InteropServices.MemoryMarshal.AsBytes<ushort>(_all.Notes),
                _ => System.Runtime.InteropServices.MemoryMarshal.AsBytes<float>(_all[layer]),
            };

        private void Paste(GridTile tile)
        {
            foreach (GridLayer layer in tile.Layers)
                for (int row = 0; row < tile.ScanCount; row++)
                {
                    int from = row * tile.BeamCount;
                    int to = (tile.FirstScan + row) * shape.Beams + tile.FirstBeam;
                    switch (layer)
                    {
                        case GridLayer.Status:
                            tile.Status.AsSpan(from, tile.BeamCount).CopyTo(_all.Status.AsSpan(to));
                            break;
                        case GridLayer.PairedOrders:
                            tile.PairedOrders.AsSpan(from, tile.BeamCount).CopyTo(_all.PairedOrders.AsSpan(to));
                            break;
                        case GridLayer.EchoCount:
                            tile.EchoCount.AsSpan(from, tile.BeamCount).CopyTo(_all.EchoCount.AsSpan(to));
                            break;
                        case GridLayer.Notes:
                            tile.Notes.AsSpan(from, tile.BeamCount).CopyTo(_all.Notes.AsSpan(to));
                            break;
                        default:
                            tile[layer].AsSpan(from, tile.BeamCount).CopyTo(_all[layer].AsSpan(to));
                            break;
                    }
                }
        }

        private static GridTile Whole(StackShape shape)
        {
            var tile = new GridTile((int)shape.Cells, [.. Enum.GetValues<GridLayer>()]);
            tile.Place(0, shape.Scans, 0, shape.Beams);
            return tile;
        }
    }
}
