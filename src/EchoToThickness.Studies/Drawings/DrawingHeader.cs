using EchoToThickness.Procedures;
using EchoToThickness.Units;

namespace EchoToThickness.Studies.Drawings;

/// <summary>Section <c>[block]</c> of a drawing: the reference block as a whole.</summary>
public sealed record DrawingHeader
{
    /// <summary>Name of the block.</summary>
    [ProcedureKey("name", "Name or mark of the block.", Required = true)]
    public string Name { get; init; } = "";

    /// <summary>Certificate.</summary>
    [ProcedureKey("certificate", "Certificate that the walls come from; printed with results.")]
    public string Certificate { get; init; } = "";

    /// <summary>Remarks.</summary>
    [ProcedureKey("note", "Remarks for people; printed with results.")]
    public string Note { get; init; } = "";

    /// <summary>Version of this form of file.</summary>
    [ProcedureKey("format_version", "Version of this form of file.", Minimum = 1, Maximum = 1)]
    public int FormatVersion { get; init; } = 1;

    /// <summary>Extent along the scan axis from the drawing's zero point, metres.</summary>
    [ProcedureKey(
        "length",
        "Extent along the scan axis from the drawing's zero point, measured on the scanned surface.",
        Dimension.Length,
        Minimum = 1e-3,
        Maximum = 100,
        Required = true
    )]
    public double LengthMetres { get; init; }

    /// <summary>Extent across from the drawing's zero point, metres.</summary>
    [ProcedureKey(
        "width",
        "Extent across the scan axis from the drawing's zero point, measured on the scanned surface.",
        Dimension.Length,
        Minimum = 1e-3,
        Maximum = 100,
        Required = true
    )]
    public double WidthMetres { get; init; }

    /// <summary>Certified wall outside of every feature, metres; null where none is certified.</summary>
    [ProcedureKey(
        "wall",
        "Certified wall outside of every step, hole and pit; left out: not certified there, and cells there are not judged.",
        Dimension.Length,
        Minimum = 1e-4,
        Maximum = 1
    )]
    public double? WallMetres { get; init; }

    /// <summary>Expanded uncertainty of certified walls, metres.</summary>
    [ProcedureKey(
        "uncertainty",
        "Expanded uncertainty of certified walls, where a feature does not state its own.",
        Dimension.Length,
        Minimum = 0,
        Maximum = 1e-2
    )]
    public double UncertaintyMetres { get; init; } = 20e-6;

    /// <summary>Coverage factor of the expanded uncertainties.</summary>
    [ProcedureKey("coverage_factor", "Coverage factor k of the expanded uncertainties.", Minimum = 1, Maximum = 10)]
    public double CoverageFactor { get; init; } = 2;

    /// <summary>Diameter of the beam at the back wall, metres.</summary>
    [ProcedureKey(
        "footprint",
        "Diameter of the beam at the back wall: the smallest wall within half of it from the axis is a right reading.",
        Dimension.Length,
        Minimum = 0,
        Maximum = 0.1
    )]
    public double FootprintMetres { get; init; } = 4e-3;

    /// <summary>How far off a cell's place on the drawing may be, metres.</summary>
    [ProcedureKey(
        "position_tolerance",
        "How far off a cell's place on the drawing may be: the largest wall within it is a right reading too.",
        Dimension.Length,
        Minimum = 0,
        Maximum = 0.1
    )]
    public double PositionToleranceMetres { get; init; } = 1e-3;
}
