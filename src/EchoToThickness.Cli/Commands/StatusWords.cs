using System.Globalization;
using System.Text;
using EchoToThickness.Pairing;

namespace EchoToThickness.Cli.Commands;

/// <summary>Statuses and notes as words on the screen; the names are those in the grid file.</summary>
internal static class StatusWords
{
    /// <summary>"NoBackWallEcho" as "no back wall echo".</summary>
    public static string Of<T>(T name)
        where T : struct, Enum
    {
        var words = new StringBuilder();
        foreach (char letter in name.ToString())
        {
            if (char.IsUpper(letter) && words.Length > 0)
                words.Append(' ');
            words.Append(char.ToLowerInvariant(letter));
        }
        return words.ToString();
    }

    public static IReadOnlyList<string> Notes(CellNotes notes) =>
        Enum.GetValues<CellNotes>().Where(n => n != CellNotes.None && notes.HasFlag(n)).Select(n => Of(n)).ToArray();

    public static string Millimetres(double metres, int decimals = 3) =>
        double.IsNaN(metres) ? "-" : (metres * 1e3).ToString("F" + decimals, CultureInfo.InvariantCulture) + " mm";

    public static string Percent(double fraction) =>
        double.IsNaN(fraction) ? "-" : (fraction * 100).ToString("F1", CultureInfo.InvariantCulture) + " %";

    public static string Count(long count) => count.ToString("#,0", CultureInfo.InvariantCulture);
}
