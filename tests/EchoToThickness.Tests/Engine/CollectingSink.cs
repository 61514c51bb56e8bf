using EchoToThickness.Grids;

namespace EchoToThickness.Tests.Engine;

/// <summary>Keeps a whole grid in memory; every cell must arrive exactly once.</summary>
internal sealed class CollectingSink : IGridSink
{
    private readonly Lock _lock = new();

    public GridHeader? Header { get; private set; }
    public GridSummary? Summary { get; private set; }
    public GridTile Grid { get; private set; } = new(0, []);
    public int[] Arrivals { get; private set; } = [];

    public void Begin(GridHeader header)
    {
        Header = header;
        Grid = new GridTile((int)header.Stack.Shape.Cells, header.Layers);
        Grid.Place(0, header.Stack.Shape.Scans, 0, header.Stack.Shape.Beams);
        Arrivals = new int[header.Stack.Shape.Cells];
    }

    public void Write(GridTile tile)
    {
        lock (_lock)
        {
            Grid.Paste(tile);
            for (int scan = 0; scan < tile.ScanCount; scan++)
            for (int beam = 0; beam < tile.BeamCount; beam++)
                Arrivals[(tile.FirstScan + scan) * Grid.BeamCount + tile.FirstBeam + beam]++;
        }
    }

    public void Complete(GridSummary summary) => Summary = summary;
}
