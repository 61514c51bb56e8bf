using EchoToThickness.Grids;
using EchoToThickness.Stacks;

namespace EchoToThickness.Studies.Tune;

/// <summary>What one rule set made of the cells of a block; layers that nobody asked for are empty.</summary>
internal sealed class TuneResult
{
    private static readonly GridLayer[] Kept =
    [
        GridLayer.Thickness,
        GridLayer.Uncertainty,
        GridLayer.InterfaceTime,
        GridLayer.ThicknessInterfaceWall,
        GridLayer.ThicknessWallWall,
    ];

    private readonly int _beams;
    private readonly float[][] _layers;

    public TuneResult(StackShape shape, IReadOnlyList<GridLayer> layers)
    {
        _beams = shape.Beams;
        _layers = [.. Kept.Select(l => layers.Contains(l) ? new float[shape.Cells] : [])];
        foreach (float[] layer in _layers)
            Array.Fill(layer, float.NaN);
        Status = new byte[shape.Cells];
        Array.Fill(Status, (byte)Pairing.CellStatus.NotScanned);
    }

    public byte[] Status { get; }
    public float[] ThicknessMetres => _layers[0];
    public float[] UncertaintyMetres => _layers[1];
    public float[] InterfaceSeconds => _layers[2];
    public float[] InterfaceWallMetres => _layers[3];
    public float[] WallWallMetres => _layers[4];

    /// <summary>Takes a tile; tiles of different cells may come from different threads at once.</summary>
    public void Write(GridTile tile)
    {
        for (int row = 0; row < tile.ScanCount; row++)
        {
            int from = row * tile.BeamCount;
            int to = (tile.FirstScan + row) * _beams + tile.FirstBeam;
            for (int i = 0; i < Kept.Length; i++)
                if (_layers[i].Length > 0)
                    tile[Kept[i]].AsSpan(from, tile.BeamCount).CopyTo(_layers[i].AsSpan(to));
            tile.Status.AsSpan(from, tile.BeamCount).CopyTo(Status.AsSpan(to));
        }
    }
}
