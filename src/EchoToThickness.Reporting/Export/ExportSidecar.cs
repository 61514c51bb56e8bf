using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Nodes;
using EchoToThickness.Components;

namespace EchoToThickness.Reporting.Export;

/// <summary>The JSON beside a format that has no room for words: datum, units, axes, origin, and the SHA-256 of the file it describes.</summary>
internal static class ExportSidecar
{
    private static readonly JsonSerializerOptions Style = new()
    {
        WriteIndented = true,
        NewLine = "\n",
        Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
    };

    /// <summary>Endings of formats that need one.</summary>
    public static bool IsFor(string ending) => ending is ".asc" or ".csv" or ".npy" or ".vtk";

    /// <summary>The sidecar as text.</summary>
    public static string Text(StitchedMap map, ExportFacts facts, string path, string sha256)
    {
        MapRaster raster = map.Raster;
        (string values, string missing) = Path.GetExtension(path).ToLowerInvariant() switch
        {
            ".npy" => ("wall, m; shape [along, around]", "NaN"),
            ".asc" => ("wall, mm; first row is the downstream end, columns go around", "-9999"),
            ".vtk" => ("wall and uncertainty, mm; points, mm; status as number", "nan"),
            _ => ("wall, mm; units in the names of the columns", "empty"),
        };
        var json = new JsonObject
        {
            ["file"] = Path.GetFileName(path),
            ["sha256"] = sha256,
            ["values"] = values,
            ["missing"] = missing,
        };
        foreach ((string name, string value) in facts.Lines)
            json[name] = name == "units" ? values : value;
        json["along"] = Axis(raster.AlongCount, raster.AlongMetres(0), raster.AlongPitchMetres);
        json["around"] = Axis(raster.AroundCount, raster.AroundMetres(0), raster.AroundPitchMetres);
        return json.ToJsonString(Style) + "\n";
    }

    private static JsonObject Axis(int count, double first, double pitch) =>
        new()
        {
            ["cells"] = count,
            ["first_centre_mm"] = Math.Round(first * 1e3, 9),
            ["pitch_mm"] = Math.Round(pitch * 1e3, 9),
        };
}
