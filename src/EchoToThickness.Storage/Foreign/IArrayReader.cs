namespace EchoToThickness.Storage.Foreign;

/// <summary>Reads rectangles of an <see cref="IArrayStore"/>. Not thread-safe.</summary>
internal interface IArrayReader : IDisposable
{
    /// <summary>Reads a rectangle.</summary>
    /// <param name="start">First index on every axis.</param>
    /// <param name="count">Extent on every axis, at least 1.</param>
    /// <param name="destination">Exactly the rectangle, axes in file order, native byte order.</param>
    void Read(ReadOnlySpan<long> start, ReadOnlySpan<int> count, Span<byte> destination);
}
