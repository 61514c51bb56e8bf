using EchoToThickness.Procedures;

namespace EchoToThickness.Studies.StudyFiles;

/// <summary>What is taken for independent when intervals are computed.</summary>
public enum ResampleChoice
{
    /// <summary>Single cells.</summary>
    [Choice("cell", "Single cells: every A-scan is a case of its own.")]
    Cell,

    /// <summary>All cells of one scan position.</summary>
    [Choice("scan", "All cells of one scan position together, for instance one feature a position.")]
    Scan,

    /// <summary>All cells of one beam.</summary>
    [Choice("beam", "All cells of one beam together.")]
    Beam,

    /// <summary>Rectangles of cells.</summary>
    [Choice(
        "block",
        "Rectangles of block_scans times block_beams cells together; make them larger than features and correlation lengths."
    )]
    Block,

    /// <summary>All cells of one scan line or repeat.</summary>
    [Choice("line", "All cells of one scan line, or of one repeat of a scene, together.")]
    Line,

    /// <summary>All cells of one feature of the drawing.</summary>
    [Choice(
        "feature",
        "With a drawing: all cells of one step, hole or pit together, and all of the wall outside of them."
    )]
    Feature,
}
