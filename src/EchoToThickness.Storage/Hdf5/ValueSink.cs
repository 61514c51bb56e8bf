using System.Text;

namespace EchoToThickness.Storage.Hdf5;

/// <summary>Puts values of variable length into a global heap (section III.E) and hands out their 16-byte descriptors.</summary>
internal sealed class ValueSink
{
    private readonly List<byte[]> _objects = [];

    /// <summary>Address of the heap; known in the second pass.</summary>
    public long Address { get; set; }

    /// <summary>Starts the second pass.</summary>
    public void Reset() => _objects.Clear();

    public byte[] Text(string text)
    {
        byte[] bytes = Encoding.UTF8.GetBytes(text);
        return Object(bytes, bytes.Length);
    }

    public byte[] Object(ReadOnlySpan<byte> bytes, int elements)
    {
        ByteWriter descriptor = new();
        if (bytes.IsEmpty)
            return descriptor.U32(0).I64(0).U32(0).Written.ToArray();
        _objects.Add(bytes.ToArray());
        return descriptor.U32(elements).I64(Address).U32(_objects.Count).Written.ToArray();
    }

    /// <summary>Bytes that <see cref="Build"/> will make.</summary>
    public long Measure() => Build().Length;

    /// <summary>The heap, at least the 4096 bytes that the library asks for; empty when nothing was put in.</summary>
    public byte[] Build()
    {
        if (_objects.Count == 0)
            return [];
        ByteWriter body = new();
        for (int i = 0; i < _objects.Count; i++)
        {
            body.U16(i + 1).U16(1).U32(0).I64(_objects[i].Length).Bytes(_objects[i]);
            body.Take((8 - _objects[i].Length % 8) % 8);
        }
        int size = Math.Max(4096, 16 + body.Length + 16);
        ByteWriter heap = new();
        heap.Text("GCOL").U8(1).Sized(0, 3).I64(size).Bytes(body.Written);
        int free = size - heap.Length;
        heap.U16(0).U16(0).U32(0).I64(free);
        heap.Take(size - heap.Length);
        return heap.Written.ToArray();
    }
}
