using EchoToThickness.Simulation.Scenes;
using EchoToThickness.Stacks;
using EchoToThickness.Storage.Native;

namespace EchoToThickness.Simulation.Rendering;

/// <summary>Writes a scene as a native stack file with truth, one line after the other, streaming.</summary>
/// <remarks>
/// Scan positions are computed a batch at a time on all threads while the batch before is packed and written. Memory holds two batches, and
/// the truth of one line.
/// </remarks>
public static class SceneStack
{
    private const int BatchBytes = 4 << 20;

    /// <summary>Computes and writes every A-scan; equal scenes give equal files on any number of threads.</summary>
    /// <param name="model">The scene.</param>
    /// <param name="path">File to write; appears complete or not at all.</param>
    /// <param name="options">Packing; null for the defaults.</param>
    /// <param name="threads">Threads; 0 for as many as there are processors.</param>
    /// <param name="progress">Told after every batch.</param>
    /// <param name="cancellation">Stops between scan positions; nothing is left then.</param>
    /// <returns>What was written.</returns>
    /// <exception cref="StackFormatException">The place cannot be written.</exception>
    /// <exception cref="OperationCanceledException">The caller cancelled.</exception>
    public static SceneSummary Write(
        SceneModel model,
        string path,
        StackWriterOptions? options = null,
        int threads = 0,
        IProgress<SceneProgress>? progress = null,
        CancellationToken cancellation = default
    )
    {
        ArgumentNullException.ThrowIfNull(model);
        ArgumentOutOfRangeException.ThrowIfNegative(threads);
        var summary = new SceneSummary { Lines = model.Lines };
        var parallel = new ParallelOptions
        {
            CancellationToken = cancellation,
            MaxDegreeOfParallelism = threads == 0 ? Environment.ProcessorCount : threads,
        };
        using var renderers = new ThreadLocal<SceneRenderer>(model.CreateRenderer);
        using StackWriter writer = StackWriter.Create(path, options);
        long total = model.Cells;
        for (int line = 0; line < model.Lines; line++)
        {
            using StackLineWriter target = writer.AddLine(model.Geometry.LineName(line), model.InfoOf(line));
            new LineJob(model, line, target, renderers, parallel, summary, progress, total).Run();
        }
        writer.Complete();
        return summary;
    }

    private sealed class LineJob(
        SceneModel model,
        int line,
        StackLineWriter target,
        ThreadLocal<SceneRenderer> renderers,
        ParallelOptions parallel,
        SceneSummary summary,
        IProgress<SceneProgress>? progress,
        long total
    )
    {
        private readonly StackShape _shape = target.Info.Shape;
        private readonly int _rowBytes = target.Info.Shape.Beams * target.Info.AScanBytes;
        private readonly int _aScanBytes = target.Info.AScanBytes;
        private readonly CellTruth[] _truth = new CellTruth[target.Info.Shape.Cells];

        public void Run()
        {
            int batch = Math.Clamp(BatchBytes / _rowBytes, 1, _shape.Scans);
            byte[][] bytes = [new byte[batch * _rowBytes], new byte[batch * _rowBytes]];
            byte[][] present = [new byte[batch * _shape.Beams], new byte[batch * _shape.Beams]];
            Task writing = Task.CompletedTask;
            try
            {
                for (int first = 0, turn = 0; first < _shape.Scans; first += batch, turn ^= 1)
                {
                    int scans = Math.Min(batch, _shape.Scans - first);
                    Compute(first, scans, bytes[turn], present[turn]);
                    writing.GetAwaiter().GetResult();
                    (byte[] full, byte[] mask) = (bytes[turn], present[turn]);
                    writing = Task.Run(() =>
                        target.Write(full.AsSpan(0, scans * _rowBytes), mask.AsSpan(0, scans * _shape.Beams))
                    );
                    progress?.Report(new SceneProgress(summary.Cells, total));
                }
            }
            finally
            {
                // The buffers and the file belong to the writing until it has ended.
                Task.WaitAny(writing);
            }
            writing.GetAwaiter().GetResult();
            WriteTruth();
        }

        private void Compute(int first, int scans, byte[] bytes, byte[] present)
        {
            Parallel.For(
                0,
                scans,
                parallel,
                row =>
                {
                    SceneRenderer renderer = renderers.Value!;
                    for (int beam = 0; beam < _shape.Beams; beam++)
                    {
                        CellTruth truth = renderer.Render(
                            line,
                            first + row,
                            beam,
                            bytes.AsSpan(row * _rowBytes + beam * _aScanBytes, _aScanBytes)
                        );
                        present[row * _shape.Beams + beam] = truth.IsPresent ? (byte)1 : (byte)0;
                        _truth[(first + row) * _shape.Beams + beam] = truth;
                    }
                }
            );
            for (int cell = first * _shape.Beams; cell < (first + scans) * _shape.Beams; cell++)
                summary.Add(_truth[cell]);
        }

        private void WriteTruth()
        {
            var metres = new double[_truth.Length];
            foreach (string layer in SceneTruth.LayersOf(model))
            {
                for (int cell = 0; cell < metres.Length; cell++)
                    metres[cell] = SceneTruth.Value(_truth[cell], layer);
                target.WriteTruth(layer, metres);
            }
            target.WriteLabels(
                PlantedNames.Layer,
                PlantedNames.All,
                Array.ConvertAll(_truth, truth => (uint)truth.Planted)
            );
        }
    }
}
