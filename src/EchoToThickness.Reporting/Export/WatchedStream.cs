namespace EchoToThickness.Reporting.Export;

/// <summary>A stream that can be stopped between two pieces and tells how far it has come, whatever library writes into it.</summary>
internal sealed class WatchedStream(Stream inner, IProgress<long>? written, CancellationToken cancellation) : Stream
{
    public override bool CanRead => inner.CanRead;

    public override bool CanSeek => inner.CanSeek;

    public override bool CanWrite => inner.CanWrite;

    public override long Length => inner.Length;

    public override long Position
    {
        get => inner.Position;
        set => inner.Position = value;
    }

    public override void Flush() => inner.Flush();

    public override int Read(byte[] buffer, int offset, int count) => inner.Read(buffer, offset, count);

    public override int Read(Span<byte> buffer) => inner.Read(buffer);

    public override long Seek(long offset, SeekOrigin origin) => inner.Seek(offset, origin);

    public override void SetLength(long value) => inner.SetLength(value);

    public override void Write(byte[] buffer, int offset, int count) => Write(buffer.AsSpan(offset, count));

    public override void Write(ReadOnlySpan<byte> buffer)
    {
        cancellation.ThrowIfCancellationRequested();
        inner.Write(buffer);
        written?.Report(inner.Position);
    }
}
