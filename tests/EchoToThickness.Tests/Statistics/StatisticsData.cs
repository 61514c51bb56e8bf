using System.Globalization;

namespace EchoToThickness.Tests.Statistics;

/// <summary>Samples of <c>testdata/checks/data</c>.</summary>
internal static class StatisticsData
{
    /// <summary>A column of a CSV file; empty fields are NaN.</summary>
    public static double[] Column(string name, int column = 0) =>
        File.ReadLines(RepositoryFiles.PathOf("testdata", "checks", "data", name + ".csv"))
            .Skip(1)
            .Select(line => line.Split(','))
            .Select(fields =>
                column < fields.Length && fields[column].Length > 0
                    ? double.Parse(fields[column], CultureInfo.InvariantCulture)
                    : double.NaN
            )
            .ToArray();

    /// <summary>Data of a NIST StRD file: the numbers below the line of dashes that follows "Data: Y".</summary>
    public static double[] Nist(string name) =>
        File.ReadLines(RepositoryFiles.PathOf("testdata", "checks", "data", "nist", name + ".dat"))
            .SkipWhile(line => !line.StartsWith("Data:", StringComparison.Ordinal) || line.Trim() != "Data: Y")
            .Skip(2)
            .Where(line => line.Trim().Length > 0)
            .Select(line => double.Parse(line.Trim(), CultureInfo.InvariantCulture))
            .ToArray();

    public static double[] PortPirie => Column("portpirie_annual_max_sea_level_m", 1);

    public static double[] Fremantle => Column("fremantle_annual_max_sea_level_m", 1);

    public static double[] Venice => Column("venice_ten_largest_sea_levels_cm", 1);

    public static double[] GlassFibre => Column("glass_fibre_strength");

    public static double[] Rain => Column("rain_daily_exceed_20mm", 1);

    /// <summary>A deterministic standard normal sample (Box-Muller over a Weyl sequence hash), apart from the library's generator.</summary>
    public static double[] Normals(int count, int seed)
    {
        var random = new Random(seed);
        var values = new double[count];
        for (int k = 0; k < count; k++)
            values[k] = Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
        return values;
    }
}
