namespace EchoToThickness.Studies.Compare;

/// <summary>Names, units and meaning of the figures.</summary>
public static class CompareFigures
{
    private static readonly (string Name, string Heading, string Unit, string Meaning)[] Table =
    [
        ("gross", "gross %", "1", "off by more than the limit of gross, part of all cells"),
        ("gross_thick", "thick %", "1", "gross and too thick, part of all cells"),
        ("doubled", "doubled %", "1", "gross and within the limit of gross of twice the wall, part of all cells"),
        ("halved", "halved %", "1", "gross and within the limit of gross of half the wall, part of all cells"),
        ("cycle", "cycle %", "1", "off by more than an eighth of a wavelength, gross among them, part of all cells"),
        ("missing", "missing %", "1", "no number, part of all cells"),
        ("bias", "bias um", "m", "mean error of all measured cells"),
        ("sd", "SD um", "m", "standard deviation of the errors of all measured cells"),
        ("rmse", "RMSE um", "m", "root mean square error of all measured cells"),
        ("rmse_sound", "RMSE sound um", "m", "root mean square error of measured cells that are not gross"),
        ("p95", "P95 um", "m", "95th percentile of the absolute error of all measured cells"),
        ("rmse_over_bound", "RMSE/bound", "1", "root mean square of error over Cramér-Rao bound, all measured cells"),
        (
            "rmse_over_bound_sound",
            "RMSE/bound sound",
            "1",
            "root mean square of error over Cramér-Rao bound, measured cells that are not gross"
        ),
        ("coverage_noise", "in noise interval %", "1", "sound cells whose interval from noise alone holds the truth"),
        ("coverage", "in interval %", "1", "sound cells whose combined interval holds the truth"),
    ];

    /// <summary>All figures, the headline first.</summary>
    public static IReadOnlyList<CompareFigure> All { get; } = Enum.GetValues<CompareFigure>();

    /// <summary>Name in CSV and JSON.</summary>
    /// <param name="figure">A figure.</param>
    public static string NameOf(CompareFigure figure) => Table[(int)figure].Name;

    /// <summary>Column heading in tables for people, with its unit (percent, micrometres).</summary>
    /// <param name="figure">A figure.</param>
    public static string HeadingOf(CompareFigure figure) => Table[(int)figure].Heading;

    /// <summary>Unit in CSV and JSON: <c>m</c> or <c>1</c>.</summary>
    /// <param name="figure">A figure.</param>
    public static string UnitOf(CompareFigure figure) => Table[(int)figure].Unit;

    /// <summary>What it means.</summary>
    /// <param name="figure">A figure.</param>
    public static string MeaningOf(CompareFigure figure) => Table[(int)figure].Meaning;

    /// <summary>Whether it is a part of cells, 0 to 1.</summary>
    /// <param name="figure">A figure.</param>
    public static bool IsRate(CompareFigure figure) =>
        figure is <= CompareFigure.Missing or CompareFigure.NoiseCoverage or CompareFigure.Coverage;

    /// <summary>From the unit of CSV and JSON to that of tables for people.</summary>
    /// <param name="figure">A figure.</param>
    public static double ScaleOf(CompareFigure figure) =>
        IsRate(figure) ? 100
        : UnitOf(figure) == "m" ? 1e6
        : 1;
}
