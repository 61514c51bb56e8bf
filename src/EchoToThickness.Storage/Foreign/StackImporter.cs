using EchoToThickness.Stacks;
using EchoToThickness.Storage.Native;

namespace EchoToThickness.Storage.Foreign;

/// <summary>Writes stacks of any source in the native layout, streaming: memory holds one block and one chunk.</summary>
public static class StackImporter
{
    private const int BlockBytes = 8 << 20;
    private const int TruthScans = 4096;

    /// <summary>Imports lines into one stack file. The file appears only when all of it is written; a failure leaves the old one.</summary>
    /// <param name="lines">Lines as <see cref="StackOpener"/> gives them; an empty name becomes <c>line1</c>, and so on.</param>
    /// <param name="path">Native stack file to write.</param>
    /// <param name="options">Packing and flushing; null for the defaults.</param>
    /// <param name="progress">Told after each block how many scan positions of how many are done, over all lines.</param>
    /// <param name="cancellation">Stops between blocks; nothing is left behind.</param>
    /// <exception cref="StackFormatException">A source cannot be read, its positions repeat or run backwards, or the file cannot be written.</exception>
    /// <exception cref="OperationCanceledException">Cancelled.</exception>
    public static void Import(
        IReadOnlyList<(string Line, IAScanSource Source)> lines,
        string path,
        StackWriterOptions? options = null,
        IProgress<ImportProgress>? progress = null,
        CancellationToken cancellation = default
    )
    {
        ArgumentNullException.ThrowIfNull(lines);
        ArgumentNullException.ThrowIfNull(path);
        if (lines.Count == 0)
            throw new ArgumentException("There is no line to import.", nameof(lines));
        long total = lines.Sum(l => (long)l.Source.Info.Shape.Scans);
        long done = 0;
        using StackWriter writer = StackWriter.Create(path, options);
        for (int i = 0; i < lines.Count; i++)
        {
            (string line, IAScanSource source) = lines[i];
            StackLineWriter target = writer.AddLine(Name(line, i), source.Info);
            using IAScanReader reader = source.OpenReader();
            int scans = source.Info.Shape.Scans;
            int step = ScansAtOnce(source);
            for (int first = 0; first < scans; first += step)
            {
                cancellation.ThrowIfCancellationRequested();
                int count = Math.Min(step, scans - first);
                AScanBlock block = reader.Lend(first, count, 0, source.Info.Shape.Beams);
                target.Write(block.Bytes, block.Present);
                done += count;
                progress?.Report(new ImportProgress(done, total));
            }
            CopyTruth(source, target, cancellation);
            CopyLabels(source, target, cancellation);
        }
        writer.Complete();
    }

    private static string Name(string line, int index)
    {
        string name = line.Replace('/', '_').Trim();
        return name.Length == 0 || name == "." ? FormattableString.Invariant($"line{index + 1}") : name;
    }

    /// <summary>Whole reads of the source, as many as fit into a block.</summary>
    private static int ScansAtOnce(IAScanSource source)
    {
        long row = (long)source.Info.Shape.Beams * source.Info.AScanBytes;
        int fit = (int)Math.Clamp(BlockBytes / Math.Max(row, 1), 1, source.Info.Shape.Scans);
        return fit <= source.ScansPerRead ? fit : fit / source.ScansPerRead * source.ScansPerRead;
    }

    private static void CopyTruth(IAScanSource source, StackLineWriter target, CancellationToken cancellation)
    {
        if (source is not ITruthSource truth)
            return;
        StackShape shape = source.Info.Shape;
        foreach (string layer in truth.TruthLayers)
        {
            double[] metres = new double[shape.Cells];
            for (int first = 0; first < shape.Scans; first += TruthScans)
            {
                cancellation.ThrowIfCancellationRequested();
                int count = Math.Min(TruthScans, shape.Scans - first);
                truth.ReadTruth(layer, first, count, metres.AsSpan(first * shape.Beams, count * shape.Beams));
            }
            target.WriteTruth(layer, metres);
        }
    }

    private static void CopyLabels(IAScanSource source, StackLineWriter target, CancellationToken cancellation)
    {
        if (source is not ILabelSource known)
            return;
        foreach (string layer in known.LabelLayers)
        {
            cancellation.ThrowIfCancellationRequested();
            uint[] labels = new uint[source.Info.Shape.Cells];
            known.ReadLabels(layer, 0, source.Info.Shape.Scans, labels);
            target.WriteLabels(layer, known.LabelNames(layer), labels);
        }
    }
}
