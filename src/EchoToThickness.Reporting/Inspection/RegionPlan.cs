using EchoToThickness.Procedures;
using EchoToThickness.Units;

namespace EchoToThickness.Reporting.Inspection;

/// <summary>Section <c>[regions]</c>.</summary>
public sealed record RegionPlan
{
    /// <summary>Limit.</summary>
    [ProcedureKey("below", "A region has at least one wall below this.", Dimension.Length, Minimum = 0)]
    public double? BelowMetres { get; init; }

    /// <summary>Grow.</summary>
    [ProcedureKey(
        "grow_to",
        "A region grows over all walls below this; left out: the same.",
        Dimension.Length,
        Minimum = 0
    )]
    public double? GrowMetres { get; init; }

    /// <summary>Reference.</summary>
    [ProcedureKey(
        "reference_wall",
        "Wall from which depth counts; left out: the nominal wall.",
        Dimension.Length,
        Minimum = 0
    )]
    public double? ReferenceMetres { get; init; }

    /// <summary>Cells.</summary>
    [ProcedureKey("least_cells", "Regions of fewer cells are counted, but not listed.", Minimum = 1)]
    public int LeastCells { get; init; } = 3;
}
