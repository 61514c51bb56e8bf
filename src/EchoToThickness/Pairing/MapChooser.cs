using EchoToThickness.Procedures;
using EchoToThickness.Stacks;

namespace EchoToThickness.Pairing;

/// <summary>
/// Chooses the walls of a strip jointly, by the method of the procedure. A pure function of the strip: only the choices are written. A
/// choice depends on cells up to <see cref="OverlapCells"/> away and on none further. One instance a thread.
/// </summary>
public sealed class MapChooser
{
    /// <summary>Scan lines on either side that a decision may depend on.</summary>
    public const int OverlapCells = MapSettings.ReachCells + MapRules.ReachCells;

    private readonly MapSettings _settings;
    private readonly NeighbourAxes _neighbours;
    private readonly MapCosts _costs;
    private readonly BeliefChoice _belief = new();

    /// <summary>Prepares for one procedure and stack.</summary>
    /// <param name="settings">Settings of the procedure.</param>
    /// <param name="neighbours">Along which axes cells are neighbours; nothing is tied across other axes.</param>
    public MapChooser(MapSettings settings, NeighbourAxes neighbours)
    {
        ArgumentNullException.ThrowIfNull(settings);
        _settings = settings;
        _costs = new MapCosts(settings);
        _neighbours = neighbours;
    }

    /// <summary>Chooses.</summary>
    /// <param name="strip">Hypotheses of every cell, with an overlap of <see cref="OverlapCells"/> lines about those asked for where the map goes on.</param>
    /// <param name="firstScan">First scan position whose cells are decided from the choice.</param>
    /// <param name="scanCount">Scan positions.</param>
    public void Run(MapStrip strip, int firstScan, int scanCount)
    {
        ArgumentNullException.ThrowIfNull(strip);
        // MapRules looks at the choices of the cells next to a cell: these are made as well.
        int end = Math.Min(firstScan + scanCount + MapRules.ReachCells, strip.FirstScan + strip.ScanCount);
        firstScan = Math.Max(firstScan - MapRules.ReachCells, strip.FirstScan);
        scanCount = end - firstScan;
        switch (_settings.Choice)
        {
            case MapChoice.SemiGlobal:
                SemiGlobalChoice.Run(strip, firstScan, scanCount, _neighbours, _costs);
                break;
            case MapChoice.BeliefPropagation:
                _belief.Run(strip, firstScan, scanCount, _neighbours, _costs);
                break;
            case MapChoice.Off:
                break;
            default:
                throw new InvalidOperationException($"Unknown choice over the map: {_settings.Choice}.");
        }
    }
}
