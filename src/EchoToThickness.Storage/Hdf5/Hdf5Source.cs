using EchoToThickness.Stacks;
using Microsoft.Win32.SafeHandles;

namespace EchoToThickness.Storage.Hdf5;

/// <summary>The bytes of one HDF5 file, with every address and length checked against the file before anything is allocated.</summary>
internal sealed class Hdf5Source : IDisposable
{
    private long _metadataBytes;

    public Hdf5Source(string path, Hdf5Limits limits)
    {
        Path = path;
        Limits = limits;
        try
        {
            Handle = File.OpenHandle(path, FileMode.Open, FileAccess.Read, FileShare.Read);
            Length = RandomAccess.GetLength(Handle);
        }
        catch (Exception e)
            when (e is IOException or UnauthorizedAccessException or ArgumentException or NotSupportedException)
        {
            Handle?.Dispose();
            throw new StackFormatException(
                $"The file cannot be opened ({e.Message.TrimEnd('.')}).",
                path,
                "",
                "check the path and the permissions.",
                e
            );
        }
    }

    public string Path { get; }

    public Hdf5Limits Limits { get; }

    public SafeFileHandle Handle { get; }

    public long Length { get; }

    /// <summary>Length of the user block: addresses count from here.</summary>
    public long BaseAddress { get; set; }

    public int OffsetSize { get; set; } = 8;

    public int LengthSize { get; set; } = 8;

    /// <summary>Reads structure; <paramref name="address"/> counts from <see cref="BaseAddress"/>.</summary>
    public byte[] Read(long address, long count, string objectPath)
    {
        long from = address + BaseAddress;
        if (address < 0 || count < 0 || from < 0 || from > Length || count > Length - from)
        {
            throw Damaged(
                objectPath,
                $"The file refers to bytes {address} to {unchecked(address + count)}, but it is {Length} bytes long: it is truncated or damaged."
            );
        }
        _metadataBytes += count;
        if (_metadataBytes > Limits.MetadataBytes)
        {
            throw Damaged(
                objectPath,
                $"The file's structure takes more than {Limits.MetadataBytes} bytes, the limit; it is damaged or built to exhaust the reader."
            );
        }
        byte[] bytes = new byte[count];
        ReadExactly(from, bytes, objectPath);
        return bytes;
    }

    /// <summary>Fills a span from an absolute file offset.</summary>
    public void ReadExactly(long offset, Span<byte> destination, string objectPath)
    {
        try
        {
            while (destination.Length > 0)
            {
                int got = RandomAccess.Read(Handle, destination, offset);
                if (got == 0)
                    throw Damaged(objectPath, $"The file ends at byte {offset}, inside the data: it was truncated.");
                destination = destination[got..];
                offset += got;
            }
        }
        catch (IOException e)
        {
            throw new StackFormatException(
                $"Reading at byte {offset} failed ({e.Message.TrimEnd('.')}).",
                Path,
                objectPath,
                "check the disk or the network share, then try again.",
                e
            );
        }
    }

    public StackFormatException Damaged(string objectPath, string what) =>
        new(what, Path, objectPath, "copy the file again from its source and compare SHA-256, or export it anew.");

    public StackFormatException Unsupported(string objectPath, string what, string remedy) =>
        new(what, Path, objectPath, remedy);

    public void VerifyChecksum(ReadOnlySpan<byte> block, string objectPath, string what)
    {
        uint stored = System.Buffers.Binary.BinaryPrimitives.ReadUInt32LittleEndian(block[^4..]);
        uint computed = Hdf5Checksums.Lookup3(block[..^4]);
        if (stored != computed)
            throw Damaged(objectPath, $"The checksum of the {what} is {computed:x8}, stored is {stored:x8}.");
    }

    public void Dispose() => Handle.Dispose();
}
