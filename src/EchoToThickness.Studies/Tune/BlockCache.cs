using EchoToThickness.Stacks;
using EchoToThickness.Studies.Sources;

namespace EchoToThickness.Studies.Tune;

/// <summary>Blocks with what is known of them, kept in memory as far as there is room; a block too large for it is read from its file again and again.</summary>
internal sealed class BlockCache(JudgeSettings judge, long roomBytes) : IDisposable
{
    private readonly Dictionary<(StudyPoint, int), Held> _held = [];
    private readonly LinkedList<(StudyPoint, int)> _order = [];
    private long _bytes;

    public (IAScanSource Source, BlockFacts Facts) Get(StudyPoint point, int block, CancellationToken cancellation)
    {
        (StudyPoint, int) key = (point, block);
        if (_held.TryGetValue(key, out Held? held))
        {
            _order.Remove(key);
            _order.AddLast(key);
            return (held.Source, held.Facts);
        }
        StudyBlock loaded = point.Load(block, cancellation);
        var facts = new BlockFacts(loaded, judge);
        IAScanSource source = loaded.Source;
        long bytes = source.Info.Shape.Cells * (source.Info.AScanBytes + 1L);
        if (source is not MemoryAScanSource && bytes <= Math.Min(roomBytes, int.MaxValue / 2))
        {
            MemoryAScanSource copy = Copy(source);
            source.Dispose();
            source = copy;
        }
        if (source is not MemoryAScanSource)
            bytes = 0;
        while (_bytes + bytes > roomBytes && _order.First is { } oldest)
        {
            Drop(oldest.Value);
        }
        _held[key] = new Held(source, facts, bytes);
        _order.AddLast(key);
        _bytes += bytes;
        return (source, facts);
    }

    public void Dispose()
    {
        while (_order.First is { } oldest)
            Drop(oldest.Value);
    }

    private void Drop((StudyPoint, int) key)
    {
        Held held = _held[key];
        held.Source.Dispose();
        _bytes -= held.Bytes;
        _held.Remove(key);
        _order.Remove(key);
    }

    private static MemoryAScanSource Copy(IAScanSource source)
    {
        StackInfo info = source.Info;
        int line = info.Shape.Beams * info.AScanBytes;
        var bytes = new byte[info.Shape.Cells * info.AScanBytes];
        var present = new byte[info.Shape.Cells];
        Array.Fill(present, (byte)1);
        using IAScanReader reader = source.OpenReader();
        int step = Math.Max(1, source.ScansPerRead);
        for (int scan = 0; scan < info.Shape.Scans; scan += step)
        {
            int count = Math.Min(step, info.Shape.Scans - scan);
            AScanBlock lent = reader.Lend(scan, count, 0, info.Shape.Beams);
            lent.Bytes.CopyTo(bytes.AsSpan(scan * line));
            if (!lent.Present.IsEmpty)
                lent.Present.CopyTo(present.AsSpan(scan * info.Shape.Beams));
        }
        return new MemoryAScanSource(info, bytes, present);
    }

    private sealed record Held(IAScanSource Source, BlockFacts Facts, long Bytes);
}
