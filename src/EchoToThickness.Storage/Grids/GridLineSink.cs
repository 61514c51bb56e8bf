using System.Runtime.InteropServices;
using EchoToThickness.Grids;
using EchoToThickness.Stacks;
using EchoToThickness.Storage.Hdf5;

namespace EchoToThickness.Storage.Grids;

/// <summary>
/// One line's layers, written as tiles arrive: the place of every layer is fixed in <see cref="Begin"/>, a tile is one write a
/// layer (or one a row when it is narrower than the grid), structure and facts follow in <see cref="Complete"/>.
/// Memory holds one byte a scan position.
/// </summary>
internal sealed class GridLineSink(Hdf5Builder builder, StoredGroup group, Action completed) : IGridSink
{
    private readonly Lock _gate = new();
    private readonly long[] _address = new long[(int)GridLayer.Status + 1];
    private GridLayer[] _layers = [];
    private GridHeader? _header;
    private StackShape _shape;
    private byte[] _touched = [];

    public void Begin(GridHeader header)
    {
        ArgumentNullException.ThrowIfNull(header);
        if (_header is not null)
            throw new InvalidOperationException("The grid was already begun.");
        _header = header;
        _shape = header.Stack.Shape;
        _layers = [.. header.Layers.Append(GridLayer.Status).Distinct().Order()];
        _touched = new byte[_shape.Scans];
        foreach (GridLayer layer in _layers)
            _address[(int)layer] = builder.Reserve(_shape.Cells * GridFormat.SizeOf(layer));
    }

    public void Write(GridTile tile)
    {
        ArgumentNullException.ThrowIfNull(tile);
        if (_header is null)
            throw new InvalidOperationException("A tile came before the grid was begun.");
        if (
            tile.FirstScan < 0
            || tile.FirstBeam < 0
            || tile.FirstScan > _shape.Scans - tile.ScanCount
            || tile.FirstBeam > _shape.Beams - tile.BeamCount
        )
        {
            throw new ArgumentException(
                $"The tile at [{tile.FirstScan}, {tile.FirstBeam}] lies outside the grid of {_shape.Scans} x {_shape.Beams}.",
                nameof(tile)
            );
        }
        bool wide = tile.BeamCount == _shape.Beams;
        if (wide)
            _touched.AsSpan(tile.FirstScan, tile.ScanCount).Fill(1);
        else
            Prefill(tile.FirstScan, tile.ScanCount);
        foreach (GridLayer layer in _layers)
            Put(layer, Bytes(tile, layer), tile, wide);
    }

    public void Complete(GridSummary summary)
    {
        ArgumentNullException.ThrowIfNull(summary);
        if (_header is null)
            throw new InvalidOperationException("The grid was never begun.");
        Prefill(0, _shape.Scans);
        StoredDataset[] scales =
        [
            Scale(
                GridFormat.ScanPosition,
                _header.Stack.ScanPositionsMetres,
                _shape.Scans,
                "position along the scan axis"
            ),
            Scale(
                GridFormat.IndexPosition,
                _header.Stack.IndexPositionsMetres,
                _shape.Beams,
                "position along the index axis"
            ),
        ];
        foreach (GridLayer layer in _layers)
            AddLayer(layer, scales);
        GridFacts.Write(group, _header, summary);
        completed();
    }

    private static ReadOnlySpan<byte> Bytes(GridTile tile, GridLayer layer)
    {
        int count = tile.Count;
        ReadOnlySpan<byte> bytes = layer switch
        {
            GridLayer.Status => tile.Status,
            GridLayer.Notes => MemoryMarshal.AsBytes(tile.Notes.AsSpan()),
            GridLayer.EchoCount => tile.EchoCount,
            GridLayer.PairedOrders => tile.PairedOrders,
            _ => MemoryMarshal.AsBytes(tile[layer].AsSpan()),
        };
        int need = count * GridFormat.SizeOf(layer);
        return bytes.Length >= need
            ? bytes[..need]
            : throw new ArgumentException(
                $"The tile does not hold the layer {layer} that the grid was begun with.",
                nameof(tile)
            );
    }

    private void Put(GridLayer layer, ReadOnlySpan<byte> bytes, GridTile tile, bool wide)
    {
        int size = GridFormat.SizeOf(layer);
        long at = _address[(int)layer] + ((long)tile.FirstScan * _shape.Beams + tile.FirstBeam) * size;
        if (wide)
        {
            builder.WriteAt(at, bytes);
            return;
        }
        int row = tile.BeamCount * size;
        for (int scan = 0; scan < tile.ScanCount; scan++)
            builder.WriteAt(at + (long)scan * _shape.Beams * size, bytes.Slice(scan * row, row));
    }

    /// <summary>Rows that no tile covered whole start as not scanned, once, before the first narrow tile.</summary>
    private void Prefill(int firstScan, int scanCount)
    {
        lock (_gate)
        {
            for (int scan = firstScan; scan < firstScan + scanCount; scan++)
            {
                if (_touched[scan] != 0)
                    continue;
                foreach (GridLayer layer in _layers)
                {
                    byte[] fill = GridFormat.FillOf(layer);
                    byte[] row = new byte[_shape.Beams * fill.Length];
                    for (int i = 0; i < row.Length; i += fill.Length)
                        fill.CopyTo(row, i);
                    builder.WriteAt(_address[(int)layer] + (long)scan * row.Length, row);
                }
                _touched[scan] = 1;
            }
        }
    }

    private StoredDataset Scale(string name, IReadOnlyList<double>? positions, int count, string meaning)
    {
        double[] values = positions is null ? [.. Enumerable.Range(0, count).Select(i => (double)i)] : [.. positions];
        StoredDataset scale = builder.AddSmall(
            group,
            name,
            StoredType.Float64,
            [count],
            MemoryMarshal.AsBytes(values.AsSpan()),
            name
        );
        scale.SetText("units", positions is null ? "1" : "m");
        scale.SetText("long_name", positions is null ? meaning + " (count; no positions were stored)" : meaning);
        return scale;
    }

    private void AddLayer(GridLayer layer, StoredDataset[] scales)
    {
        StoredDataset dataset = new()
        {
            Type = GridFormat.TypeOf(layer),
            Dimensions = [_shape.Scans, _shape.Beams],
            DataAddress = _address[(int)layer],
            Fill = GridFormat.FillOf(layer),
            Scales = scales,
        };
        dataset.SetText("units", GridLayers.UnitOf(layer));
        dataset.SetText("long_name", GridLayers.DescriptionOf(layer));
        if (layer == GridLayer.Status)
        {
            byte[] values = [.. GridFormat.StatusMembers.Select(m => m.Value)];
            dataset.Add("flag_values", StoredType.UInt8, [values.Length], values);
            dataset.SetText("flag_meanings", GridFormat.Words(GridFormat.StatusMembers.Select(m => m.Name)));
        }
        else if (layer == GridLayer.Notes)
        {
            ushort[] masks = [.. GridFormat.NoteMembers.Select(m => m.Value)];
            dataset.Add(
                "flag_masks",
                StoredType.UInt16,
                [masks.Length],
                MemoryMarshal.AsBytes(masks.AsSpan()).ToArray()
            );
            dataset.SetText("flag_meanings", GridFormat.Words(GridFormat.NoteMembers.Select(m => m.Name)));
        }
        for (int axis = 0; axis < scales.Length; axis++)
            scales[axis].Users.Add((dataset, axis));
        group.Members.Add((GridLayers.NameOf(layer), dataset));
    }
}
