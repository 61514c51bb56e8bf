using CsCheck;
using EchoToThickness.Evidence;
using EchoToThickness.Grids;
using EchoToThickness.InterfaceSync;
using EchoToThickness.Measurement;
using EchoToThickness.Pairing;
using EchoToThickness.Procedures;
using EchoToThickness.Stacks;
using Xunit;

namespace EchoToThickness.Tests.Measurement;

/// <summary>What must hold whatever the numbers are. CsCheck prints the seed of a failure.</summary>
public class GatePropertyTests
{
    private const int Samples = 700;

    private static readonly PickRule[] AllPicks = Enum.GetValues<PickRule>();
    private static readonly Gen<PickRule> Picks = Gen.Int[0, AllPicks.Length - 1].Select(i => AllPicks[i]);

    // Interface 120..160, wall 80..160 samples, amplitudes that decay.
    private static readonly Gen<(double Interface, double Wall, double Amplitude, PickRule Pick)> Scenes = Gen.Select(
        Gen.Double[120, 160],
        Gen.Double[80, 160],
        Gen.Double[0.2, 0.9],
        Picks
    );

    [Fact]
    public void MeasureCell_SamplesDelayedByK_InterfaceMovesByKAndWallStays() =>
        Gen.Select(Scenes, Gen.Int[1, 60])
            .Sample(
                (scene, delay) =>
                {
                    CellResult before = Measure(Record(scene, 0), GateScene.Procedure(scene.Pick));
                    CellResult after = Measure(Record(scene, delay), GateScene.Procedure(scene.Pick));
                    Assert.Equal(CellStatus.Measured, before.Status);
                    Assert.Equal(before.Status, after.Status);
                    // Times are sums of doubles near 5e-6 s: rounding under 1e-19 s an operation; 1e-15 s is 3 pm of steel.
                    Assert.Equal(
                        before.InterfaceSeconds + delay / GateScene.SampleRateHz,
                        after.InterfaceSeconds,
                        1e-15
                    );
                    Assert.Equal(before.ThicknessMetres, after.ThicknessMetres, 1e-11);
                },
                iter: 200
            );

    [Fact]
    public void MeasureCell_VelocityDoubled_WallDoubles() =>
        Scenes.Sample(
            scene =>
            {
                float[] record = Record(scene, 0);
                CellResult slow = Measure(record, GateScene.Procedure(scene.Pick), velocity: 4000);
                CellResult fast = Measure(record, GateScene.Procedure(scene.Pick), velocity: 8000);
                Assert.Equal(CellStatus.Measured, slow.Status);
                // A power of two: exact in binary arithmetic.
                Assert.Equal(2 * slow.ThicknessMetres, fast.ThicknessMetres);
                Assert.Equal(2 * slow.ThicknessWallWallMetres, fast.ThicknessWallWallMetres);
            },
            iter: 200
        );

    [Fact]
    public void MeasureCell_AmplitudeScaled_RelativeGatesAreUnchanged() =>
        Gen.Select(Scenes, Gen.Int[-6, 4])
            .Sample(
                (scene, power) =>
                {
                    float factor = MathF.ScaleB(1, power);
                    float[] record = Record(scene, 0);
                    CellResult before = Measure(record, GateScene.Procedure(scene.Pick));
                    CellResult after = Measure(
                        record.Select(x => x * factor).ToArray(),
                        GateScene.Procedure(scene.Pick)
                    );
                    // Powers of two scale single precision exactly, and every level here is relative.
                    Assert.Equal(CellStatus.Measured, before.Status);
                    Assert.Equal(before.ThicknessMetres, after.ThicknessMetres);
                    Assert.Equal(before.SecondEchoSeconds, after.SecondEchoSeconds);
                    Assert.Equal(factor * before.FirstEchoAmplitudeFraction, after.FirstEchoAmplitudeFraction);
                },
                iter: 200
            );

    [Fact]
    public void MeasureCell_DifferenceOfGatesAndCorrectedAbsoluteTime_AreTheSameNumber() =>
        Scenes.Sample(
            scene =>
            {
                if (scene.Pick == PickRule.Correlation)
                    return;
                float[] record = Record(scene, 0);
                Procedure riding = GateScene.Procedure(scene.Pick);
                // The same windows, counted from the pulse, and the interface as a gate of its own.
                CellResult ridden = Measure(record, riding);
                GateSettings face = new()
                {
                    Name = "face",
                    Follows = GateSettings.Pulse,
                    Start = GateExtent.FromSeconds(0),
                    Width = GateExtent.FromSeconds(3e-6),
                    Level = riding.Interface.Level,
                    Take = riding.Interface.Take,
                    Pick = riding.Interface.Pick,
                };
                GateSettings absolute = riding.Gates[0] with
                {
                    Follows = GateSettings.Pulse,
                    Start = GateExtent.FromSeconds(ridden.InterfaceSeconds + 0.6e-6),
                };
                CellResult fromPulse = Measure(record, riding with { Gates = [absolute, riding.Gates[1]] });
                CellResult twoGates = Measure(
                    record,
                    riding with
                    {
                        Gates = [face, riding.Gates[0] with { Follows = "face" }],
                        Pairing = riding.Pairing with { From = "face", FirstWall = "face", SecondWall = "wall1" },
                    }
                );
                Assert.Equal(CellStatus.Measured, ridden.Status);
                // By construction: the same picks, one subtraction, one halving.
                Assert.Equal(ridden.ThicknessMetres, fromPulse.ThicknessMetres);
                Assert.Equal(ridden.ThicknessMetres, twoGates.ThicknessMetres);
                Assert.Equal(
                    0.5 * 5920 * (ridden.FirstEchoSeconds - ridden.InterfaceSeconds),
                    ridden.ThicknessMetres,
                    1e-15
                );
            },
            iter: 200
        );

    [Theory]
    [InlineData(TrackRule.None)]
    [InlineData(TrackRule.Median)]
    [InlineData(TrackRule.Path)]
    public void Measure_MirroredGrid_MirrorsTheResult(TrackRule rule)
    {
        const int scans = 7;
        const int beams = 11;
        var random = new Random(31);
        var records = new float[scans * beams][];
        for (int cell = 0; cell < records.Length; cell++)
        {
            (double, double, double, PickRule) scene = (
                130 + 2 * (cell % beams) + random.NextDouble(),
                100 + 30 * random.NextDouble(),
                random.NextDouble() < 0.15 ? 0 : 0.6,
                PickRule.Peak
            );
            records[cell] = Record(scene, 0);
            GateScene.Noise(records[cell], 0.01, random);
            if (random.NextDouble() < 0.1)
                GateScene.Add(records[cell], 40 + 20 * random.NextDouble(), 0.9);
        }
        Procedure procedure = GateScene.Procedure();
        procedure = procedure with { Interface = procedure.Interface with { Track = rule } };
        CellResult[] plain = MeasureAll(scans, beams, records, procedure);
        CellResult[] turned = MeasureAll(scans, beams, [.. records.Reverse()], procedure);
        Assert.Contains(plain, cell => cell.Status == CellStatus.Measured);
        if (rule != TrackRule.None)
            Assert.Contains(plain, cell => cell.Notes.HasFlag(CellNotes.InterfaceTracked));
        Assert.Equal(plain, turned.Reverse());
    }

    private static float[] Record((double Interface, double Wall, double Amplitude, PickRule Pick) scene, int delay)
    {
        var record = new float[Samples];
        // Placed on the delayed grid, so that delayed records hold the same numbers.
        float[] still = new float[Samples];
        GateScene.Add(still, scene.Interface, scene.Amplitude);
        for (int n = 1; n <= 3; n++)
            GateScene.Add(still, scene.Interface + n * scene.Wall, -scene.Amplitude * Math.Pow(0.5, n));
        for (int i = delay; i < Samples; i++)
            record[i] = still[i - delay];
        return record;
    }

    private static CellResult Measure(float[] record, Procedure procedure, double velocity = 5920)
    {
        using MemoryAScanSource source = GateScene.Stack(1, 1, record);
        var measurer = new GateMeasurer(GateScene.Plan(source.Info, procedure, velocity));
        using IAScanReader reader = source.OpenReader();
        return measurer.MeasureCell(reader.Lend(0, 1, 0, 1), 0, 0, null, null);
    }

    private static CellResult[] MeasureAll(int scans, int beams, float[][] records, Procedure procedure)
    {
        using MemoryAScanSource source = GateScene.Stack(scans, beams, [.. records.SelectMany(x => x)]);
        var measurer = new GateMeasurer(GateScene.Plan(source.Info, procedure));
        using IAScanReader reader = source.OpenReader();
        AScanBlock block = reader.Lend(0, scans, 0, beams);
        InterfaceStrip? strip = null;
        if (procedure.Interface.Track != TrackRule.None)
        {
            strip = new InterfaceStrip(scans, beams);
            strip.Place(0, scans);
            measurer.FindInterfaces(block, 0, scans, 0, beams, strip);
            InterfaceTracker.Track(strip, source.Info.Neighbours, procedure.Interface);
        }
        var cells = new CellResult[scans * beams];
        for (int cell = 0; cell < cells.Length; cell++)
            cells[cell] = measurer.MeasureCell(block, cell / beams, cell % beams, strip, null);
        return cells;
    }
}
