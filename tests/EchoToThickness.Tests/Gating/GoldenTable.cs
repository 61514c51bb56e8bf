using System.Globalization;
using System.Runtime.InteropServices;
using System.Text.Json;
using EchoToThickness.Measurement;
using EchoToThickness.Pairing;
using EchoToThickness.Procedures;
using EchoToThickness.Signals;
using EchoToThickness.Stacks;
using EchoToThickness.Velocity;

namespace EchoToThickness.Tests.Gating;

/// <summary>Reads testdata/gates/golden.json.</summary>
internal static class GoldenTable
{
    private static readonly Lazy<JsonElement> File = new(() =>
        JsonDocument.Parse(System.IO.File.ReadAllText(Path.Combine(Folder, "golden.json"))).RootElement
    );

    public static JsonElement Root => File.Value;

    private static string Folder
    {
        get
        {
            for (string? at = AppContext.BaseDirectory; at is not null; at = Path.GetDirectoryName(at))
            {
                string folder = Path.Combine(at, "testdata", "gates");
                if (Directory.Exists(folder))
                    return folder;
            }
            throw new DirectoryNotFoundException("testdata/gates is in no folder above " + AppContext.BaseDirectory);
        }
    }

    public static MemoryAScanSource Stack(JsonElement facts, JsonElement samples)
    {
        int[] counts = samples.EnumerateArray().Select(v => v.GetInt32()).ToArray();
        // Offset-binary cases do not fit into 16 signed bits; double holds every count exactly.
        bool unsigned = counts.Max() > short.MaxValue;
        SampleType type = unsigned ? SampleType.UInt16 : SampleType.Int16;
        byte[] bytes = unsigned
            ? MemoryMarshal.AsBytes<ushort>(counts.Select(v => (ushort)v).ToArray()).ToArray()
            : MemoryMarshal.AsBytes<short>(counts.Select(v => (short)v).ToArray()).ToArray();
        return new MemoryAScanSource(
            new StackInfo
            {
                Name = "golden",
                Shape = new StackShape(1, 1, counts.Length),
                SampleType = type,
                TimeBase = new TimeBase
                {
                    SampleRateHz = facts.GetProperty("rate").GetDouble(),
                    StartSeconds = facts.GetProperty("start").GetDouble(),
                },
                Amplitude = new AmplitudeScale(
                    facts.GetProperty("full_scale").GetDouble(),
                    facts.GetProperty("zero").GetDouble(),
                    Number(facts.GetProperty("minimum")),
                    Number(facts.GetProperty("maximum"))
                ),
                Acquisition = new AcquisitionFacts
                {
                    FrequencyHz = Maybe(facts.GetProperty("frequency")),
                    BandwidthFraction = Maybe(facts.GetProperty("bandwidth")),
                    Form =
                        facts.GetProperty("form").GetString() == "rectified"
                            ? SignalForm.Rectified
                            : SignalForm.RadioFrequency,
                },
                Neighbours = NeighbourAxes.None,
            },
            bytes
        );
    }

    public static (CellResult Cell, MeasurementTrace Trace) Measure(
        MemoryAScanSource stack,
        string procedureText,
        double velocityMetresPerSecond,
        KernelPath? path = null
    )
    {
        var velocity = new ResolvedVelocity
        {
            MetresPerSecond = velocityMetresPerSecond,
            UncertaintyMetresPerSecond = 1,
            Source = "golden table",
        };
        MeasurementPlan plan = MeasurementPlan.Compile(
            ProcedureText.Parse(procedureText, "golden.json"),
            stack.Info,
            velocity
        );
        var measurer = new GateMeasurer(plan, path);
        var trace = new MeasurementTrace();
        using IAScanReader reader = stack.OpenReader();
        CellResult cell = measurer.MeasureCell(reader.Lend(0, 1, 0, 1), 0, 0, null, trace);
        return (cell, trace);
    }

    public static double Number(JsonElement value) =>
        value.ValueKind == JsonValueKind.Null ? double.NaN : value.GetDouble();

    public static string Notes(CellNotes notes) =>
        notes == CellNotes.None ? "" : string.Join("+", notes.ToString().Split(", ").Order(StringComparer.Ordinal));

    public static string Text(double value) => value.ToString("R", CultureInfo.InvariantCulture);

    private static double? Maybe(JsonElement value) => value.ValueKind == JsonValueKind.Null ? null : value.GetDouble();
}
