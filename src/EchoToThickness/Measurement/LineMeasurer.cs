using EchoToThickness.Evidence;
using EchoToThickness.Grids;
using EchoToThickness.Pairing;
using EchoToThickness.Stacks;

namespace EchoToThickness.Measurement;

/// <summary>
/// Measures A-scans according to one compiled plan. Owns all scratch it needs (one instance a thread, not thread-safe) and allocates
/// nothing per A-scan. Every implementation gives the same answer for the procedures it accepts; which one runs is a matter of speed.
/// </summary>
public abstract class LineMeasurer
{
    /// <summary>Short name for logs and benchmarks.</summary>
    public abstract string Name { get; }

    /// <summary>
    /// Finds interface candidates only (pass 1 of a tracked measurement). Called for the cells of the strip that the block covers.
    /// </summary>
    /// <param name="block">A-scans; may reach beyond the rectangle where averaging needs neighbours.</param>
    /// <param name="firstScan">First scan position to look at.</param>
    /// <param name="scanCount">Scan positions to look at.</param>
    /// <param name="firstBeam">First beam to look at.</param>
    /// <param name="beamCount">Beams to look at.</param>
    /// <param name="strip">Takes the candidates.</param>
    public abstract void FindInterfaces(
        in AScanBlock block,
        int firstScan,
        int scanCount,
        int firstBeam,
        int beamCount,
        InterfaceStrip strip
    );

    /// <summary>Measures every cell of the tile's rectangle.</summary>
    /// <param name="block">A-scans that cover the tile; may reach beyond it where averaging needs neighbours.</param>
    /// <param name="tile">Placed on the rectangle to measure; takes the results.</param>
    /// <param name="strip">Interface choices made with neighbours, or null when every A-scan finds its own.</param>
    public abstract void Measure(in AScanBlock block, GridTile tile, InterfaceStrip? strip);

    /// <summary>Measures one cell and, where asked, records every stage's decision.</summary>
    /// <param name="block">A-scans that cover the cell.</param>
    /// <param name="scan">Scan position in the stack.</param>
    /// <param name="beam">Beam in the stack.</param>
    /// <param name="strip">Interface choices made with neighbours, or null.</param>
    /// <param name="trace">Takes the decisions; null when nobody asks.</param>
    public abstract CellResult MeasureCell(
        in AScanBlock block,
        int scan,
        int beam,
        InterfaceStrip? strip,
        MeasurementTrace? trace
    );
}
