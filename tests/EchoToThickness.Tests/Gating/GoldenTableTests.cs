using System.Text.Json;
using EchoToThickness.Measurement;
using EchoToThickness.Pairing;
using EchoToThickness.Signals;
using EchoToThickness.Stacks;
using Xunit;

namespace EchoToThickness.Tests.Gating;

/// <summary>The gate engine against decisions that an independent script worked out from docs/gating.md.</summary>
public class GoldenTableTests
{
    public static TheoryData<string> CaseNames =>
        [.. GoldenTable.Root.GetProperty("cases").EnumerateArray().Select(c => c.GetProperty("name").GetString()!)];

    [Theory]
    [MemberData(nameof(CaseNames))]
    public void MeasureCell_GoldenCase_DecidesAsTheScript(string name)
    {
        JsonElement golden = GoldenTable
            .Root.GetProperty("cases")
            .EnumerateArray()
            .Single(c => c.GetProperty("name").GetString() == name);
        using MemoryAScanSource stack = GoldenTable.Stack(golden.GetProperty("stack"), golden.GetProperty("samples"));
        (CellResult cell, MeasurementTrace trace) = GoldenTable.Measure(
            stack,
            golden.GetProperty("procedure").GetString()!,
            golden.GetProperty("velocity").GetDouble()
        );
        bool exact = golden.GetProperty("exact").GetBoolean();
        double rate = stack.Info.TimeBase.SampleRateHz;

        JsonElement result = golden.GetProperty("result");
        Assert.Equal(result.GetProperty("status").GetString(), cell.Status.ToString());
        Assert.Equal(
            string.Join("+", golden.GetProperty("notes").EnumerateArray().Select(n => n.GetString())),
            GoldenTable.Notes(cell.Notes)
        );
        // Noise is a median of single-precision samples: their rounding, 6e-8.
        Assert.Equal(golden.GetProperty("noise").GetDouble(), trace.NoiseFraction, 2e-7);

        JsonElement face = golden.GetProperty("interface");
        Assert.Equal(face.GetProperty("level").GetDouble(), trace.Interface.LevelFraction, 2e-6);
        if (face.GetProperty("found").GetBoolean())
        {
            Near(face.GetProperty("reported").GetDouble(), trace.Interface.Seconds, exact, rate, "interface");
            Assert.Equal(face.GetProperty("amplitude").GetDouble(), trace.Interface.AmplitudeFraction, 2e-6);
        }
        else
        {
            Assert.True(double.IsNaN(trace.Interface.Seconds));
        }

        int placed = 0;
        foreach (JsonElement gate in golden.GetProperty("gates").EnumerateArray())
        {
            if (!gate.GetProperty("placed").GetBoolean())
                continue;
            GateTrace found = trace.Gates[placed++];
            Assert.Equal(gate.GetProperty("name").GetString(), found.Name);
            Near(gate.GetProperty("start").GetDouble(), found.StartSeconds, exact, rate, found.Name + " start");
            Near(gate.GetProperty("end").GetDouble(), found.EndSeconds, exact, rate, found.Name + " end");
            if (!gate.GetProperty("found").GetBoolean())
            {
                Assert.True(double.IsNaN(found.EchoSeconds), $"{found.Name} took an echo at {found.EchoSeconds}.");
                continue;
            }
            Near(gate.GetProperty("seconds").GetDouble(), found.EchoSeconds, exact, rate, found.Name);
            Assert.Equal(gate.GetProperty("amplitude").GetDouble(), found.EchoAmplitudeFraction, 2e-6);
            Assert.Equal(gate.GetProperty("level").GetDouble(), found.LevelFraction, 2e-6);
        }
        Assert.Equal(placed, trace.Gates.Count);

        // Half the velocity times twice the tolerance of a time.
        double wallTolerance = exact ? 1e-11 : golden.GetProperty("velocity").GetDouble() * 1e-3 / rate;
        foreach (
            (string key, double actual) in (ReadOnlySpan<(string, double)>)
                [
                    ("thickness", cell.ThicknessMetres),
                    ("interface_wall", cell.ThicknessInterfaceWallMetres),
                    ("wall_wall", cell.ThicknessWallWallMetres),
                ]
        )
        {
            double expected = GoldenTable.Number(result.GetProperty(key));
            Assert.True(
                double.IsNaN(expected) ? double.IsNaN(actual) : Math.Abs(expected - actual) <= wallTolerance,
                $"{key}: expected {GoldenTable.Text(expected)}, got {GoldenTable.Text(actual)}."
            );
        }
        if (cell.Status == CellStatus.Measured)
        {
            double margin = golden
                .GetProperty("gates")
                .EnumerateArray()
                .Min(g => g.TryGetProperty("margin", out JsonElement m) ? m.GetDouble() : 1);
            Assert.InRange(cell.Margin, margin - 2e-6, 1);
        }
    }

    [Fact]
    public void MeasureCell_EveryTakeLevelPickPolarity_DecidesAsTheScript()
    {
        JsonElement root = GoldenTable.Root;
        JsonElement scans = root.GetProperty("cross_scans");
        string template = root.GetProperty("cross_template").GetString()!;
        double velocity = root.GetProperty("cross_velocity").GetDouble();
        int count = 0;
        foreach (JsonElement row in root.GetProperty("cross").EnumerateArray())
        {
            string what = row.ToString();
            using MemoryAScanSource stack = GoldenTable.Stack(
                root.GetProperty("cross_stack"),
                scans.GetProperty(row[0].GetString()!)
            );
            string procedure = template
                .Replace("<level>", row[1].GetString())
                .Replace("<take>", row[2].GetString())
                .Replace("<pick>", row[3].GetString())
                .Replace("<polarity>", row[4].GetString());
            (CellResult cell, _) = GoldenTable.Measure(stack, procedure, velocity);
            // Envelope and correlation pass through single-precision sums; the others are exact.
            bool exact = row[3].GetString() is not ("envelope-peak" or "correlation");
            double rate = stack.Info.TimeBase.SampleRateHz;
            Near(GoldenTable.Number(row[5]), cell.FirstEchoSeconds, exact, rate, what);
            Near(GoldenTable.Number(row[6]), cell.SecondEchoSeconds, exact, rate, what);
            Near(GoldenTable.Number(row[7]), cell.FirstEchoAmplitudeFraction, true, rate, what);
            Near(GoldenTable.Number(row[8]), cell.SecondEchoAmplitudeFraction, true, rate, what);
            Assert.True(row[9].GetString() == cell.Status.ToString(), $"{what}: status {cell.Status}");
            Assert.True(row[10].GetString() == GoldenTable.Notes(cell.Notes), $"{what}: notes {cell.Notes}");
            count++;
        }
        Assert.Equal(3 * 4 * 5 * 5, count);
    }

    [Theory]
    [InlineData(KernelPath.Scalar)]
    [InlineData(KernelPath.Portable)]
    public void MeasureCell_OtherKernelPath_GivesTheSameBits(KernelPath path)
    {
        foreach (JsonElement golden in GoldenTable.Root.GetProperty("cases").EnumerateArray())
        {
            using MemoryAScanSource stack = GoldenTable.Stack(
                golden.GetProperty("stack"),
                golden.GetProperty("samples")
            );
            string procedure = golden.GetProperty("procedure").GetString()!;
            double velocity = golden.GetProperty("velocity").GetDouble();
            (CellResult one, _) = GoldenTable.Measure(stack, procedure, velocity, path);
            (CellResult other, _) = GoldenTable.Measure(stack, procedure, velocity, KernelPath.Wide);
            Assert.Equal(one, other);
        }
    }

    // Exact cases: double precision on both sides from the same samples, a few roundings over an interpolation slope. Others: filters,
    // envelopes and correlations in single precision (6e-8 of full scale over the curvature at a peak), 1e-3 sample at most.
    private static void Near(double expected, double actual, bool exact, double rate, string what)
    {
        double tolerance = exact ? 1e-9 * Math.Abs(expected) : 1e-3 / rate;
        Assert.True(
            double.IsNaN(expected) ? double.IsNaN(actual) : Math.Abs(expected - actual) <= tolerance,
            $"{what}: expected {GoldenTable.Text(expected)}, got {GoldenTable.Text(actual)}."
        );
    }
}
