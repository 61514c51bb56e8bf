using System.Runtime.InteropServices;

namespace EchoToThickness.Stacks;

/// <summary>
/// A-scans lent by a reader: <c>[scan, beam, sample]</c> of the stored type, native byte order, contiguous.
/// Valid until the reader lends again.
/// </summary>
public readonly ref struct AScanBlock
{
    /// <summary>Makes a block over a reader's buffer.</summary>
    /// <param name="info">The stack.</param>
    /// <param name="firstScan">First scan position lent.</param>
    /// <param name="scanCount">Scan positions lent.</param>
    /// <param name="firstBeam">First beam lent.</param>
    /// <param name="beamCount">Beams lent.</param>
    /// <param name="bytes">Shape [scan, beam, sample], stored type.</param>
    /// <param name="present">Shape [scan, beam]: 0 where no A-scan was stored; empty when all are present.</param>
    public AScanBlock(
        StackInfo info,
        int firstScan,
        int scanCount,
        int firstBeam,
        int beamCount,
        ReadOnlySpan<byte> bytes,
        ReadOnlySpan<byte> present = default
    )
    {
        long expected = (long)scanCount * beamCount * info.AScanBytes;
        if (bytes.Length != expected)
            throw new ArgumentException(
                $"The block holds {bytes.Length} bytes; its extent needs {expected}.",
                nameof(bytes)
            );
        if (!present.IsEmpty && present.Length != scanCount * beamCount)
            throw new ArgumentException("The presence mask does not fit the block.", nameof(present));
        Info = info;
        FirstScan = firstScan;
        ScanCount = scanCount;
        FirstBeam = firstBeam;
        BeamCount = beamCount;
        Bytes = bytes;
        Present = present;
    }

    /// <summary>The stack the block belongs to.</summary>
    public StackInfo Info { get; }

    /// <summary>First scan position of the block in the stack.</summary>
    public int FirstScan { get; }

    /// <summary>Scan positions in the block.</summary>
    public int ScanCount { get; }

    /// <summary>First beam of the block in the stack.</summary>
    public int FirstBeam { get; }

    /// <summary>Beams in the block.</summary>
    public int BeamCount { get; }

    /// <summary>All samples, stored type, shape [scan, beam, sample].</summary>
    public ReadOnlySpan<byte> Bytes { get; }

    /// <summary>Shape [scan, beam]: 0 = no A-scan stored; empty when all are present.</summary>
    public ReadOnlySpan<byte> Present { get; }

    /// <summary>Whether an A-scan was stored; indices are relative to the block.</summary>
    /// <param name="scanInBlock">Scan position relative to <see cref="FirstScan"/>.</param>
    /// <param name="beamInBlock">Beam relative to <see cref="FirstBeam"/>.</param>
    public bool IsPresent(int scanInBlock, int beamInBlock) =>
        Present.IsEmpty || Present[scanInBlock * BeamCount + beamInBlock] != 0;

    /// <summary>The stored bytes of one A-scan; indices are relative to the block.</summary>
    /// <param name="scanInBlock">Scan position relative to <see cref="FirstScan"/>.</param>
    /// <param name="beamInBlock">Beam relative to <see cref="FirstBeam"/>.</param>
    public ReadOnlySpan<byte> AScanBytes(int scanInBlock, int beamInBlock)
    {
        int size = Info.AScanBytes;
        return Bytes.Slice((scanInBlock * BeamCount + beamInBlock) * size, size);
    }

    /// <summary>The samples of one A-scan, shape [sample]; <typeparamref name="T"/> must be the stored type.</summary>
    /// <param name="scanInBlock">Scan position relative to <see cref="FirstScan"/>.</param>
    /// <param name="beamInBlock">Beam relative to <see cref="FirstBeam"/>.</param>
    public ReadOnlySpan<T> AScan<T>(int scanInBlock, int beamInBlock)
        where T : unmanaged => MemoryMarshal.Cast<byte, T>(AScanBytes(scanInBlock, beamInBlock));
}
