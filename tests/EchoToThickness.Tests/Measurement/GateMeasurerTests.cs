using EchoToThickness.Evidence;
using EchoToThickness.Grids;
using EchoToThickness.InterfaceSync;
using EchoToThickness.Measurement;
using EchoToThickness.Pairing;
using EchoToThickness.Procedures;
using EchoToThickness.Stacks;
using Xunit;

namespace EchoToThickness.Tests.Measurement;

public class GateMeasurerTests
{
    private const int Samples = 700;

    [Fact]
    public void Measure_AnyProcedure_AllocatesNothingPerAScan()
    {
        const int scans = 12;
        const int beams = 8;
        var random = new Random(5);
        var samples = new float[scans * beams * Samples];
        for (int cell = 0; cell < scans * beams; cell++)
            Echoes(samples.AsSpan(cell * Samples, Samples), 130 + cell % 7, 100 + cell % 11, 0.6, random);
        using MemoryAScanSource source = GateScene.Stack(scans, beams, samples);
        foreach (PickRule pick in Enum.GetValues<PickRule>())
        {
            foreach (PairingRule rule in (PairingRule[])[PairingRule.Difference, PairingRule.Agreement])
            {
                Procedure basis = GateScene.Procedure(pick);
                Procedure procedure = basis with
                {
                    Conditioning = new ConditioningSettings
                    {
                        BandLowHz = 3e6,
                        BandHighHz = 11e6,
                        AverageBeams = 3,
                        AverageScans = 3,
                    },
                    Interface = basis.Interface with { Track = TrackRule.Path },
                    Gates =
                    [
                        basis.Gates[0] with
                        {
                            Level = new LevelRule(5, LevelReference.Noise),
                            LevelByDepth =
                            [
                                new LevelPoint { DepthMetres = 1e-3, ChangeDecibels = 6 },
                                new LevelPoint { DepthMetres = 5e-3, ChangeDecibels = -6 },
                            ],
                            Polarity = PolarityChoice.Opposite,
                        },
                        basis.Gates[1],
                    ],
                    Pairing = basis.Pairing with { Rule = rule, To = rule == PairingRule.Difference ? "wall1" : "" },
                };
                MeasurementPlan plan = GateScene.Plan(source.Info, procedure);
                var measurer = new GateMeasurer(plan);
                var tile = new GridTile(scans * beams, plan.Layers);
                tile.Place(0, scans, 0, beams);
                var strip = new InterfaceStrip(scans, beams);
                strip.Place(0, scans);
                using IAScanReader reader = source.OpenReader();
                void Walk()
                {
                    AScanBlock block = reader.Lend(0, scans, 0, beams);
                    measurer.FindInterfaces(block, 0, scans, 0, beams, strip);
                    measurer.Measure(block, tile, strip);
                    measurer.Measure(block, tile, null);
                }

                measurer.FindInterfaces(reader.Lend(0, scans, 0, beams), 0, scans, 0, beams, strip);
                InterfaceTracker.Track(strip, NeighbourAxes.Both, procedure.Interface);
                Walk();
                // The whole road was walked: every cell paired its echoes (a fixed-level flank walks, so some pairs disagree).
                Assert.DoesNotContain(CellResult.NoPair, tile.PairedOrders);

                long allocated = Allocation.Of(Walk);
                Assert.True(allocated == 0, $"{pick}, {rule}: {allocated} bytes for {3 * scans * beams} A-scans.");
            }
        }
    }

    [Fact]
    public void Measure_CellsNotStoredOrInvalid_HaveTheirStatusAndNoNumbers()
    {
        var samples = new float[3 * Samples];
        for (int cell = 0; cell < 3; cell++)
            Echoes(samples.AsSpan(cell * Samples, Samples), 130, 100, 0.6, new Random(cell));
        samples[2 * Samples + 5] = float.NaN;
        using MemoryAScanSource source = GateScene.Stack(1, 3, samples, present: [1, 0, 1]);
        MeasurementPlan plan = GateScene.Plan(source.Info, GateScene.Procedure());
        var measurer = new GateMeasurer(plan);
        var tile = new GridTile(3, plan.Layers);
        tile.Place(0, 1, 0, 3);
        using IAScanReader reader = source.OpenReader();
        measurer.Measure(reader.Lend(0, 1, 0, 3), tile, null);
        Assert.Equal(
            [(byte)CellStatus.Measured, (byte)CellStatus.NotScanned, (byte)CellStatus.InvalidSamples],
            tile.Status
        );
        // Wall 100 samples of 10 ns: 1 us, 2.96 mm; the noise (55 dB down) moves a peak by up to 0.05 sample.
        Assert.Equal(2.96e-3, tile[GridLayer.Thickness][0], 2e-6);
        for (int cell = 1; cell < 3; cell++)
        {
            foreach (GridLayer layer in tile.Layers.Where(l => GridLayers.TypeOf(l) == GridLayerType.Float32))
                Assert.True(float.IsNaN(tile[layer][cell]), $"{layer} of cell {cell} is {tile[layer][cell]}.");
        }
    }

    [Fact]
    public void MeasureCell_InterfaceSuppliedByNeighbours_RefusesAWallThatStartsThere()
    {
        var samples = new float[7 * Samples];
        for (int beam = 0; beam < 7; beam++)
            Echoes(samples.AsSpan(beam * Samples, Samples), 130, 100, 0.6, new Random(beam), withInterface: beam != 3);
        using MemoryAScanSource source = GateScene.Stack(1, 7, samples);
        Procedure procedure = GateScene.Procedure();
        procedure = procedure with
        {
            Interface = procedure.Interface with
            {
                Track = TrackRule.Path,
                Level = new LevelRule(0.3, LevelReference.FullScale),
                SearchEndSeconds = 1.8e-6,
            },
        };
        Assert.Equal(CellStatus.NoInterfaceEcho, Tracked(procedure, out InterfaceStrip strip).Status);
        Assert.True(strip.IsTracked(0, 3));
        Assert.Equal(1.3e-6, strip.ChosenSeconds(0, 3), 2e-9);

        // Wall to wall needs no interface; agreement falls back on it.
        foreach (
            PairingSettings pairing in (PairingSettings[])
                [
                    new()
                    {
                        Rule = PairingRule.Difference,
                        From = "wall1",
                        To = "wall2",
                    },
                    new() { Rule = PairingRule.Agreement },
                ]
        )
        {
            CellResult cell = Tracked(procedure with { Pairing = pairing }, out _);
            Assert.Equal(CellStatus.Measured, cell.Status);
            Assert.True(cell.Notes.HasFlag(CellNotes.WithoutInterface | CellNotes.InterfaceTracked));
            Assert.Equal(0x21, cell.PairedOrders);
            Assert.Equal(2.96e-3, cell.ThicknessMetres, 5e-6);
            Assert.True(double.IsNaN(cell.ThicknessInterfaceWallMetres));
        }

        CellResult Tracked(Procedure p, out InterfaceStrip choices)
        {
            var measurer = new GateMeasurer(GateScene.Plan(source.Info, p));
            choices = new InterfaceStrip(1, 7);
            choices.Place(0, 1);
            using IAScanReader reader = source.OpenReader();
            AScanBlock block = reader.Lend(0, 1, 0, 7);
            measurer.FindInterfaces(block, 0, 1, 0, 7, choices);
            InterfaceTracker.Track(choices, NeighbourAxes.Both, p.Interface);
            return measurer.MeasureCell(block, 0, 3, choices, null);
        }
    }

    [Fact]
    public void MeasureCell_NeighboursChooseAnotherEcho_PickIsTheEchosOwnToTheLastBit()
    {
        // The strip holds single precision; the measurer must find its own double-precision pick again.
        var record = new float[Samples];
        Echoes(record, 130.37, 100, 0.5, new Random(1));
        GateScene.Add(record, 60.2, 0.9);
        using MemoryAScanSource source = GateScene.Stack(1, 1, record);
        var measurer = new GateMeasurer(GateScene.Plan(source.Info, GateScene.Procedure()));
        var strip = new InterfaceStrip(1, 1);
        strip.Place(0, 1);
        using IAScanReader reader = source.OpenReader();
        AScanBlock block = reader.Lend(0, 1, 0, 1);
        measurer.FindInterfaces(block, 0, 1, 0, 1, strip);
        Assert.Equal(0.6e-6, strip.ChosenSeconds(0, 0), 1e-8);
        InterfaceCandidate second = strip
            .Candidates(0, 0)
            .ToArray()
            .MinBy(candidate => Math.Abs(candidate.Seconds - 1.3037e-6));
        strip.Choose(0, 0, second.Seconds, tracked: true);
        CellResult cell = measurer.MeasureCell(block, 0, 0, strip, null);
        Assert.Equal(CellStatus.Measured, cell.Status);
        Assert.True(cell.Notes.HasFlag(CellNotes.InterfaceTracked));
        Assert.Equal(second.Seconds, (float)cell.InterfaceSeconds);
        Assert.NotEqual(second.Seconds, cell.InterfaceSeconds);
        Assert.Equal(2.96e-3, cell.ThicknessMetres, 5e-6);
    }

    [Fact]
    public void MeasureCell_BeamsStartAtOtherTimes_WallsAreTheSame()
    {
        var record = new float[Samples];
        Echoes(record, 130, 100, 0.6, new Random(8));
        using MemoryAScanSource source = GateScene.Stack(1, 2, [.. record, .. record]);
        StackInfo info = source.Info with
        {
            TimeBase = new TimeBase { SampleRateHz = GateScene.SampleRateHz, BeamStartSeconds = [0, 0.5e-6] },
        };
        var measurer = new GateMeasurer(GateScene.Plan(info, GateScene.Procedure()));
        using IAScanReader reader = source.OpenReader();
        AScanBlock block = reader.Lend(0, 1, 0, 2);
        CellResult early = measurer.MeasureCell(block, 0, 0, null, null);
        CellResult late = measurer.MeasureCell(block, 0, 1, null, null);
        Assert.Equal(early.InterfaceSeconds + 0.5e-6, late.InterfaceSeconds, 1e-15);
        Assert.Equal(early.ThicknessMetres, late.ThicknessMetres, 1e-11);
    }

    [Fact]
    public void MeasureCell_Agreement_IsBetweenTheSpacingsAndNearerToTheStrongerPair()
    {
        // Interface to wall 100 samples, wall to wall 101: 2.96 and 2.9896 mm.
        var record = new float[Samples];
        GateScene.Add(record, 130, 0.8);
        GateScene.Add(record, 230, -0.4);
        GateScene.Add(record, 331, -0.05);
        GateScene.Noise(record, 0.0005, new Random(2));
        using MemoryAScanSource source = GateScene.Stack(1, 1, record);
        Procedure procedure = GateScene.Procedure() with
        {
            Pairing = new PairingSettings { Rule = PairingRule.Agreement },
        };
        var measurer = new GateMeasurer(GateScene.Plan(source.Info, procedure));
        using IAScanReader reader = source.OpenReader();
        CellResult cell = measurer.MeasureCell(reader.Lend(0, 1, 0, 1), 0, 0, null, null);
        Assert.Equal(CellStatus.Measured, cell.Status);
        Assert.Equal(2, cell.EchoCount);
        Assert.Equal(0x20, cell.PairedOrders);
        // Weights 0.64, 0.16, 0.0025: mean order (0.16 + 0.005) / 0.8025 = 0.2056; slope = sum w (k - m) t / sum w (k - m)^2 over
        // t = 0, 100, 201 samples = (0.16 * 0.7944 * 100 + 0.0025 * 1.7944 * 201) / (0.64 * 0.04227 + 0.16 * 0.63107 + 0.0025 * 3.2199)
        // = 13.6122 / 0.136075 = 100.035 samples = 2.96103 mm; picks are known to 0.05 sample (1.5 um).
        Assert.Equal(2.96103e-3, cell.ThicknessMetres, 1.5e-6);
    }

    /// <summary>
    /// The stated noise part is the spread that noise makes: 400 records of the same echoes. Peaks of the unfiltered signal, zero crossings
    /// and correlation; the pick formulas are first order in noise over peak, 40 dB here.
    /// </summary>
    [Theory]
    [InlineData(PickRule.ZeroCrossing, PairingRule.Difference)]
    [InlineData(PickRule.Peak, PairingRule.Difference)]
    [InlineData(PickRule.ZeroCrossing, PairingRule.Agreement)]
    public void MeasureCell_NoiseUncertainty_IsTheSpreadOfRepeats(PickRule pick, PairingRule rule)
    {
        const int repeats = 400;
        // Long records: in short ones the echoes themselves raise the robust noise (docs/gating.md, section 2).
        const int length = 4000;
        var random = new Random(77);
        var samples = new float[repeats * length];
        for (int cell = 0; cell < repeats; cell++)
        {
            Span<float> record = samples.AsSpan(cell * length, length);
            GateScene.Add(record, 130.3, 0.8);
            GateScene.Add(record, 230.1, -0.4);
            GateScene.Add(record, 329.9, -0.3);
            GateScene.Noise(record, 0.004, random);
        }
        using MemoryAScanSource source = GateScene.Stack(1, repeats, samples, NeighbourAxes.None);
        Procedure procedure = GateScene.Procedure(pick);
        procedure = procedure with
        {
            Pairing = procedure.Pairing with { Rule = rule, To = rule == PairingRule.Difference ? "wall1" : "" },
        };
        MeasurementPlan plan = GateScene.Plan(source.Info, procedure);
        var measurer = new GateMeasurer(plan);
        using IAScanReader reader = source.OpenReader();
        AScanBlock block = reader.Lend(0, 1, 0, repeats);
        double sum = 0;
        double squares = 0;
        double stated = 0;
        for (int beam = 0; beam < repeats; beam++)
        {
            CellResult cell = measurer.MeasureCell(block, 0, beam, null, null);
            Assert.Equal(CellStatus.Measured, cell.Status);
            sum += cell.ThicknessMetres;
            squares += cell.ThicknessMetres * cell.ThicknessMetres;
            stated += cell.UncertaintyNoiseMetres * cell.UncertaintyNoiseMetres;
            // Velocity 10 of 5920 m/s: 5.0 um on 2.96 mm; the zero is certain here.
            Assert.Equal(cell.ThicknessMetres * 10 / 5920, cell.UncertaintyCalibrationMetres, 1e-9);
            Assert.True(cell.UncertaintyMetres >= cell.UncertaintyCalibrationMetres);
        }
        double spread = Math.Sqrt((squares - sum * sum / repeats) / (repeats - 1));
        // A standard deviation from 400 repeats has a standard error of 3.5 %, the robust noise up to 7 % too much. A crossing between two
        // samples f and 1 - f away from it sees white noise of sqrt(f^2 + (1 - f)^2) sigma, 0.71 to 1: the model states the 1.
        Assert.InRange(spread / Math.Sqrt(stated / repeats), 0.65, 1.1);
    }

    [Fact]
    public void MeasureCell_Traced_SaysEveryDecision()
    {
        var record = new float[Samples];
        Echoes(record, 130, 100, 0.6, new Random(8));
        using MemoryAScanSource source = GateScene.Stack(1, 1, record);
        var measurer = new GateMeasurer(GateScene.Plan(source.Info, GateScene.Procedure()));
        using IAScanReader reader = source.OpenReader();
        AScanBlock block = reader.Lend(0, 1, 0, 1);
        var trace = new MeasurementTrace();
        CellResult cell = measurer.MeasureCell(block, 0, 0, null, trace);
        Assert.Equal(cell, measurer.MeasureCell(block, 0, 0, null, null));
        Assert.Equal(cell, trace.Result);
        Assert.Equal(Samples, trace.Raw.Length);
        Assert.Equal(Samples, trace.Signal.Length);
        Assert.Equal(Samples, trace.Envelope.Length);
        Assert.Equal(cell.InterfaceSeconds, trace.Interface.Seconds);
        Assert.Equal(["wall1", "wall2"], trace.Gates.Select(gate => gate.Name));
        Assert.Equal(cell.FirstEchoSeconds, trace.Gates[0].EchoSeconds);
        EchoTrace[] named = [.. trace.Echoes.Where(echo => !echo.Role.StartsWith("other", StringComparison.Ordinal))];
        Assert.Equal(
            ["interface", "back-wall echo 1 (gate 'wall1')", "back-wall echo 2 (gate 'wall2')"],
            named.Select(echo => echo.Role)
        );
        Assert.Equal([true, true, false], named.Select(echo => echo.Paired));
        Assert.Equal([1, -1, -1], named.Select(echo => echo.Polarity));
        // 60 % pulse at 7 MHz: the envelope's half height is 4 ln 2 / (pi B f) = 0.210 us wide; counted in whole samples.
        Assert.Equal(0.210e-6, named[0].WidthSeconds, 0.02e-6);
        string[] stages = [.. trace.Steps.Select(step => step.Stage).Distinct()];
        Assert.Equal(["conditioning", "interface", "gate 'wall1'", "gate 'wall2'", "pairing", "uncertainty"], stages);
        Assert.Contains(trace.Steps, step => step.Text.Contains("2.96", StringComparison.Ordinal));
        Assert.NotEmpty(trace.Hypotheses);
    }

    [Fact]
    public void Constructor_ProceduresThatCannotWork_AreRefusedByKey()
    {
        using MemoryAScanSource source = GateScene.Stack(1, 1, new float[Samples]);
        Procedure good = GateScene.Procedure();
        Refused(new Procedure(), "pairing.rule");
        Refused(good with { Pairing = good.Pairing with { From = "wall2", To = "wall1" } }, "pairing.to");
        StackInfo unknown = source.Info with { Acquisition = new AcquisitionFacts() };
        Procedure correlating = GateScene.Procedure(PickRule.Correlation);
        var error = Assert.Throws<ProcedureException>(() => new GateMeasurer(GateScene.Plan(unknown, correlating)));
        Assert.Contains("frequency", error.Message, StringComparison.Ordinal);
        StackInfo rectified = source.Info with { Acquisition = new AcquisitionFacts { Form = SignalForm.Rectified } };
        Procedure crossing = GateScene.Procedure(PickRule.ZeroCrossing);
        error = Assert.Throws<ProcedureException>(() => new GateMeasurer(GateScene.Plan(rectified, crossing)));
        Assert.Contains("sign of the signal", error.Message, StringComparison.Ordinal);

        void Refused(Procedure procedure, string key)
        {
            var refusal = Assert.Throws<ProcedureException>(() =>
                new GateMeasurer(GateScene.Plan(source.Info, procedure))
            );
            Assert.Contains(key, refusal.Message, StringComparison.Ordinal);
        }
    }

    private static void Echoes(
        Span<float> record,
        double interfacePosition,
        double wallSamples,
        double amplitude,
        Random random,
        bool withInterface = true
    )
    {
        if (withInterface)
            GateScene.Add(record, interfacePosition, amplitude);
        for (int n = 1; n <= 3; n++)
            GateScene.Add(record, interfacePosition + n * wallSamples, -amplitude * Math.Pow(0.5, n));
        GateScene.Noise(record, 0.001, random);
    }
}
