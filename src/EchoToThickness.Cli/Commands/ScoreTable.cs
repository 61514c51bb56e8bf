using System.Globalization;
using System.Text;
using EchoToThickness.Studies;

namespace EchoToThickness.Cli.Commands;

/// <summary>Scores as a table for people and for Markdown.</summary>
internal static class ScoreTable
{
    public const string Heading =
        "| stack | n | miss % | gross % | thick | thin | cycle % | bias mm | RMSE mm | P95 mm | RMSE sound mm |\n"
        + "|---|---|---|---|---|---|---|---|---|---|---|\n";

    public static string Row(string name, AccuracyScore score)
    {
        CultureInfo culture = CultureInfo.InvariantCulture;
        var row = new StringBuilder();
        row.Append(
            culture,
            $"| {name} | {score.Cells} | {100 * score.MissingFraction:F1} | {100 * score.GrossFraction:F1} "
        );
        row.Append(culture, $"| {score.GrossThick} | {score.GrossThin} | {100 * score.CycleFraction:F1} ");
        row.Append(culture, $"| {Number(score.BiasMetres, true)} | {Number(score.RmseMetres)} ");
        row.Append(culture, $"| {Number(score.P95Metres)} | {Number(score.RmseSoundMetres)} |\n");
        return row.ToString();
    }

    private static string Number(double metres, bool signed = false) =>
        double.IsNaN(metres)
            ? "-"
            : (metres * 1e3).ToString(signed ? "+0.0000;-0.0000" : "0.0000", CultureInfo.InvariantCulture);
}
