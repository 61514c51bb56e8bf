using EchoToThickness.Procedures;
using EchoToThickness.Units;

namespace EchoToThickness.Studies.StudyFiles;

/// <summary>Section <c>[report]</c>: how errors are judged and reported. Changing it measures nothing anew.</summary>
public sealed record ReportSettings
{
    /// <summary>Largest error that is not gross, metres.</summary>
    [ProcedureKey("gross", "An error above this is gross ...", Dimension.Length, Minimum = 1e-6, Maximum = 1)]
    public double GrossMetres { get; init; } = 0.5e-3;

    /// <summary>Part of the wall that is gross.</summary>
    [ProcedureKey(
        "gross_fraction",
        "... or above this part of the wall, whichever is smaller.",
        Dimension.Fraction,
        Minimum = 1e-4,
        Maximum = 1
    )]
    public double GrossFraction { get; init; } = 0.1;

    /// <summary>Confidence level of intervals.</summary>
    [ProcedureKey("level", "Confidence level of intervals.", Dimension.Fraction, Minimum = 0.5, Maximum = 0.999)]
    public double Level { get; init; } = 0.95;

    /// <summary>Bootstrap resamples.</summary>
    [ProcedureKey(
        "bootstrap",
        "Bootstrap resamples; 0 for no intervals but those of rates.",
        Minimum = 0,
        Maximum = 100_000
    )]
    public int Bootstrap { get; init; } = 1000;

    /// <summary>Method that the others are tested against.</summary>
    [ProcedureKey("reference", "Method that the others are tested against; left out: the first.")]
    public string? Reference { get; init; }

    /// <summary>Edges of the wall bands.</summary>
    [ProcedureKey(
        "wall_bands",
        "Edges, ascending, of the bands of true wall by which figures are given; an empty list for none.",
        Dimension.Length,
        Minimum = 0,
        Maximum = 1
    )]
    public IReadOnlyList<double> WallBandsMetres { get; init; } =
    [0, 1.5e-3, 3e-3, 5e-3, 7e-3, 9e-3, 12e-3, 16e-3, 25e-3, 50e-3];

    /// <summary>Forms of figures.</summary>
    [ProcedureKey("figures", "Forms in which figures are drawn: \"png\", \"svg\"; an empty list for none.")]
    public IReadOnlyList<string> Figures { get; init; } = ["png", "svg"];
}
