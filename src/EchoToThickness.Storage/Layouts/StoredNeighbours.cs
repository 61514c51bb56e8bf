using EchoToThickness.Procedures;

namespace EchoToThickness.Storage.Layouts;

/// <summary>Along which axes cells lie side by side on the metal, as a layout map says it.</summary>
public enum StoredNeighbours
{
    /// <summary>Along both.</summary>
    [Choice("both", "Consecutive scan positions and consecutive beams lie side by side.")]
    Both,

    /// <summary>Along the scan axis only.</summary>
    [Choice("scan", "Consecutive scan positions lie side by side; beams are unrelated.")]
    Scan,

    /// <summary>Along the beam axis only.</summary>
    [Choice("beam", "Consecutive beams lie side by side; scan positions are unrelated.")]
    Beam,

    /// <summary>Along none.</summary>
    [Choice("none", "Cells are unrelated.")]
    None,
}
