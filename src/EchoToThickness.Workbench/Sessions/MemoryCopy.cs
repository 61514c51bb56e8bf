using EchoToThickness.Stacks;

namespace EchoToThickness.Workbench.Sessions;

/// <summary>Copies a stack's samples into memory, so that a rule can be turned without reading the disk again.</summary>
internal static class MemoryCopy
{
    /// <summary>The copy, or the source itself where the samples take more than the budget.</summary>
    public static IAScanSource Of(IAScanSource source, long mostBytes, CancellationToken cancellation)
    {
        StackInfo info = source.Info;
        long bytes = info.Shape.Cells * info.AScanBytes;
        if (bytes > mostBytes || bytes > Array.MaxLength || source is MemoryAScanSource)
            return source;
        var samples = new byte[bytes];
        byte[]? present = null;
        int beams = info.Shape.Beams;
        long line = (long)beams * info.AScanBytes;
        int step = Math.Max(1, source.ScansPerRead);
        using IAScanReader reader = source.OpenReader();
        for (int first = 0; first < info.Shape.Scans; first += step)
        {
            cancellation.ThrowIfCancellationRequested();
            int count = Math.Min(step, info.Shape.Scans - first);
            AScanBlock block = reader.Lend(first, count, 0, beams);
            block.Bytes.CopyTo(samples.AsSpan((int)(first * line)));
            if (block.Present.IsEmpty)
                continue;
            if (present is null)
            {
                present = new byte[info.Shape.Cells];
                Array.Fill(present, (byte)1);
            }
            block.Present.CopyTo(present.AsSpan(first * beams));
        }
        return new MemoryAScanSource(info, samples, present);
    }
}
