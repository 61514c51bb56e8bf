using System.Globalization;
using System.Text;
using System.Text.Json;

namespace EchoToThickness.Studies.Drawings;

/// <summary>Registrations in words and in JSON.</summary>
public static class DrawingText
{
    /// <summary>What the columns mean.</summary>
    public const string Explanation =
        "Shift: what is added to a position of the scan. Mismatch: mean difference of measured and drawn walls, each cut at 0.5 mm. Rival: how many "
        + "standard errors the best other place is worse. The median difference is reported only; no wall was moved by it.";

    /// <summary>Headings.</summary>
    public static IReadOnlyList<string> Columns { get; } =
    [
        "scan",
        "block",
        "along mm",
        "across mm",
        "turn deg",
        "stretch %",
        "reversed",
        "mismatch mm",
        "rival",
        "median difference mm",
        "found how",
    ];

    /// <summary>A line of the table.</summary>
    /// <param name="scan">Scan.</param>
    /// <param name="block">Block.</param>
    /// <param name="place">Where it lies.</param>
    public static IReadOnlyList<string> Line(string scan, string block, DrawingRegistration place)
    {
        ArgumentNullException.ThrowIfNull(place);
        CultureInfo culture = CultureInfo.InvariantCulture;
        return
        [
            scan,
            block,
            (place.ShiftAlongMetres * 1e3).ToString("0.00", culture),
            (place.ShiftAcrossMetres * 1e3).ToString("0.00", culture),
            (place.AngleRadians * 180 / Math.PI).ToString("0.00", culture),
            (place.StretchFraction * 100).ToString("0.00", culture),
            (place.ReversedAlong, place.ReversedAcross) switch
            {
                (true, true) => "along and across",
                (true, false) => "along",
                (false, true) => "across",
                _ => "no",
            },
            (place.MismatchMetres * 1e3).ToString("0.000", culture),
            double.IsNaN(place.RivalDistance) ? "none" : place.RivalDistance.ToString("0.0", culture),
            (place.MedianDifferenceMetres * 1e3).ToString("+0.000;-0.000;0", culture),
            place.Note,
        ];
    }

    /// <summary>A section in Markdown: where each scan lies on its drawing.</summary>
    /// <param name="places">Scan, block and place.</param>
    public static string Table(IReadOnlyList<(string Scan, string Block, DrawingRegistration Place)> places)
    {
        ArgumentNullException.ThrowIfNull(places);
        var text = new StringBuilder();
        text.Append(CultureInfo.InvariantCulture, $"\n## Scans laid on drawings\n\n{Explanation}\n\n");
        text.Append(CultureInfo.InvariantCulture, $"| {string.Join(" | ", Columns)} |\n");
        text.Append(CultureInfo.InvariantCulture, $"|{string.Concat(Columns.Select(_ => "---|"))}\n");
        foreach ((string scan, string block, DrawingRegistration place) in places)
            text.Append(CultureInfo.InvariantCulture, $"| {string.Join(" | ", Line(scan, block, place))} |\n");
        return text.ToString();
    }

    /// <summary>An array of objects, SI units; null where there is no figure.</summary>
    /// <param name="json">Writer, inside an object.</param>
    /// <param name="name">Name of the array.</param>
    /// <param name="places">Scan, block and place.</param>
    public static void Write(
        Utf8JsonWriter json,
        string name,
        IReadOnlyList<(string Scan, string Block, DrawingRegistration Place)> places
    )
    {
        ArgumentNullException.ThrowIfNull(json);
        ArgumentNullException.ThrowIfNull(places);
        json.WriteStartArray(name);
        foreach ((string scan, string block, DrawingRegistration place) in places)
        {
            json.WriteStartObject();
            json.WriteString("scan", scan);
            json.WriteString("block", block);
            Number("shift_along_m", place.ShiftAlongMetres);
            Number("shift_across_m", place.ShiftAcrossMetres);
            Number("turn_rad", place.AngleRadians);
            Number("stretch", place.StretchFraction);
            json.WriteBoolean("reversed_along", place.ReversedAlong);
            json.WriteBoolean("reversed_across", place.ReversedAcross);
            json.WriteBoolean("decided_along", place.DecidedAlong);
            json.WriteBoolean("decided_across", place.DecidedAcross);
            json.WriteNumber("cells", place.Cells);
            Number("mismatch_m", place.MismatchMetres);
            Number("rival_mismatch_m", place.RivalMismatchMetres);
            Number("rival_standard_errors", place.RivalDistance);
            Number("median_difference_m", place.MedianDifferenceMetres);
            json.WriteString("note", place.Note);
            json.WriteEndObject();
        }
        json.WriteEndArray();

        void Number(string key, double value)
        {
            if (double.IsFinite(value))
                json.WriteNumber(key, value);
            else
                json.WriteNull(key);
        }
    }
}
