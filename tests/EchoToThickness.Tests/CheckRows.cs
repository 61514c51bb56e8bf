using System.Globalization;

namespace EchoToThickness.Tests;

/// <summary>Rows of <c>testdata/checks</c>: values made outside this program, with their tolerance.</summary>
internal static class CheckRows
{
    private static readonly Dictionary<string, string[]> Rows = Load();

    /// <summary>Expected value of a row.</summary>
    public static double Expected(string id) => Number(Row(id)[3]);

    /// <summary>Expected numbers of a row that holds several, separated by semicolons.</summary>
    public static double[] ExpectedList(string id) => Row(id)[3].Split(';').Select(Number).ToArray();

    /// <summary>Whether the row's number was written down from memory of its source.</summary>
    public static bool FromMemory(string id) => Row(id)[7].Contains("memory", StringComparison.Ordinal);

    /// <summary>Ids that begin with a text.</summary>
    public static IEnumerable<string> Ids(string prefix) =>
        Rows.Keys.Where(id => id.StartsWith(prefix, StringComparison.Ordinal));

    /// <summary>A field of a row: 0 id, 1 quantity, 2 inputs, 3 expected, 4 unit, 5 tolerance.</summary>
    public static string Field(string id, int column) => Row(id)[column];

    /// <summary>The tolerance of a row ("abs x" or "rel x", also in percent) as an absolute one.</summary>
    public static double Tolerance(string id)
    {
        string[] words = Row(id)[5].Split(' ');
        double size = Number(words[1]) * (words.Length > 2 && words[2] == "%" ? 0.01 : 1);
        return words[0] == "rel" ? size * Math.Abs(Expected(id)) : size;
    }

    private static string[] Row(string id) => Rows[id];

    private static double Number(string text) =>
        double.Parse(text.Trim(), NumberStyles.Float, CultureInfo.InvariantCulture);

    private static Dictionary<string, string[]> Load()
    {
        var rows = new Dictionary<string, string[]>(StringComparer.Ordinal);
        foreach (
            string name in (string[])
                [
                    "01_acoustics.csv",
                    "02_time_delay.csv",
                    "03_thickness_rules.csv",
                    "04_pipe_geometry.csv",
                    "05_corrosion.csv",
                    "05_pressure_design.csv",
                    "06_statistics.csv",
                ]
        )
        foreach (string line in File.ReadLines(RepositoryFiles.PathOf("testdata", "checks", name)).Skip(1))
        {
            string[] fields = Split(line);
            rows.Add(fields[0], fields);
        }
        return rows;
    }

    private static string[] Split(string line)
    {
        var fields = new List<string>();
        var field = new System.Text.StringBuilder();
        bool quoted = false;
        foreach (char c in line)
        {
            if (c == '"')
                quoted = !quoted;
            else if (c == ',' && !quoted)
            {
                fields.Add(field.ToString());
                field.Clear();
            }
            else
                field.Append(c);
        }
        fields.Add(field.ToString());
        return fields.ToArray();
    }
}
