using System.Globalization;

namespace EchoToThickness.Geometry;

/// <summary>Nominal pipe sizes 2 to 24 with schedules 40, 80, 160, STD and XS.</summary>
/// <remarks>
/// Source: ASME B36.10M-2018, Table 1, read in a general-purpose public library of pipe tables. Sizes 3.5 and 22 are left out: they
/// lack some of these schedules and are rare on elbows.
/// </remarks>
public static class PipeSizes
{
    /// <summary>Schedules held for every size.</summary>
    public static IReadOnlyList<string> Schedules { get; } = ["40", "80", "160", "STD", "XS"];

    /// <summary>All sizes, ascending.</summary>
    public static IReadOnlyList<PipeSize> All { get; } =
    [
        Size("2", 60.3, 3.91, 5.54, 8.74, 3.91, 5.54),
        Size("2.5", 73.0, 5.16, 7.01, 9.53, 5.16, 7.01),
        Size("3", 88.9, 5.49, 7.62, 11.13, 5.49, 7.62),
        Size("4", 114.3, 6.02, 8.56, 13.49, 6.02, 8.56),
        Size("5", 141.3, 6.55, 9.53, 15.88, 6.55, 9.53),
        Size("6", 168.3, 7.11, 10.97, 18.26, 7.11, 10.97),
        Size("8", 219.1, 8.18, 12.7, 23.01, 8.18, 12.7),
        Size("10", 273.0, 9.27, 15.09, 28.58, 9.27, 12.7),
        Size("12", 323.8, 10.31, 17.48, 33.32, 9.53, 12.7),
        Size("14", 355.6, 11.13, 19.05, 35.71, 9.53, 12.7),
        Size("16", 406.4, 12.7, 21.44, 40.49, 9.53, 12.7),
        Size("18", 457, 14.27, 23.83, 45.24, 9.53, 12.7),
        Size("20", 508, 15.09, 26.19, 50.01, 9.53, 12.7),
        Size("24", 610, 17.48, 30.96, 59.54, 9.53, 12.7),
    ];

    /// <summary>A size by its name; null when the table does not hold it.</summary>
    /// <param name="nominalSize">Inches as written: <c>"6"</c>, <c>"2.5"</c> or <c>"NPS 6"</c>.</param>
    public static PipeSize? Find(string nominalSize)
    {
        ArgumentNullException.ThrowIfNull(nominalSize);
        ReadOnlySpan<char> text = nominalSize.AsSpan().Trim();
        if (text.StartsWith("NPS", StringComparison.OrdinalIgnoreCase))
            text = text[3..].Trim();
        if (!double.TryParse(text, NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out double inches))
            return null;
        foreach (PipeSize size in All)
            if (size.NominalInches == inches)
                return size;
        return null;
    }

    /// <summary>Millimetres as the table prints them, walls in the order of <see cref="Schedules"/>.</summary>
    private static PipeSize Size(string name, double outsideMillimetres, params double[] wallMillimetres) =>
        new(
            name,
            double.Parse(name, CultureInfo.InvariantCulture),
            outsideMillimetres / 1000,
            [.. wallMillimetres.Select((wall, i) => new PipeWall(Schedules[i], wall / 1000))]
        );
}
