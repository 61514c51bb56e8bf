using EchoToThickness.Procedures;
using EchoToThickness.Units;

namespace EchoToThickness.Studies.Validate;

/// <summary>Section <c>[report]</c>.</summary>
public sealed record ValidateReportSettings
{
    /// <summary>Edges of wall bands, metres.</summary>
    [ProcedureKey(
        "wall_bands",
        "Edges, ascending, of the bands of certified wall by which accuracy is given; an empty list for none.",
        Dimension.Length,
        Minimum = 0,
        Maximum = 1
    )]
    public IReadOnlyList<double> WallBandsMetres { get; init; } = [0, 3e-3, 6e-3, 9e-3, 12e-3, 25e-3, 50e-3];

    /// <summary>Size of the test for outliers.</summary>
    [ProcedureKey(
        "outlier_level",
        "Size of the test for outliers among features (generalised extreme studentised deviate).",
        Dimension.Fraction,
        Minimum = 1e-4,
        Maximum = 0.2
    )]
    public double OutlierLevel { get; init; } = 0.05;

    /// <summary>Largest number of outliers looked for.</summary>
    [ProcedureKey("outliers", "Largest number of outliers that the test looks for.", Minimum = 1, Maximum = 100)]
    public int MostOutliers { get; init; } = 5;

    /// <summary>Forms of figures.</summary>
    [ProcedureKey("figures", "Forms in which figures are drawn: \"png\", \"svg\"; an empty list for none.")]
    public IReadOnlyList<string> Figures { get; init; } = ["png", "svg"];
}
