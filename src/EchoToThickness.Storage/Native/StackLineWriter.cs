using System.IO.Compression;
using System.Runtime.InteropServices;
using EchoToThickness.Stacks;
using EchoToThickness.Storage.Hdf5;

namespace EchoToThickness.Storage.Native;

/// <summary>Takes the A-scans of one line in scan order. Holds one chunk; each chunk is packed and written once.</summary>
public sealed class StackLineWriter : IDisposable
{
    private readonly Hdf5Builder _builder;
    private readonly StoredGroup _group;
    private readonly StackPacking _packing;
    private readonly int _rowBytes;
    private readonly int _chunkScans;
    private readonly byte[] _chunk;
    private readonly byte[] _shuffled;
    private readonly (long Address, int Bytes)[] _chunks;
    private readonly long _contiguous = -1;
    private readonly MemoryStream _packed = new();
    private StoredGroup? _truth;
    private StoredGroup? _labels;
    private byte[]? _present;
    private int _scans;
    private bool _finished;

    internal StackLineWriter(Hdf5Builder builder, StoredGroup group, StackInfo info, StackWriterOptions options)
    {
        _builder = builder;
        _group = group;
        _packing = options.Packing;
        Info = info;
        _rowBytes = checked(info.Shape.Beams * info.AScanBytes);
        int usual = Math.Max(1, (512 << 10) / _rowBytes);
        _chunkScans = Math.Clamp(options.ScansPerChunk ?? usual, 1, info.Shape.Scans);
        if (_packing == StackPacking.Contiguous)
        {
            _contiguous = builder.Reserve((long)info.Shape.Scans * _rowBytes);
            _chunk = _shuffled = [];
            _chunks = [];
        }
        else
        {
            _chunk = new byte[checked(_chunkScans * _rowBytes)];
            _shuffled = _packing == StackPacking.Deflate ? new byte[_chunk.Length] : [];
            _chunks = new (long, int)[(info.Shape.Scans + _chunkScans - 1) / _chunkScans];
        }
        StackInfoWriter.Write(builder, group, info);
    }

    /// <summary>What the line announced.</summary>
    public StackInfo Info { get; }

    /// <summary>Appends whole scan lines.</summary>
    /// <param name="bytes">Shape [scan, beam, sample], stored type, little-endian.</param>
    /// <param name="present">Shape [scan, beam]: 0 where no A-scan was taken; empty when all were.</param>
    public void Write(ReadOnlySpan<byte> bytes, ReadOnlySpan<byte> present = default)
    {
        int scans = bytes.Length / _rowBytes;
        if ((long)scans * _rowBytes != bytes.Length || _scans + scans > Info.Shape.Scans)
        {
            throw new ArgumentException(
                $"{bytes.Length} bytes are no whole scan lines of {_rowBytes}, or go beyond the {Info.Shape.Scans} announced.",
                nameof(bytes)
            );
        }
        Mark(present, scans);
        if (_packing == StackPacking.Contiguous)
        {
            _builder.WriteAt(_contiguous + (long)_scans * _rowBytes, bytes);
            _scans += scans;
            return;
        }
        for (int i = 0; i < scans; i++)
        {
            int row = _scans % _chunkScans;
            bytes.Slice(i * _rowBytes, _rowBytes).CopyTo(_chunk.AsSpan(row * _rowBytes));
            _scans++;
            if (row == _chunkScans - 1 || _scans == Info.Shape.Scans)
                WriteChunk((_scans - 1) / _chunkScans, row + 1);
        }
    }

    /// <summary>Writes one truth layer.</summary>
    /// <param name="layer">A name that <see cref="ITruthSource.TruthLayers"/> documents.</param>
    /// <param name="metres">Shape [scan, beam]; metres, NaN where not known.</param>
    public void WriteTruth(string layer, ReadOnlySpan<double> metres)
    {
        if (Array.IndexOf(StackLayout.TruthLayers, layer) < 0)
        {
            throw new ArgumentException(
                $"'{layer}' is no truth layer; known: {string.Join(", ", StackLayout.TruthLayers)}.",
                nameof(layer)
            );
        }
        if (metres.Length != Info.Shape.Cells)
            throw new ArgumentException(
                $"{metres.Length} values do not fill {Info.Shape.Cells} cells.",
                nameof(metres)
            );
        _truth ??= _group.Group(StackLayout.Truth);
        StackInfoWriter
            .Rows(_builder, _truth, layer, StoredType.Float64, Info.Shape, MemoryMarshal.AsBytes(metres))
            .SetFixed("units", "m");
    }

    /// <summary>Writes one layer of labels: what was done to each cell on purpose.</summary>
    /// <param name="layer">A name that <see cref="ILabelSource.LabelLayers"/> documents.</param>
    /// <param name="names">
    /// Meaning of the bits, bit 0 first, at most 32; small letters, digits and underscores; empty where a bit has none.
    /// </param>
    /// <param name="labels">Shape [scan, beam]; only bits with a name may be set.</param>
    /// <exception cref="ArgumentException">An unknown layer, a bad name, a bit without a name, or labels that do not fill the cells.</exception>
    public void WriteLabels(string layer, IReadOnlyList<string> names, ReadOnlySpan<uint> labels)
    {
        ArgumentNullException.ThrowIfNull(names);
        if (Array.IndexOf(StackLayout.LabelLayers, layer) < 0)
        {
            throw new ArgumentException(
                $"'{layer}' is no label layer; known: {string.Join(", ", StackLayout.LabelLayers)}.",
                nameof(layer)
            );
        }
        if (labels.Length != Info.Shape.Cells)
            throw new ArgumentException(
                $"{labels.Length} labels do not fill {Info.Shape.Cells} cells.",
                nameof(labels)
            );
        if (LabelNames.Fault(names, labels) is { } fault)
            throw new ArgumentException(fault, nameof(names));
        _labels ??= _group.Group(StackLayout.TruthLabels);
        if (_labels.Members.Exists(m => m.Name == layer))
            throw new ArgumentException($"The labels '{layer}' are written already.", nameof(layer));
        // Little-endian words, as StoredType.UInt32 says; every machine that .NET runs on here is little-endian.
        StackInfoWriter
            .Rows(_builder, _labels, layer, StoredType.UInt32, Info.Shape, MemoryMarshal.AsBytes(labels))
            .SetFixed(LabelNames.Attribute, LabelNames.Write(names));
    }

    /// <summary>Drops the scratch.</summary>
    public void Dispose() => _packed.Dispose();

    internal void Finish()
    {
        if (_finished)
            return;
        if (_scans != Info.Shape.Scans)
            throw new InvalidOperationException(
                $"The line announced {Info.Shape.Scans} scan positions, {_scans} were written."
            );
        bool chunked = _packing != StackPacking.Contiguous;
        StoredDataset ascans = new()
        {
            Type = StoredType.Of(Info.SampleType),
            Dimensions = [Info.Shape.Scans, Info.Shape.Beams, Info.Shape.Samples],
            DataAddress = _contiguous,
            Chunk = chunked ? [_chunkScans, Info.Shape.Beams, Info.Shape.Samples] : [],
            Chunks = _chunks,
            Filters = _packing switch
            {
                StackPacking.Deflate =>
                [
                    (FilterMessage.Shuffle, [(uint)Info.SampleType.SizeBytes()]),
                    (FilterMessage.Deflate, [1]),
                    (FilterMessage.Fletcher32, []),
                ],
                StackPacking.Checksum => [(FilterMessage.Fletcher32, [])],
                _ => [],
            },
        };
        ascans.SetFixed("long_name", "A-scans, [scan, beam, sample]").SetFixed("units", "counts");
        _group.Members.Insert(0, (StackLayout.AScans, ascans));
        if (_present is not null)
            StackInfoWriter.Rows(_builder, _group, StackLayout.Present, StoredType.UInt8, Info.Shape, _present);
        _finished = true;
    }

    private void Mark(ReadOnlySpan<byte> present, int scans)
    {
        if (present.IsEmpty)
            return;
        if (present.Length != scans * Info.Shape.Beams)
            throw new ArgumentException("The mask does not fit the scan lines.", nameof(present));
        if (_present is null)
        {
            _present = new byte[Info.Shape.Cells];
            _present.AsSpan().Fill(1);
        }
        present.CopyTo(_present.AsSpan(_scans * Info.Shape.Beams));
    }

    private void WriteChunk(int index, int rows)
    {
        // The rows beyond the extent of the last chunk are zeros, so that the same samples give the same bytes.
        _chunk.AsSpan(rows * _rowBytes).Clear();
        ReadOnlySpan<byte> body = _chunk;
        if (_packing == StackPacking.Deflate)
        {
            ByteShuffle.Apply(_chunk, _shuffled, Info.SampleType.SizeBytes());
            _packed.SetLength(0);
            ZLibCompressionOptions level = new() { CompressionLevel = 1 };
            using (ZLibStream deflater = new(_packed, level, leaveOpen: true))
                deflater.Write(_shuffled);
            body = _packed.GetBuffer().AsSpan(0, (int)_packed.Length);
        }
        _chunks[index] = _builder.AppendSealed(body);
    }
}
