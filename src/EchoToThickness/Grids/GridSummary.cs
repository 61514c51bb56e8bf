using EchoToThickness.Pairing;

namespace EchoToThickness.Grids;

/// <summary>What is known once every cell is measured. The same for any number of threads.</summary>
public sealed record GridSummary
{
    /// <summary>Cells by status, index = value of <see cref="CellStatus"/>.</summary>
    public required IReadOnlyList<long> CountByStatus { get; init; }

    /// <summary>Cells with a thickness.</summary>
    public required long WithThickness { get; init; }

    /// <summary>Smallest thickness, metres; NaN when none.</summary>
    public required double MinimumThicknessMetres { get; init; }

    /// <summary>Largest thickness, metres; NaN when none.</summary>
    public required double MaximumThicknessMetres { get; init; }

    /// <summary>SHA-256 of the stack, lower-case hexadecimal; empty when not asked for.</summary>
    public string StackSha256 { get; init; } = "";
}
