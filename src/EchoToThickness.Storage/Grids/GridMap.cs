using System.Runtime.InteropServices;
using EchoToThickness.Grids;
using EchoToThickness.Pairing;
using EchoToThickness.Stacks;
using EchoToThickness.Storage.Hdf5;

namespace EchoToThickness.Storage.Grids;

/// <summary>One map of a grid file; layers are read by rows, so that memory need not grow with the map.</summary>
public sealed class GridMap
{
    private readonly Hdf5File _file;
    private readonly Dictionary<GridLayer, Hdf5Dataset> _datasets = [];

    internal GridMap(Hdf5File file, string name, string path)
    {
        _file = file;
        Name = name;
        Facts = GridFacts.Read(file, path);
        string prefix = path == "/" ? "/" : path + "/";
        IReadOnlyList<string> members = file.Children(path);
        foreach (GridLayer layer in GridLayers.All)
        {
            if (members.Contains(GridLayers.NameOf(layer)))
                _datasets[layer] = file.Dataset(prefix + GridLayers.NameOf(layer));
        }
        if (!_datasets.TryGetValue(GridLayer.Status, out Hdf5Dataset? status) || status.Dimensions.Count != 2)
            throw Wrong(prefix + "status", "The status layer [scan, beam] is missing.");
        if (status.Count == 0 || status.Dimensions[0] > int.MaxValue || status.Dimensions[1] > int.MaxValue)
            throw Wrong(
                prefix + "status",
                $"An extent of [{status.Dimensions[0]}, {status.Dimensions[1]}] is out of range."
            );
        Scans = (int)status.Dimensions[0];
        Beams = (int)status.Dimensions[1];
        foreach ((GridLayer layer, Hdf5Dataset dataset) in _datasets)
        {
            bool number = GridLayers.TypeOf(layer) == GridLayerType.Float32;
            bool fits =
                dataset.Type.IsStandard
                && dataset.Type.SizeBytes == GridFormat.SizeOf(layer)
                && dataset.Type.Class == Class(layer, number)
                && dataset.Dimensions.SequenceEqual(status.Dimensions);
            if (!fits)
                throw Wrong(
                    dataset.Path,
                    $"The layer is {dataset.Type.Describe()} of [{string.Join(", ", dataset.Dimensions)}]."
                );
        }
        ScanPositionsMetres = Positions(prefix + GridFormat.ScanPosition, Scans);
        IndexPositionsMetres = Positions(prefix + GridFormat.IndexPosition, Beams);
    }

    /// <summary>Name of the line; empty when the file holds one map at its root.</summary>
    public string Name { get; }

    /// <summary>How the map was made.</summary>
    public GridFacts Facts { get; }

    /// <summary>Positions along the scan axis.</summary>
    public int Scans { get; }

    /// <summary>Beams.</summary>
    public int Beams { get; }

    /// <summary>Layers held, in file order.</summary>
    public IReadOnlyList<GridLayer> Layers => [.. _datasets.Keys.Order()];

    /// <summary>Shape [scan]; metres, null when the stack stored none.</summary>
    public IReadOnlyList<double>? ScanPositionsMetres { get; }

    /// <summary>Shape [beam]; metres, null when the stack stored none.</summary>
    public IReadOnlyList<double>? IndexPositionsMetres { get; }

    /// <summary>Reads a layer of floats.</summary>
    /// <param name="layer">A layer of type <see cref="GridLayerType.Float32"/> from <see cref="Layers"/>.</param>
    /// <param name="firstScan">First scan position.</param>
    /// <param name="destination">Shape [scan, beam]; its length decides how many scan positions are read.</param>
    public void ReadFloats(GridLayer layer, int firstScan, Span<float> destination) =>
        Read(layer, firstScan, MemoryMarshal.AsBytes(destination), 4);

    /// <summary>Reads a layer of bytes (status, paired orders, echo count).</summary>
    /// <param name="layer">A layer of type <see cref="GridLayerType.UInt8"/> from <see cref="Layers"/>.</param>
    /// <param name="firstScan">First scan position.</param>
    /// <param name="destination">Shape [scan, beam].</param>
    public void ReadBytes(GridLayer layer, int firstScan, Span<byte> destination) =>
        Read(layer, firstScan, destination, 1);

    /// <summary>Reads the notes.</summary>
    /// <param name="firstScan">First scan position.</param>
    /// <param name="destination">Shape [scan, beam].</param>
    public void ReadNotes(int firstScan, Span<ushort> destination) =>
        Read(GridLayer.Notes, firstScan, MemoryMarshal.AsBytes(destination), 2);

    /// <summary>Reads a whole layer of floats, shape [scan, beam].</summary>
    /// <param name="layer">A layer of type <see cref="GridLayerType.Float32"/>.</param>
    public float[] ReadFloats(GridLayer layer)
    {
        float[] values = new float[checked(Scans * Beams)];
        ReadFloats(layer, 0, values);
        return values;
    }

    /// <summary>Reads the whole status layer, shape [scan, beam].</summary>
    public CellStatus[] ReadStatus()
    {
        CellStatus[] values = new CellStatus[checked(Scans * Beams)];
        ReadBytes(GridLayer.Status, 0, MemoryMarshal.AsBytes(values.AsSpan()));
        return values;
    }

    private static Hdf5TypeClass Class(GridLayer layer, bool number) =>
        layer == GridLayer.Status ? Hdf5TypeClass.Enumeration
        : number ? Hdf5TypeClass.Float
        : Hdf5TypeClass.Integer;

    private void Read(GridLayer layer, int firstScan, Span<byte> destination, int elementBytes)
    {
        if (!_datasets.TryGetValue(layer, out Hdf5Dataset? dataset))
            throw Wrong(GridLayers.NameOf(layer), $"The grid does not hold the layer {GridLayers.NameOf(layer)}.");
        if (dataset.Type.SizeBytes != elementBytes)
            throw new ArgumentException(
                $"The layer {layer} is stored in {dataset.Type.SizeBytes} bytes a cell.",
                nameof(layer)
            );
        int row = Beams * elementBytes;
        if (destination.Length % row != 0)
            throw new ArgumentException("The destination does not hold whole rows.", nameof(destination));
        using Hdf5Reader reader = dataset.OpenReader();
        reader.Read([firstScan, 0], [destination.Length / row, Beams], destination);
    }

    private double[]? Positions(string path, int count)
    {
        if (!_file.Exists(path))
            return null;
        Hdf5Dataset dataset = _file.Dataset(path);
        if (dataset.Count != count)
            throw Wrong(path, $"{dataset.Count} positions are stored, {count} are needed.");
        foreach (Hdf5Attribute attribute in dataset.Attributes())
        {
            if (attribute.Name == "units" && attribute.ToText() == "m")
                return dataset.ReadDoubles();
        }
        return null;
    }

    private StackFormatException Wrong(string path, string what) =>
        new(what, _file.Path, path, "measure the stack again with the layer switched on in the procedure.");
}
