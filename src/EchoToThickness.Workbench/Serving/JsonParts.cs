using System.Text.Json;
using EchoToThickness.Grids;
using EchoToThickness.Measurement;
using EchoToThickness.Pairing;
using EchoToThickness.Procedures;
using EchoToThickness.Reporting.Explain;
using EchoToThickness.Reporting.Figures;
using EchoToThickness.Stacks;
using EchoToThickness.Studies.Review;
using EchoToThickness.Workbench.Sessions;

namespace EchoToThickness.Workbench.Serving;

/// <summary>What the page is told, as JSON. Lengths in metres, times in seconds; the page turns them into millimetres and microseconds.</summary>
internal static class JsonParts
{
    public static byte[] Of(Action<Utf8JsonWriter> write)
    {
        using var text = new MemoryStream();
        using (var json = new Utf8JsonWriter(text))
        {
            json.WriteStartObject();
            write(json);
            json.WriteEndObject();
        }
        return text.ToArray();
    }

    public static void Number(Utf8JsonWriter json, string name, double? value)
    {
        if (value is { } number && double.IsFinite(number))
            json.WriteNumber(name, number);
        else
            json.WriteNull(name);
    }

    public static void Texts(Utf8JsonWriter json, string name, IEnumerable<string> values)
    {
        json.WriteStartArray(name);
        foreach (string value in values)
            json.WriteStringValue(value);
        json.WriteEndArray();
    }

    /// <summary>Everything about the session that does not change.</summary>
    public static void Session(Utf8JsonWriter json, WorkbenchSession session)
    {
        StackInfo stack = session.Source.Info;
        json.WriteString("program", session.Options.ProgramVersion);
        json.WriteStartObject("stack");
        json.WriteString("name", stack.Name);
        json.WriteNumber("scans", stack.Shape.Scans);
        json.WriteNumber("beams", stack.Shape.Beams);
        json.WriteNumber("samples", stack.Shape.Samples);
        Number(json, "sampleRateHz", stack.TimeBase.SampleRateHz);
        Number(json, "startSeconds", stack.TimeBase.StartSeconds);
        Number(json, "frequencyHz", stack.Acquisition.FrequencyHz);
        Number(json, "nominalMetres", stack.Component.NominalWallMetres);
        json.WriteString("component", StatusWords.Of(stack.Component.Kind));
        json.WriteBoolean("rectified", stack.Acquisition.Form == SignalForm.Rectified);
        json.WriteNumber("bytes", stack.Shape.Cells * stack.AScanBytes);
        json.WriteBoolean("inMemory", session.InMemory);
        Numbers(json, "scanPositionsMetres", stack.ScanPositionsMetres);
        Numbers(json, "indexPositionsMetres", stack.IndexPositionsMetres);
        json.WriteBoolean("scanNeighbours", stack.Neighbours.HasFlag(NeighbourAxes.Scan));
        json.WriteBoolean("beamNeighbours", stack.Neighbours.HasFlag(NeighbourAxes.Beam));
        json.WriteEndObject();
        json.WriteBoolean("truth", session.Truth is not null);
        json.WriteBoolean("grid", session.Grid is not null);
        json.WriteStartArray("statuses");
        foreach (CellStatus status in Enum.GetValues<CellStatus>())
            json.WriteStringValue(StatusWords.Of(status));
        json.WriteEndArray();
        json.WriteStartArray("layers");
        foreach (GridLayer layer in GridLayers.All.Where(l => GridLayers.TypeOf(l) == GridLayerType.Float32))
        {
            json.WriteStartObject();
            json.WriteString("name", GridLayers.NameOf(layer));
            json.WriteString("unit", GridLayers.UnitOf(layer));
            json.WriteString("text", GridLayers.DescriptionOf(layer));
            json.WriteEndObject();
        }
        json.WriteEndArray();
        json.WriteStartArray("wallColours");
        foreach (int part in ColourTable())
            json.WriteNumberValue(part);
        json.WriteEndArray();
    }

    /// <summary>What changes as the procedure is turned: file, undo and redo, files of the folder, commands.</summary>
    public static void Document(Utf8JsonWriter json, WorkbenchSession session)
    {
        ProcedureHistory history = session.History;
        json.WriteStartObject("document");
        json.WriteString("file", session.ProcedureName);
        json.WriteBoolean("saved", history.IsSaved);
        json.WriteString("undo", history.UndoLabel);
        json.WriteString("redo", history.RedoLabel);
        json.WriteString("text", history.Text);
        json.WriteString("folder", session.Folder.Path);
        Texts(json, "files", session.Folder.Procedures());
        json.WriteString(
            "measure",
            ReplayCommand.Measure(session.Options, session.CommandName(session.ProcedureName), "grid.h5")
        );
        json.WriteEndObject();
    }

    /// <summary>What a plan says of itself.</summary>
    public static void Plan(Utf8JsonWriter json, MeasurementPlan plan, Procedure procedure, string text)
    {
        json.WriteString("text", text);
        json.WriteString("sha256", ProcedureText.Sha256(procedure));
        Number(json, "velocityMetresPerSecond", plan.Velocity.MetresPerSecond);
        json.WriteString("velocitySource", plan.Velocity.Source);
        Texts(json, "warnings", plan.Warnings);
        json.WriteStartObject("values");
        foreach ((string key, string value) in TomlBinder.Values(procedure))
            json.WriteString(key, value);
        json.WriteEndObject();
    }

    public static void Faults(Utf8JsonWriter json, IEnumerable<ProcedureFinding> findings)
    {
        json.WriteStartArray("faults");
        foreach (ProcedureFinding finding in findings)
        {
            json.WriteStartObject();
            json.WriteString("key", finding.Key);
            json.WriteString("what", finding.What);
            json.WriteString("remedy", finding.Remedy);
            json.WriteString("place", finding.Place);
            json.WriteEndObject();
        }
        json.WriteEndArray();
    }

    public static void Doubtful(Utf8JsonWriter json, IReadOnlyList<DoubtfulCell> cells, int most)
    {
        json.WriteNumber("count", cells.Count);
        json.WriteStartObject("reasons");
        foreach (DoubtReason reason in Enum.GetValues<DoubtReason>().Where(r => r != DoubtReason.None))
            json.WriteNumber(reason.ToString(), cells.Count(c => c.Reasons.HasFlag(reason)));
        json.WriteEndObject();
        json.WriteStartArray("cells");
        foreach (DoubtfulCell cell in cells.Take(most))
        {
            json.WriteStartObject();
            json.WriteNumber("scan", cell.Scan);
            json.WriteNumber("beam", cell.Beam);
            json.WriteNumber("rank", Math.Round(cell.Rank, 4));
            Number(json, "thicknessMetres", cell.ThicknessMetres);
            Number(json, "aroundMetres", cell.AroundMetres);
            Texts(
                json,
                "reasons",
                Enum.GetValues<DoubtReason>()
                    .Where(r => r != DoubtReason.None && cell.Reasons.HasFlag(r))
                    .Select(r => r.ToString())
            );
            json.WriteEndObject();
        }
        json.WriteEndArray();
    }

    public static void Change(Utf8JsonWriter json, MapChange change)
    {
        Number(json, "sameMetres", change.SameMetres);
        json.WriteNumber("same", change.Same);
        json.WriteNumber("thinner", change.Thinner);
        json.WriteNumber("thicker", change.Thicker);
        json.WriteNumber("doubled", change.Doubled);
        json.WriteNumber("halved", change.Halved);
        json.WriteNumber("gained", change.Gained);
        json.WriteNumber("lost", change.Lost);
        json.WriteNumber("neither", change.Neither);
        Number(json, "meanMetres", change.MeanMetres);
        Number(json, "earlierMinimumMetres", change.EarlierMinimumMetres);
        Number(json, "laterMinimumMetres", change.LaterMinimumMetres);
        json.WriteStartArray("statuses");
        for (int from = 0; from < change.Statuses.GetLength(0); from++)
        {
            json.WriteStartArray();
            for (int to = 0; to < change.Statuses.GetLength(1); to++)
                json.WriteNumberValue(change.Statuses[from, to]);
            json.WriteEndArray();
        }
        json.WriteEndArray();
        json.WriteStartArray("largest");
        foreach (int cell in change.Largest)
            json.WriteNumberValue(cell);
        json.WriteEndArray();
    }

    /// <summary>256 colours of the wall, thin to thick, as red, green, blue one after another: those of every figure of the program.</summary>
    private static int[] ColourTable()
    {
        var colours = new WallColours();
        var table = new int[3 * 256];
        for (int i = 0; i < 256; i++)
        {
            ScottPlot.Color colour = colours.GetColor(i / 255.0);
            (table[3 * i], table[3 * i + 1], table[3 * i + 2]) = (colour.R, colour.G, colour.B);
        }
        return table;
    }

    private static void Numbers(Utf8JsonWriter json, string name, IReadOnlyList<double>? values)
    {
        if (values is null)
        {
            json.WriteNull(name);
            return;
        }
        json.WriteStartArray(name);
        foreach (double value in values)
            json.WriteNumberValue(Math.Round(value, 7));
        json.WriteEndArray();
    }
}
