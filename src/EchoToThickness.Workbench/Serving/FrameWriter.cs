using System.Buffers.Binary;
using System.IO.Pipelines;
using System.Runtime.InteropServices;
using EchoToThickness.Grids;
using EchoToThickness.Workbench.Sessions;

namespace EchoToThickness.Workbench.Serving;

/// <summary>
/// Writes an answer in pieces: one byte kind, four bytes length (little-endian), payload. Kinds: 1 JSON that begins, 2 a tile, 3 JSON that ends, 4 JSON of a
/// fault, 5 samples. Every payload of numbers begins at a multiple of four behind its header, so that the page can lay typed arrays over a copy.
/// </summary>
internal sealed class FrameWriter(PipeWriter writer)
{
    public const byte Begin = 1;
    public const byte Tile = 2;
    public const byte End = 3;
    public const byte Fault = 4;
    public const byte Samples = 5;

    public void Write(byte kind, ReadOnlySpan<byte> payload)
    {
        Header(kind, payload.Length);
        Put(payload);
    }

    /// <summary>First line, lines, then every layer as float32 and the statuses, each shape [scan, beam].</summary>
    public void WriteTile(MapResult map, int firstScan, int scanCount)
    {
        int cells = scanCount * map.Beams;
        int at = firstScan * map.Beams;
        Header(Tile, 8 + cells * (4 * map.Layers.Count + 1));
        Span<byte> place = stackalloc byte[8];
        BinaryPrimitives.WriteInt32LittleEndian(place, firstScan);
        BinaryPrimitives.WriteInt32LittleEndian(place[4..], scanCount);
        Put(place);
        foreach (GridLayer layer in map.Layers)
            Put(MemoryMarshal.AsBytes(map[layer].AsSpan(at, cells)));
        Put(map.Status.AsSpan(at, cells));
    }

    public ValueTask<FlushResult> FlushAsync(CancellationToken cancellation) => writer.FlushAsync(cancellation);

    private void Header(byte kind, int length)
    {
        Span<byte> header = stackalloc byte[5];
        header[0] = kind;
        BinaryPrimitives.WriteInt32LittleEndian(header[1..], length);
        Put(header);
    }

    private void Put(ReadOnlySpan<byte> bytes)
    {
        while (bytes.Length > 0)
        {
            Span<byte> room = writer.GetSpan(Math.Min(bytes.Length, 32 * 1024));
            int count = Math.Min(room.Length, bytes.Length);
            bytes[..count].CopyTo(room);
            writer.Advance(count);
            bytes = bytes[count..];
        }
    }
}
