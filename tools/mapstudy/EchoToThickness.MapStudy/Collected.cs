using EchoToThickness.Grids;

namespace EchoToThickness.MapStudy;

/// <summary>A grid kept in memory.</summary>
internal sealed class Collected : IGridSink
{
    private readonly Lock _lock = new();

    public GridTile Grid { get; private set; } = new(0, []);

    public void Begin(GridHeader header)
    {
        Grid = new GridTile((int)header.Stack.Shape.Cells, header.Layers);
        Grid.Place(0, header.Stack.Shape.Scans, 0, header.Stack.Shape.Beams);
    }

    public void Write(GridTile tile)
    {
        lock (_lock)
            Grid.Paste(tile);
    }

    public void Complete(GridSummary summary) { }
}
