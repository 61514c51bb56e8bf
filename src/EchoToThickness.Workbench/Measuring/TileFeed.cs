using System.Threading.Channels;
using EchoToThickness.Grids;
using EchoToThickness.Workbench.Sessions;

namespace EchoToThickness.Workbench.Measuring;

/// <summary>Takes tiles from the worker threads, keeps them in a map, and tells whoever sends the map which lines are there.</summary>
internal sealed class TileFeed(MapResult result) : IGridSink
{
    private readonly Channel<(int FirstScan, int ScanCount)> _ready = Channel.CreateUnbounded<(int, int)>(
        new UnboundedChannelOptions { SingleReader = true }
    );

    /// <summary>Lines that were measured, in the order in which they were; ends when the run does.</summary>
    public ChannelReader<(int FirstScan, int ScanCount)> Ready => _ready.Reader;

    public void Begin(GridHeader header) { }

    public void Write(GridTile tile)
    {
        int at = tile.FirstScan * result.Beams;
        foreach (GridLayer layer in result.Layers)
            tile[layer].AsSpan(0, tile.Count).CopyTo(result[layer].AsSpan(at));
        tile.Status.AsSpan(0, tile.Count).CopyTo(result.Status.AsSpan(at));
        _ready.Writer.TryWrite((tile.FirstScan, tile.ScanCount));
    }

    public void Complete(GridSummary summary) { }

    /// <summary>No more tiles come.</summary>
    public void End(Exception? error) => _ready.Writer.TryComplete(error);
}
