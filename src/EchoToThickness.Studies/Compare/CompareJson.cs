using System.Text.Encodings.Web;
using System.Text.Json;
using EchoToThickness.Procedures;
using EchoToThickness.Studies.Drawings;
using EchoToThickness.Studies.Sources;

namespace EchoToThickness.Studies.Compare;

/// <summary>A report as JSON: SI units, null where there is no figure.</summary>
public static class CompareJson
{
    /// <summary>The whole report in UTF-8, ended by a line feed; the same report always gives the same bytes.</summary>
    /// <param name="report">The report.</param>
    public static byte[] Write(CompareReport report)
    {
        ArgumentNullException.ThrowIfNull(report);
        using var stream = new MemoryStream();
        using (
            var json = new Utf8JsonWriter(
                stream,
                new JsonWriterOptions
                {
                    Indented = true,
                    NewLine = "\n",
                    Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
                }
            )
        )
        {
            json.WriteStartObject();
            json.WriteString("name", report.Study.Header.Name);
            json.WriteString("study_sha256", report.StudySha256);
            json.WriteString("study", TomlBinder.Write(report.Study));
            json.WriteStartArray("methods");
            foreach ((string name, string hash) in report.Methods)
            {
                json.WriteStartObject();
                json.WriteString("name", name);
                json.WriteString("procedure_sha256", hash);
                json.WriteEndObject();
            }
            json.WriteEndArray();
            Meanings(json);
            json.WriteStartArray("rows");
            foreach (CompareRow row in report.Rows)
                Row(json, row);
            json.WriteEndArray();
            json.WriteStartArray("thresholds");
            foreach (ThresholdRow row in report.Thresholds)
                Threshold(json, row);
            json.WriteEndArray();
            json.WriteStartArray("wrong_echo_probability");
            foreach (ReliabilityRow row in report.Reliability)
                Reliability(json, row);
            json.WriteEndArray();
            DrawingText.Write(json, "registrations", report.Registrations);
            json.WriteStartArray("paired_tests");
            foreach (PairedRow row in report.Paired)
                Paired(json, row);
            json.WriteEndArray();
            json.WriteEndObject();
        }
        stream.WriteByte((byte)'\n');
        return stream.ToArray();
    }

    private static void Meanings(Utf8JsonWriter json)
    {
        json.WriteStartArray("figures");
        foreach (CompareFigure figure in CompareFigures.All)
        {
            json.WriteStartObject();
            json.WriteString("name", CompareFigures.NameOf(figure));
            json.WriteString("unit", CompareFigures.UnitOf(figure));
            json.WriteString("meaning", CompareFigures.MeaningOf(figure));
            json.WriteEndObject();
        }
        json.WriteEndArray();
    }

    private static void Row(Utf8JsonWriter json, CompareRow row)
    {
        json.WriteStartObject();
        Group(json, row.Group);
        json.WriteString("method", row.Method);
        json.WriteNumber("cells", row.Cells);
        json.WriteNumber("left_out", row.LeftOut);
        json.WriteNumber("clusters", row.Clusters);
        json.WriteNumber("measured", row.Measured);
        Number(json, "bound_m", row.BoundMetres);
        foreach (CompareFigure figure in CompareFigures.All)
            Figure(json, CompareFigures.NameOf(figure), row[figure]);
        json.WriteEndObject();
    }

    private static void Threshold(Utf8JsonWriter json, ThresholdRow row)
    {
        json.WriteStartObject();
        json.WriteString("source", row.Source);
        Values(json, row.Values);
        json.WriteString("method", row.Method);
        Figure(json, "threshold_db", row.Decibels);
        json.WriteString(
            "place",
            double.IsNegativeInfinity(row.Decibels.Value) ? "below the sweep"
                : double.IsPositiveInfinity(row.Decibels.Value) ? "above the sweep"
                : "in the sweep"
        );
        json.WriteBoolean("by_missing", row.ByMissing);
        json.WriteNumber("lowest_db", row.LowestDecibels);
        json.WriteNumber("highest_db", row.HighestDecibels);
        json.WriteEndObject();
    }

    private static void Reliability(Utf8JsonWriter json, ReliabilityRow row)
    {
        json.WriteStartObject();
        json.WriteString("source", row.Source);
        json.WriteString("method", row.Method);
        Number(json, "lowest", row.Lowest);
        Number(json, "highest", row.Highest);
        json.WriteNumber("cells", row.Cells);
        json.WriteNumber("gross", row.Wrong);
        Number(json, "stated", row.Stated);
        Figure(json, "observed", row.Observed);
        json.WriteEndObject();
    }

    private static void Paired(Utf8JsonWriter json, PairedRow row)
    {
        json.WriteStartObject();
        Group(json, row.Group);
        json.WriteString("method", row.Method);
        json.WriteString("reference", row.Reference);
        json.WriteNumber("both_sound", row.BothSound);
        Figure(json, "rmse_ratio", row.RmseRatio);
        Number(json, "wilcoxon_p", row.WilcoxonPValue);
        Number(json, "wilcoxon_p_holm", row.WilcoxonAdjusted);
        json.WriteNumber("more_gross", row.MoreGross);
        json.WriteNumber("fewer_gross", row.FewerGross);
        Number(json, "gross_p", row.GrossPValue);
        Number(json, "gross_p_holm", row.GrossAdjusted);
        json.WriteNumber("more_missing", row.MoreMissing);
        json.WriteNumber("fewer_missing", row.FewerMissing);
        Number(json, "missing_p", row.MissingPValue);
        Number(json, "missing_p_holm", row.MissingAdjusted);
        json.WriteEndObject();
    }

    private static void Group(Utf8JsonWriter json, CompareGroup group)
    {
        json.WriteString("kind", CompareCsv.KindOf(group.Kind));
        json.WriteString("source", group.Source);
        Values(json, group.Values);
        if (group.Planted is not null)
            json.WriteString("planted", group.Planted);
        if (group.BandMetres is { } band)
        {
            json.WriteStartArray("wall_band_m");
            json.WriteNumberValue(band.Low);
            json.WriteNumberValue(band.High);
            json.WriteEndArray();
        }
    }

    private static void Values(Utf8JsonWriter json, IReadOnlyList<SweepValue> values)
    {
        json.WriteStartObject("values");
        foreach (SweepValue value in values)
            json.WriteString(value.Key, value.Text);
        json.WriteEndObject();
    }

    private static void Figure(Utf8JsonWriter json, string name, FigureValue figure)
    {
        json.WriteStartObject(name);
        Number(json, "value", figure.Value);
        Number(json, "low", figure.Interval.Low);
        Number(json, "high", figure.Interval.High);
        json.WriteEndObject();
    }

    private static void Number(Utf8JsonWriter json, string name, double value)
    {
        if (double.IsFinite(value))
            json.WriteNumber(name, value);
        else
            json.WriteNull(name);
    }
}
