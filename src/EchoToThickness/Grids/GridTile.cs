using EchoToThickness.Pairing;

namespace EchoToThickness.Grids;

/// <summary>
/// Results of a rectangle of cells, one array a layer, shape [scan, beam] row by row. Arrays of layers that were not asked for
/// are empty. Reused from tile to tile; the sink must copy what it keeps.
/// </summary>
public sealed class GridTile
{
    private readonly float[][] _floats = new float[(int)GridLayer.PairedOrders][];

    /// <summary>Makes a tile with room for a number of cells.</summary>
    /// <param name="capacity">Largest number of cells.</param>
    /// <param name="layers">Layers asked for; status is always there.</param>
    public GridTile(int capacity, IReadOnlyCollection<GridLayer> layers)
    {
        ArgumentNullException.ThrowIfNull(layers);
        Capacity = capacity;
        Layers = layers.Append(GridLayer.Status).Distinct().Order().ToArray();
        for (int layer = 0; layer < _floats.Length; layer++)
            _floats[layer] = Layers.Contains((GridLayer)layer) ? new float[capacity] : [];
        PairedOrders = Layers.Contains(GridLayer.PairedOrders) ? new byte[capacity] : [];
        EchoCount = Layers.Contains(GridLayer.EchoCount) ? new byte[capacity] : [];
        Notes = Layers.Contains(GridLayer.Notes) ? new ushort[capacity] : [];
        Status = new byte[capacity];
    }

    /// <summary>Largest number of cells.</summary>
    public int Capacity { get; }

    /// <summary>Layers held, in file order.</summary>
    public IReadOnlyList<GridLayer> Layers { get; }

    /// <summary>First scan position of the tile in the grid.</summary>
    public int FirstScan { get; private set; }

    /// <summary>Scan positions in the tile.</summary>
    public int ScanCount { get; private set; }

    /// <summary>First beam of the tile in the grid.</summary>
    public int FirstBeam { get; private set; }

    /// <summary>Beams in the tile.</summary>
    public int BeamCount { get; private set; }

    /// <summary>Cells in the tile.</summary>
    public int Count => ScanCount * BeamCount;

    /// <summary>Values of a floating-point layer, shape [scan, beam]; empty when not asked for.</summary>
    /// <param name="layer">A layer of type <see cref="GridLayerType.Float32"/>.</param>
    public float[] this[GridLayer layer] => _floats[(int)layer];

    /// <summary>Layer <see cref="GridLayer.PairedOrders"/>.</summary>
    public byte[] PairedOrders { get; }

    /// <summary>Layer <see cref="GridLayer.EchoCount"/>.</summary>
    public byte[] EchoCount { get; }

    /// <summary>Layer <see cref="GridLayer.Notes"/>.</summary>
    public ushort[] Notes { get; }

    /// <summary>Layer <see cref="GridLayer.Status"/>.</summary>
    public byte[] Status { get; }

    /// <summary>Places the tile on the grid; values of the last use remain until overwritten.</summary>
    /// <param name="firstScan">First scan position.</param>
    /// <param name="scanCount">Scan positions.</param>
    /// <param name="firstBeam">First beam.</param>
    /// <param name="beamCount">Beams.</param>
    public void Place(int firstScan, int scanCount, int firstBeam, int beamCount)
    {
        if ((long)scanCount * beamCount > Capacity)
            throw new ArgumentException(
                $"{scanCount} x {beamCount} cells do not fit into {Capacity}.",
                nameof(scanCount)
            );
        FirstScan = firstScan;
        ScanCount = scanCount;
        FirstBeam = firstBeam;
        BeamCount = beamCount;
    }

    /// <summary>Writes one cell's result into every layer held.</summary>
    /// <param name="index">Cell in the tile, <c>scan * BeamCount + beam</c>.</param>
    /// <param name="cell">The result.</param>
    public void Set(int index, in CellResult cell)
    {
        Put(GridLayer.Thickness, index, cell.ThicknessMetres);
        Put(GridLayer.Uncertainty, index, cell.UncertaintyMetres);
        Put(GridLayer.UncertaintyNoise, index, cell.UncertaintyNoiseMetres);
        Put(GridLayer.UncertaintyCalibration, index, cell.UncertaintyCalibrationMetres);
        Put(GridLayer.InterfaceTime, index, cell.InterfaceSeconds);
        Put(GridLayer.FirstEchoTime, index, cell.FirstEchoSeconds);
        Put(GridLayer.SecondEchoTime, index, cell.SecondEchoSeconds);
        Put(GridLayer.InterfaceAmplitude, index, cell.InterfaceAmplitudeFraction);
        Put(GridLayer.FirstEchoAmplitude, index, cell.FirstEchoAmplitudeFraction);
        Put(GridLayer.SecondEchoAmplitude, index, cell.SecondEchoAmplitudeFraction);
        Put(GridLayer.ThicknessInterfaceWall, index, cell.ThicknessInterfaceWallMetres);
        Put(GridLayer.ThicknessWallWall, index, cell.ThicknessWallWallMetres);
        Put(GridLayer.ReflectorDepth, index, cell.ReflectorDepthMetres);
        Put(GridLayer.SignalToNoise, index, cell.SignalToNoiseDecibels);
        Put(GridLayer.Margin, index, cell.Margin);
        Put(GridLayer.RunnerUpThickness, index, cell.RunnerUpThicknessMetres);
        Put(GridLayer.WrongEchoProbability, index, cell.WrongEchoProbability);
        if (PairedOrders.Length > 0)
            PairedOrders[index] = cell.PairedOrders;
        if (EchoCount.Length > 0)
            EchoCount[index] = cell.EchoCount;
        if (Notes.Length > 0)
            Notes[index] = (ushort)cell.Notes;
        Status[index] = (byte)cell.Status;
    }

    /// <summary>Copies another tile's cells to their place in this one; both must hold the same layers.</summary>
    /// <param name="part">A tile whose rectangle lies inside this one's.</param>
    public void Paste(GridTile part)
    {
        ArgumentNullException.ThrowIfNull(part);
        if (
            part.FirstScan < FirstScan
            || part.FirstBeam < FirstBeam
            || part.FirstScan + part.ScanCount > FirstScan + ScanCount
            || part.FirstBeam + part.BeamCount > FirstBeam + BeamCount
        )
            throw new ArgumentException("The part does not lie inside the tile.", nameof(part));
        for (int row = 0; row < part.ScanCount; row++)
        {
            int from = row * part.BeamCount;
            int to = (part.FirstScan + row - FirstScan) * BeamCount + (part.FirstBeam - FirstBeam);
            for (int layer = 0; layer < _floats.Length; layer++)
                CopyRow(part._floats[layer], _floats[layer], from, to, part.BeamCount);
            CopyRow(part.PairedOrders, PairedOrders, from, to, part.BeamCount);
            CopyRow(part.EchoCount, EchoCount, from, to, part.BeamCount);
            CopyRow(part.Notes, Notes, from, to, part.BeamCount);
            CopyRow(part.Status, Status, from, to, part.BeamCount);
        }
    }

    private static void CopyRow<T>(T[] source, T[] destination, int from, int to, int count)
    {
        if (destination.Length > 0)
            source.AsSpan(from, count).CopyTo(destination.AsSpan(to, count));
    }

    private void Put(GridLayer layer, int index, double value)
    {
        float[] values = _floats[(int)layer];
        if (values.Length > 0)
            values[index] = (float)value;
    }
}
