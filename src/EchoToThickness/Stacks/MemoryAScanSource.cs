using System.Runtime.InteropServices;

namespace EchoToThickness.Stacks;

/// <summary>A stack held in memory, shape [scan, beam, sample]: for tests, simulations and callers with samples of their own.</summary>
public sealed class MemoryAScanSource : IAScanSource
{
    private readonly byte[] _bytes;
    private readonly byte[]? _present;

    /// <summary>Wraps samples without copying.</summary>
    /// <param name="info">Description; its extent must fit the samples.</param>
    /// <param name="bytes">Shape [scan, beam, sample], stored type, native byte order.</param>
    /// <param name="present">Shape [scan, beam], 0 = not stored; null when all are present.</param>
    public MemoryAScanSource(StackInfo info, byte[] bytes, byte[]? present = null)
    {
        ArgumentNullException.ThrowIfNull(info);
        ArgumentNullException.ThrowIfNull(bytes);
        if (bytes.LongLength != info.Shape.Cells * info.AScanBytes)
            throw new ArgumentException($"{bytes.LongLength} bytes do not fill {info.Shape}.", nameof(bytes));
        if (present is not null && present.LongLength != info.Shape.Cells)
            throw new ArgumentException($"{present.LongLength} flags do not fill {info.Shape}.", nameof(present));
        Info = info;
        _bytes = bytes;
        _present = present;
    }

    /// <summary>Copies samples of any stored type into a source.</summary>
    /// <param name="info">Description; <see cref="StackInfo.SampleType"/> must match <typeparamref name="T"/>.</param>
    /// <param name="samples">Shape [scan, beam, sample].</param>
    public static MemoryAScanSource From<T>(StackInfo info, ReadOnlySpan<T> samples)
        where T : unmanaged => new(info, MemoryMarshal.AsBytes(samples).ToArray());

    /// <inheritdoc/>
    public StackInfo Info { get; }

    /// <inheritdoc/>
    public int ScansPerRead => 1;

    /// <inheritdoc/>
    public IAScanReader OpenReader() => new Reader(this);

    /// <inheritdoc/>
    public void Dispose() { }

    private sealed class Reader(MemoryAScanSource source) : IAScanReader
    {
        private byte[] _buffer = [];
        private byte[] _mask = [];

        public AScanBlock Lend(int firstScan, int scanCount, int firstBeam, int beamCount)
        {
            StackInfo info = source.Info;
            int beams = info.Shape.Beams;
            int size = info.AScanBytes;
            if (firstBeam == 0 && beamCount == beams)
            {
                return new AScanBlock(
                    info,
                    firstScan,
                    scanCount,
                    0,
                    beams,
                    source._bytes.AsSpan(firstScan * beams * size, scanCount * beams * size),
                    source._present is null ? default : source._present.AsSpan(firstScan * beams, scanCount * beams)
                );
            }
            int need = scanCount * beamCount;
            if (_buffer.Length < need * size)
                _buffer = new byte[need * size];
            if (_mask.Length < need)
                _mask = new byte[need];
            for (int scan = 0; scan < scanCount; scan++)
            {
                int cell = (firstScan + scan) * beams + firstBeam;
                source._bytes.AsSpan(cell * size, beamCount * size).CopyTo(_buffer.AsSpan(scan * beamCount * size));
                source._present?.AsSpan(cell, beamCount).CopyTo(_mask.AsSpan(scan * beamCount));
            }
            return new AScanBlock(
                info,
                firstScan,
                scanCount,
                firstBeam,
                beamCount,
                _buffer.AsSpan(0, need * size),
                source._present is null ? default : _mask.AsSpan(0, need)
            );
        }

        public void Dispose() { }
    }
}
