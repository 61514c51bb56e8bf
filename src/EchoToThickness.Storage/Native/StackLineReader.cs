using EchoToThickness.Stacks;
using EchoToThickness.Storage.Hdf5;

namespace EchoToThickness.Storage.Native;

/// <summary>Lends blocks from one reused buffer; no allocation per call once the buffer fits.</summary>
internal sealed class StackLineReader(StackInfo info, Hdf5Reader ascans, Hdf5Reader? present) : IAScanReader
{
    private byte[] _buffer = [];
    private byte[] _mask = [];

    public AScanBlock Lend(int firstScan, int scanCount, int firstBeam, int beamCount)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(scanCount, 1);
        ArgumentOutOfRangeException.ThrowIfLessThan(beamCount, 1);
        long need = (long)scanCount * beamCount * info.AScanBytes;
        if (need > Array.MaxLength)
        {
            throw new ArgumentOutOfRangeException(
                nameof(scanCount),
                scanCount,
                $"A block of {need} bytes is too large; ask for fewer scans."
            );
        }
        if (_buffer.Length < need)
            _buffer = GC.AllocateUninitializedArray<byte>((int)need, pinned: true);
        Span<byte> bytes = _buffer.AsSpan(0, (int)need);
        ascans.Read([firstScan, firstBeam, 0], [scanCount, beamCount, info.Shape.Samples], bytes);
        Span<byte> mask = default;
        if (present is not null)
        {
            int cells = scanCount * beamCount;
            if (_mask.Length < cells)
                _mask = new byte[cells];
            mask = _mask.AsSpan(0, cells);
            present.Read([firstScan, firstBeam], [scanCount, beamCount], mask);
        }
        return new AScanBlock(info, firstScan, scanCount, firstBeam, beamCount, bytes, mask);
    }

    public void Dispose()
    {
        ascans.Dispose();
        present?.Dispose();
    }
}
