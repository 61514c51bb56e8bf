namespace EchoToThickness.Grids;

/// <summary>Takes results by tile, in any order and from several threads at once.</summary>
public interface IGridSink
{
    /// <summary>Called once, before any tile.</summary>
    /// <param name="header">Extent, axes, layers and everything known before measuring.</param>
    void Begin(GridHeader header);

    /// <summary>Takes one tile; called from worker threads, tiles never overlap. The tile is reused after the call returns.</summary>
    /// <param name="tile">Results of a rectangle of cells.</param>
    void Write(GridTile tile);

    /// <summary>Called once, after the last tile; makes the result visible in one step.</summary>
    /// <param name="summary">Counts and hashes known at the end.</param>
    void Complete(GridSummary summary);
}
