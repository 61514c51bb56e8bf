using System.Text.Json;
using EchoToThickness.Grids;
using EchoToThickness.Workbench.Measuring;
using EchoToThickness.Workbench.Sessions;
using Microsoft.AspNetCore.Http;

namespace EchoToThickness.Workbench.Serving;

/// <summary>Reads what the page sends; anything that is not of the expected form is refused in words.</summary>
internal static class RequestBody
{
    private const int MostEdits = 200;
    private static readonly JsonDocumentOptions Strict = new() { MaxDepth = 8 };

    /// <summary>Reads a whole body within the limits of size and time.</summary>
    public static async Task<JsonElement> ReadAsync(HttpContext context, WorkbenchOptions options)
    {
        using var limit = CancellationTokenSource.CreateLinkedTokenSource(context.RequestAborted);
        limit.CancelAfter(TimeSpan.FromSeconds(options.SlowestBodySeconds));
        try
        {
            using JsonDocument document = await JsonDocument
                .ParseAsync(context.Request.Body, Strict, limit.Token)
                .ConfigureAwait(false);
            return document.RootElement.ValueKind == JsonValueKind.Object
                ? document.RootElement.Clone()
                : throw Wrong("an object");
        }
        catch (JsonException)
        {
            throw Wrong("JSON");
        }
        catch (OperationCanceledException) when (!context.RequestAborted.IsCancellationRequested)
        {
            throw new BadHttpRequestException("The body came too slowly.", StatusCodes.Status408RequestTimeout);
        }
    }

    public static MeasureRequest Measure(JsonElement body, int scans)
    {
        int first = Math.Clamp(Whole(body, "firstScan", 0), 0, scans - 1);
        return new MeasureRequest
        {
            Edits = Edits(body),
            Commit = Text(body, "commit", 120),
            ReferenceFile = Text(body, "reference", 200),
            Layers = Layers(body),
            FirstScan = first,
            ScanCount = Math.Clamp(Whole(body, "scanCount", scans), 1, scans),
        };
    }

    public static IReadOnlyList<ProcedureEdit> Edits(JsonElement body)
    {
        if (!body.TryGetProperty("edits", out JsonElement list))
            return [];
        if (list.ValueKind != JsonValueKind.Array || list.GetArrayLength() > MostEdits)
            throw Wrong($"at most {MostEdits} edits");
        var edits = new List<ProcedureEdit>();
        foreach (JsonElement edit in list.EnumerateArray())
        {
            if (edit.ValueKind != JsonValueKind.Object)
                throw Wrong("edits that are objects");
            var values = new List<(string, string)>();
            if (edit.TryGetProperty("values", out JsonElement pairs) && pairs.ValueKind == JsonValueKind.Object)
            {
                foreach (JsonProperty pair in pairs.EnumerateObject())
                    values.Add(
                        (
                            pair.Name,
                            pair.Value.ValueKind == JsonValueKind.String
                                ? pair.Value.GetString()!
                                : throw Wrong("values that are text")
                        )
                    );
            }
            edits.Add(
                new ProcedureEdit(
                    Text(edit, "kind", 20) ?? throw Wrong("a kind of edit"),
                    Text(edit, "key", 200) ?? "",
                    Text(edit, "value", int.MaxValue) ?? "",
                    values
                )
            );
        }
        return edits;
    }

    /// <summary>A whole number; a default where it is left out.</summary>
    public static int Whole(JsonElement body, string name, int otherwise) =>
        !body.TryGetProperty(name, out JsonElement value) ? otherwise
        : value.ValueKind == JsonValueKind.Number && value.TryGetInt32(out int number) ? number
        : throw Wrong($"a whole number '{name}'");

    /// <summary>Text; null where it is left out or null.</summary>
    public static string? Text(JsonElement body, string name, int longest)
    {
        if (!body.TryGetProperty(name, out JsonElement value) || value.ValueKind == JsonValueKind.Null)
            return null;
        return value.ValueKind == JsonValueKind.String && value.GetString() is { } text && text.Length <= longest
            ? text
            : throw Wrong($"text '{name}' of at most {longest} characters");
    }

    /// <summary>A switch; false where it is left out.</summary>
    public static bool Flag(JsonElement body, string name) =>
        body.TryGetProperty(name, out JsonElement value) && value.ValueKind == JsonValueKind.True;

    /// <summary>A cell of the stack.</summary>
    public static (int Scan, int Beam) Cell(JsonElement body, int scans, int beams)
    {
        int scan = Whole(body, "scan", -1);
        int beam = Whole(body, "beam", -1);
        return scan >= 0 && scan < scans && beam >= 0 && beam < beams
            ? (scan, beam)
            : throw new WorkbenchException(
                "That cell is outside the stack.",
                $"scan positions go from 0 to {scans - 1}, beams from 0 to {beams - 1}."
            );
    }

    private static IReadOnlyList<GridLayer> Layers(JsonElement body)
    {
        if (!body.TryGetProperty("layers", out JsonElement list) || list.ValueKind != JsonValueKind.Array)
            return [GridLayer.Thickness];
        var layers = new List<GridLayer>();
        foreach (JsonElement name in list.EnumerateArray())
        {
            if (
                name.ValueKind != JsonValueKind.String
                || !GridLayers.TryParse(name.GetString()!, out GridLayer layer)
                || GridLayers.TypeOf(layer) != GridLayerType.Float32
            )
                throw Wrong("names of layers with numbers");
            layers.Add(layer);
        }
        return layers.Append(GridLayer.Thickness).Distinct().Order().ToArray();
    }

    private static WorkbenchException Wrong(string wanted) =>
        new($"The request is not of the expected form: {wanted} was expected.", "reload the page.");
}
