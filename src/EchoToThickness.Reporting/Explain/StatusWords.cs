using System.Globalization;
using System.Text;
using EchoToThickness.Pairing;

namespace EchoToThickness.Reporting.Explain;

/// <summary>Statuses and notes as words on the screen; the names are those in the grid file.</summary>
public static class StatusWords
{
    /// <summary>"NoBackWallEcho" as "no back wall echo".</summary>
    /// <param name="name">A status or a note.</param>
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

    /// <summary>Every note that is set, in words.</summary>
    /// <param name="notes">Notes of a cell.</param>
    public static IReadOnlyList<string> Notes(CellNotes notes) =>
        Enum.GetValues<CellNotes>().Where(n => n != CellNotes.None && notes.HasFlag(n)).Select(n => Of(n)).ToArray();

    /// <summary>A length with its unit; a dash for none.</summary>
    /// <param name="metres">Length.</param>
    /// <param name="decimals">Digits behind the point.</param>
    public static string Millimetres(double metres, int decimals = 3) =>
        double.IsNaN(metres) ? "-" : (metres * 1e3).ToString("F" + decimals, CultureInfo.InvariantCulture) + " mm";

    /// <summary>A fraction in percent; a dash for none.</summary>
    /// <param name="fraction">Fraction.</param>
    public static string Percent(double fraction) =>
        double.IsNaN(fraction) ? "-" : (fraction * 100).ToString("F1", CultureInfo.InvariantCulture) + " %";

    /// <summary>A count with thousands apart.</summary>
    /// <param name="count">Count.</param>
    public static string Count(long count) => count.ToString("#,0", CultureInfo.InvariantCulture);
}
