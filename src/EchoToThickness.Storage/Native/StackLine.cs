using System.Runtime.InteropServices;
using EchoToThickness.Stacks;
using EchoToThickness.Storage.Hdf5;

namespace EchoToThickness.Storage.Native;

/// <summary>One line of a stack file: its facts, its A-scans and, where known, its truth.</summary>
public sealed class StackLine : IAScanSource, ITruthSource, ILabelSource
{
    private readonly Hdf5File _file;
    private readonly string _path;
    private readonly Hdf5Dataset _ascans;
    private readonly Hdf5Dataset? _present;
    private readonly Dictionary<string, Hdf5Dataset> _truth = new(StringComparer.Ordinal);
    private readonly Dictionary<string, (Hdf5Dataset Words, string[] Names)> _labels = new(StringComparer.Ordinal);

    internal StackLine(Hdf5File file, string name, bool severalLines)
    {
        _file = file;
        _path = $"/{StackLayout.Lines}/{name}";
        Name = name;
        _ascans = file.Dataset($"{_path}/{StackLayout.AScans}");
        Info = StackInfoReader.Read(file, _path, severalLines ? $"{file.Path}:{name}" : file.Path, _ascans);
        IReadOnlyList<string> members = file.Children(_path);
        if (members.Contains(StackLayout.Present))
            _present = Cells(StackLayout.Present, CellValues.Mask);
        if (members.Contains(StackLayout.Truth))
        {
            foreach (string layer in file.Children($"{_path}/{StackLayout.Truth}"))
            {
                if (Array.IndexOf(StackLayout.TruthLayers, layer) >= 0)
                    _truth[layer] = Cells($"{StackLayout.Truth}/{layer}", CellValues.Metres);
            }
        }
        if (members.Contains(StackLayout.TruthLabels))
        {
            foreach (string layer in file.Children($"{_path}/{StackLayout.TruthLabels}"))
            {
                if (Array.IndexOf(StackLayout.LabelLayers, layer) < 0)
                    continue;
                Hdf5Dataset words = Cells($"{StackLayout.TruthLabels}/{layer}", CellValues.Labels);
                _labels[layer] = (words, Native.LabelNames.Read(file, words));
            }
        }
        LabelLayers = [.. StackLayout.LabelLayers.Where(_labels.ContainsKey)];
        TruthLayers = [.. StackLayout.TruthLayers.Where(_truth.ContainsKey)];
        long chunkScans = _ascans.ChunkDimensions.Count > 0 ? _ascans.ChunkDimensions[0] : 1;
        ScansPerRead = (int)Math.Min(chunkScans, Info.Shape.Scans);
    }

    /// <summary>Name of the line.</summary>
    public string Name { get; }

    /// <inheritdoc/>
    public StackInfo Info { get; }

    /// <inheritdoc/>
    public int ScansPerRead { get; }

    /// <summary>Whether every chunk of A-scans carries a checksum, so that a flipped sample is noticed.</summary>
    public bool IsChecksummed => _ascans.IsChecksummed;

    /// <inheritdoc/>
    public IReadOnlyList<string> TruthLayers { get; }

    /// <inheritdoc/>
    public IReadOnlyList<string> LabelLayers { get; }

    /// <inheritdoc/>
    public IAScanReader OpenReader() => new StackLineReader(Info, _ascans.OpenReader(), _present?.OpenReader());

    /// <summary>A reader through the HDF5 library instead of the direct path: the same answer, slower. For checks.</summary>
    public IAScanReader OpenLibraryReader() =>
        new StackLineReader(Info, _ascans.OpenLibraryReader(), _present?.OpenReader());

    /// <inheritdoc/>
    public void ReadTruth(string layer, int firstScan, int scanCount, Span<double> destinationMetres)
    {
        if (!_truth.TryGetValue(layer, out Hdf5Dataset? dataset))
        {
            throw new StackFormatException(
                $"There is no truth layer '{layer}'; known here: {string.Join(", ", TruthLayers)}.",
                _file.Path,
                $"{_path}/{StackLayout.Truth}",
                "ask for one of them."
            );
        }
        int size = dataset.Type.SizeBytes;
        byte[] raw = new byte[(long)scanCount * Info.Shape.Beams * size];
        if (destinationMetres.Length != raw.Length / size)
            throw new ArgumentException("The destination does not fit the cells asked for.", nameof(destinationMetres));
        using Hdf5Reader reader = dataset.OpenReader();
        reader.Read([firstScan, 0], [scanCount, Info.Shape.Beams], raw);
        for (int i = 0; i < destinationMetres.Length; i++)
            destinationMetres[i] = size == 4 ? BitConverter.ToSingle(raw, 4 * i) : BitConverter.ToDouble(raw, 8 * i);
    }

    /// <inheritdoc/>
    /// <exception cref="StackFormatException">There is no such layer.</exception>
    public IReadOnlyList<string> LabelNames(string layer) => Labels(layer).Names;

    /// <inheritdoc/>
    /// <exception cref="StackFormatException">There is no such layer, or it cannot be read.</exception>
    public void ReadLabels(string layer, int firstScan, int scanCount, Span<uint> destination)
    {
        (Hdf5Dataset words, _) = Labels(layer);
        if (destination.Length != (long)scanCount * Info.Shape.Beams)
            throw new ArgumentException("The destination does not fit the cells asked for.", nameof(destination));
        using Hdf5Reader reader = words.OpenReader();
        reader.Read([firstScan, 0], [scanCount, Info.Shape.Beams], MemoryMarshal.AsBytes(destination));
    }

    /// <summary>Does nothing: the file owns the line.</summary>
    public void Dispose() { }

    private (Hdf5Dataset Words, string[] Names) Labels(string layer)
    {
        if (_labels.TryGetValue(layer, out (Hdf5Dataset Words, string[] Names) labels))
            return labels;
        throw new StackFormatException(
            $"There are no labels '{layer}'; known here: {(LabelLayers.Count == 0 ? "none" : string.Join(", ", LabelLayers))}.",
            _file.Path,
            $"{_path}/{StackLayout.TruthLabels}",
            "ask for one of them."
        );
    }

    private Hdf5Dataset Cells(string name, CellValues values)
    {
        Hdf5Dataset dataset = _file.Dataset($"{_path}/{name}");
        (bool typeFits, string needed) = values switch
        {
            CellValues.Mask => (dataset.Type.SampleType == SampleType.UInt8, "an unsigned 8-bit integer"),
            CellValues.Metres => (dataset.Type.SampleType is SampleType.Float32 or SampleType.Float64, "a float"),
            _ => (
                dataset.Type is { Class: Hdf5TypeClass.Integer, SizeBytes: 4, IsSigned: false, IsStandard: true },
                "an unsigned 32-bit integer"
            ),
        };
        if (!dataset.Dimensions.SequenceEqual([Info.Shape.Scans, Info.Shape.Beams]) || !typeFits)
        {
            throw new StackFormatException(
                $"{dataset.Type.Describe()} of [{string.Join(", ", dataset.Dimensions)}] was found; needed is "
                    + $"{needed} for each of [{Info.Shape.Scans}, {Info.Shape.Beams}] cells.",
                _file.Path,
                dataset.Path,
                "write one value for each cell, [scan, beam]."
            );
        }
        return dataset;
    }

    private enum CellValues
    {
        Mask,
        Metres,
        Labels,
    }
}
