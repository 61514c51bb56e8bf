using EchoToThickness.Grids;
using EchoToThickness.Measurement;
using EchoToThickness.Measurement.Fast;
using EchoToThickness.Pairing;
using EchoToThickness.Procedures;
using EchoToThickness.Signals;
using EchoToThickness.Stacks;
using EchoToThickness.Tests.Signals;
using Xunit;

namespace EchoToThickness.Tests.Fast;

/// <summary>The fast measurers give the grid of the general gate engine, on every path and sample type, without allocating.</summary>
public class FastMeasurerTests
{
    public static TheoryData<SampleType, double> Types =>
        new()
        {
            { SampleType.Int8, 0 },
            { SampleType.UInt8, 128 },
            { SampleType.Int16, 0 },
            { SampleType.Int16, 37 },
            { SampleType.UInt16, 32768 },
            { SampleType.Float32, 0 },
            { SampleType.Float32, 0.125 },
            { SampleType.Float64, 0 },
        };

    public static TheoryData<string> Procedures => ["bench-A.toml", "bench-B.toml"];

    [Theory]
    [MemberData(nameof(Types))]
    public void Rectified_EveryKindOfRecord_EqualsGeneralEngine(SampleType type, double zero) =>
        Compare(FastScene.Read("bench-A.toml"), type, zero, 11, 300);

    [Theory]
    [MemberData(nameof(Types))]
    public void Envelope_EveryKindOfRecord_EqualsGeneralEngine(SampleType type, double zero) =>
        Compare(FastScene.Read("bench-B.toml"), type, zero, 12, 300);

    [Theory]
    [InlineData("interface", "wall 1")]
    [InlineData("interface", "wall 2")]
    public void EveryPairing_BothModes_EqualGeneralEngine(string from, string to)
    {
        foreach (string file in new[] { "bench-A.toml", "bench-B.toml" })
        {
            Procedure procedure = FastScene.Read(file);
            procedure = procedure with { Pairing = procedure.Pairing with { From = from, To = to } };
            Compare(procedure, SampleType.Int16, 0, 13, 100);
        }
    }

    [Fact]
    public void OneGateAndWideGates_BothModes_EqualGeneralEngine()
    {
        foreach (string file in new[] { "bench-A.toml", "bench-B.toml" })
        {
            Procedure procedure = FastScene.Read(file);
            GateSettings gate = procedure.Gates[0] with
            {
                // From before the interface to behind the record: clipping at both ends.
                Start = GateExtent.FromSeconds(-3e-6),
                Width = GateExtent.FromSeconds(30e-6),
                Level = new LevelRule(0.3, LevelReference.FullScale),
            };
            procedure = procedure with
            {
                Gates = [gate],
                Pairing = procedure.Pairing with { From = "interface", To = "wall 1", SecondWall = "" },
                Interface = procedure.Interface with { SearchStartSeconds = null, SearchEndSeconds = 4e-6 },
            };
            Compare(procedure, SampleType.Float32, 0, 14, 100);
            Compare(procedure, SampleType.Int16, 0, 14, 100);
        }
    }

    [Theory]
    [InlineData(0.6, 2)]
    [InlineData(3, 12)]
    [InlineData(1, 49)]
    [InlineData(20, 45)]
    public void Envelope_AnyBand_EqualsGeneralEngine(double lowMHz, double highMHz)
    {
        // Wide bands leave no useful bound between samples 4 apart: still the same answers.
        Procedure procedure = FastScene.Read("bench-B.toml");
        procedure = procedure with
        {
            Conditioning = procedure.Conditioning with { BandLowHz = lowMHz * 1e6, BandHighHz = highMHz * 1e6 },
            Interface = procedure.Interface with { Level = new LevelRule(0.1, LevelReference.FullScale) },
            Pairing = procedure.Pairing with { MinimumSnrDecibels = -60 },
        };
        Compare(procedure, SampleType.Float32, 0, 15, 100);
    }

    [Theory]
    [MemberData(nameof(Procedures))]
    public void NotANumber_AnySample_IsInvalid(string file)
    {
        Procedure procedure = FastScene.Read(file);
        float[] records = FastScene.Records(20, 600, 3);
        records[5 * 600 + 599] = float.NaN;
        records[7 * 600] = float.PositiveInfinity;
        records[9 * 600 + 300] = 1e30f;
        MemoryAScanSource source = FastScene.Stack(records, 4, 5, SampleType.Float32);
        GridTile tile = Same(procedure, source);
        Assert.Equal((byte)CellStatus.InvalidSamples, tile.Status[5]);
        Assert.Equal((byte)CellStatus.InvalidSamples, tile.Status[7]);
    }

    [Theory]
    [MemberData(nameof(Procedures))]
    public void AbsentCell_Mask_IsNotScanned(string file)
    {
        Procedure procedure = FastScene.Read(file);
        MemoryAScanSource full = FastScene.Stack(FastScene.Records(6, 600, 3), 2, 3, SampleType.Int16);
        using IAScanReader reader = full.OpenReader();
        byte[] bytes = reader.Lend(0, 2, 0, 3).Bytes.ToArray();
        var source = new MemoryAScanSource(full.Info, bytes, [1, 0, 1, 1, 1, 1]);
        GridTile tile = Same(procedure, source);
        Assert.Equal((byte)CellStatus.NotScanned, tile.Status[1]);
        Assert.NotEqual((byte)CellStatus.NotScanned, tile.Status[2]);
    }

    [Fact]
    public void BenchRecords_KnownWalls_AreMeasuredWithinTheMethodsError()
    {
        // Noise-free pulses: the peak of the rectified signal lies on a half wave's top, the envelope's on the pulse centre.
        foreach (string file in new[] { "bench-A.toml", "bench-B.toml" })
        {
            var records = new float[50 * 1000];
            for (int cell = 0; cell < 50; cell++)
            {
                for (int n = 0; n < 3; n++)
                    FastScene.Echo(
                        records.AsSpan(cell * 1000, 1000),
                        180.3 + n * (100 + 3.7 * cell),
                        n == 0 ? 0.7 : -0.35 / n
                    );
            }
            MemoryAScanSource source = FastScene.Stack(records, 5, 10, SampleType.Int16);
            GridTile tile = Same(FastScene.Read(file), source);
            for (int cell = 0; cell < 50; cell++)
            {
                double wall = 0.5 * 5920 * (100 + 3.7 * cell) / FastScene.Rate;
                // Parabola bias 0.004 sample = 0.12 um on each echo; rounding to counts a tenth of that.
                Assert.Equal(wall, tile[GridLayer.ThicknessWallWall][cell], 0.5e-6);
                // Interface to wall also carries the flank's dependence on sub-sample phase, some hundredths of a sample.
                Assert.Equal(wall, tile[GridLayer.ThicknessInterfaceWall][cell], 5e-6);
            }
        }
    }

    [Theory]
    [MemberData(nameof(Procedures))]
    public void Measure_TenThousandAScans_AllocatesNothing(string file)
    {
        Procedure procedure = FastScene.Read(file);
        // Clean records: the plain path; what goes to the general engine is its own test's concern.
        float[] records = FastScene.Records(10, 1000, 4).AsSpan(0, 1000).ToArray();
        MemoryAScanSource source = FastScene.Stack(
            [.. Enumerable.Repeat(records, 100).SelectMany(r => r)],
            10,
            10,
            SampleType.Int16
        );
        MeasurementPlan plan = FastScene.Plan(procedure, source.Info);
        foreach (KernelPath path in DspVectors.Paths)
        {
            LineMeasurer measurer = Create(plan, path)!;
            var tile = new GridTile(100, plan.Layers);
            tile.Place(0, 10, 0, 10);
            using IAScanReader reader = source.OpenReader();
            measurer.Measure(reader.Lend(0, 10, 0, 10), tile, null);
            Assert.Equal((byte)CellStatus.Measured, tile.Status[0]);
            int passes = path == KernelPath.Scalar ? 10 : 100;
            long allocated = Allocation.Of(() =>
            {
                for (int pass = 0; pass < passes; pass++)
                    measurer.Measure(reader.Lend(0, 10, 0, 10), tile, null);
            });
            Assert.Equal(0, allocated);
        }
    }

    [Fact]
    public void Accepts_SettingsItDoesNotKnow_Declines()
    {
        Procedure a = FastScene.Read("bench-A.toml");
        Procedure b = FastScene.Read("bench-B.toml");
        StackInfo info = FastScene.Stack(new float[1000], 1, 1, SampleType.Int16).Info;
        Assert.True(RectifiedGateMeasurer.Accepts(FastScene.Plan(a, info)));
        Assert.True(EnvelopeGateMeasurer.Accepts(FastScene.Plan(b, info)));
        Assert.False(RectifiedGateMeasurer.Accepts(FastScene.Plan(b, info)));
        Assert.False(EnvelopeGateMeasurer.Accepts(FastScene.Plan(a, info)));
        foreach (Procedure p in new[] { a, b })
        {
            GateSettings gate = p.Gates[0];
            Procedure[] others =
            [
                p with
                {
                    Conditioning = p.Conditioning with { RemoveOffset = true },
                },
                p with
                {
                    Conditioning = p.Conditioning with { AverageBeams = 3 },
                },
                p with
                {
                    Conditioning = p.Conditioning with { SaturationSamples = 2 },
                },
                p with
                {
                    Conditioning = p.Conditioning with { Signal = SignalChoice.RadioFrequency },
                },
                p with
                {
                    Interface = p.Interface with { Pick = PickRule.Peak },
                },
                p with
                {
                    Interface = p.Interface with { Take = EchoChoice.Strongest },
                },
                p with
                {
                    Interface = p.Interface with { FlankFraction = 0.5 },
                },
                p with
                {
                    Interface = p.Interface with { Track = TrackRule.Median },
                },
                p with
                {
                    Interface = p.Interface with { Level = new LevelRule(0.5, LevelReference.Strongest) },
                },
                p with
                {
                    Gates = [gate with { Take = EchoChoice.First }, p.Gates[1]],
                },
                p with
                {
                    Gates = [gate with { Pick = PickRule.Flank }, p.Gates[1]],
                },
                p with
                {
                    Gates = [gate with { Follows = GateSettings.Pulse }, p.Gates[1]],
                },
                p with
                {
                    Gates = [gate with { Level = new LevelRule(5, LevelReference.Noise) }, p.Gates[1]],
                },
                p with
                {
                    Gates = [gate with { LevelByDepth = [new LevelPoint()] }, p.Gates[1]],
                },
                p with
                {
                    Pairing = p.Pairing with { Rule = PairingRule.Agreement },
                },
                p with
                {
                    Pairing = p.Pairing with { MinimumSnrDecibels = 10 },
                },
                p with
                {
                    Pairing = p.Pairing with { FirstWall = "wall 2", SecondWall = "wall 1" },
                },
                p with
                {
                    Output = new OutputSettings { Layers = ["thickness", "snr"] },
                },
            ];
            foreach (Procedure other in others)
            {
                MeasurementPlan plan = FastScene.Plan(other, info);
                Assert.False(RectifiedGateMeasurer.Accepts(plan));
                Assert.False(EnvelopeGateMeasurer.Accepts(plan));
            }
        }
    }

    private static void Compare(Procedure procedure, SampleType type, double zero, int seed, int cells)
    {
        MemoryAScanSource source = FastScene.Stack(FastScene.Records(cells, 1000, seed), cells / 10, 10, type, zero);
        GridTile tile = Same(procedure, source);
        int measured = tile.Status.Count(s => s == (byte)CellStatus.Measured);
        Assert.InRange(measured, 1, cells - 1);
    }

    // Statuses equal; times to single-precision rounding of the signal over the flank's and the peak's steepness, walls accordingly.
    private static GridTile Same(Procedure procedure, MemoryAScanSource source)
    {
        procedure = procedure with
        {
            Output = new OutputSettings { Layers = [.. procedure.Output.Layers, "thickness"] },
        };
        MeasurementPlan plan = FastScene.Plan(procedure, source.Info);
        GridTile expected = FastScene.Measure(new GateMeasurer(plan), source, plan);
        GridTile? first = null;
        foreach (KernelPath path in DspVectors.Paths)
        {
            LineMeasurer fast = Create(plan, path)!;
            Assert.NotNull(fast);
            GridTile tile = FastScene.Measure(fast, source, plan);
            for (int cell = 0; cell < expected.Count; cell++)
                Assert.True(
                    expected.Status[cell] == tile.Status[cell],
                    $"{fast.Name} {path}, cell {cell}: {(CellStatus)tile.Status[cell]}, general {(CellStatus)expected.Status[cell]}"
                );
            foreach (GridLayer layer in plan.Layers)
            {
                if (layer == GridLayer.Status)
                    continue;
                // Times 2e-12 s (2e-4 sample), walls 1e-8 m, amplitudes 1e-5.
                double tolerance = GridLayers.UnitOf(layer) switch
                {
                    "s" => 2e-12,
                    "m" => 1e-8,
                    _ => 1e-5,
                };
                for (int cell = 0; cell < expected.Count; cell++)
                    Assert.True(
                        float.IsNaN(expected[layer][cell])
                            ? float.IsNaN(tile[layer][cell])
                            : expected[layer][cell] == tile[layer][cell]
                                || Math.Abs(expected[layer][cell] - tile[layer][cell]) <= tolerance,
                        $"{fast.Name} {path}, {layer}, cell {cell}: {tile[layer][cell]}, general {expected[layer][cell]}"
                    );
                if (first is not null)
                    Assert.Equal(first[layer], tile[layer]);
            }
            first ??= tile;
        }
        return first!;
    }

    private static LineMeasurer? Create(MeasurementPlan plan, KernelPath path) =>
        (LineMeasurer?)RectifiedGateMeasurer.TryCreate(plan, path) ?? EnvelopeGateMeasurer.TryCreate(plan, path);
}
