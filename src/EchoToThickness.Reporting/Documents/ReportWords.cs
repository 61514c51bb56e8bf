using System.Globalization;

namespace EchoToThickness.Reporting.Documents;

/// <summary>Numbers and names of a report; the same on every machine.</summary>
internal static class ReportWords
{
    public static string Mm(double metres, int decimals = 2) =>
        double.IsFinite(metres)
            ? (metres * 1e3).ToString(
                "F" + decimals.ToString(CultureInfo.InvariantCulture),
                CultureInfo.InvariantCulture
            ) + " mm"
            : "none";

    public static string Um(double metres) =>
        double.IsFinite(metres) ? (metres * 1e6).ToString("0.#", CultureInfo.InvariantCulture) + " µm" : "not stated";

    public static string Area(double squareMetres) =>
        !double.IsFinite(squareMetres) ? "none"
        : Math.Abs(squareMetres) >= 1e-4 || squareMetres == 0
            ? (squareMetres * 1e4).ToString("0.0", CultureInfo.InvariantCulture) + " cm²"
        : (squareMetres * 1e6).ToString("0.0", CultureInfo.InvariantCulture) + " mm²";

    public static string Percent(double fraction) =>
        double.IsFinite(fraction) ? (fraction * 100).ToString("0.0", CultureInfo.InvariantCulture) + " %" : "none";

    public static string Count(long count) => count.ToString("#,0", CultureInfo.InvariantCulture);

    public static string Plain(double value, string format = "0.###") =>
        double.IsFinite(value) ? value.ToString(format, CultureInfo.InvariantCulture) : "none";

    public static string Of(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);

    public static string Spaced(string snake) => snake.Replace('_', ' ');

    public static string Capital(string text) => text.Length == 0 ? "" : char.ToUpperInvariant(text[0]) + text[1..];
}
