using System.Collections.Concurrent;
using System.Runtime.ExceptionServices;
using EchoToThickness.Stacks;
using EchoToThickness.Studies.Sources;
using EchoToThickness.Studies.StudyFiles;

namespace EchoToThickness.Studies.Running;

/// <summary>Measures whatever of a study is not measured yet.</summary>
public static class StudyRunner
{
    /// <summary>Makes every block once and lets every method measure it; all methods see the same A-scans.</summary>
    /// <param name="plan">The study.</param>
    /// <param name="store">Where finished pieces are kept.</param>
    /// <param name="options">Threads, progress, cancellation.</param>
    /// <returns>A-scans that had to be measured; the others were found finished.</returns>
    /// <exception cref="OperationCanceledException">The caller cancelled; what was finished stays.</exception>
    /// <exception cref="StackFormatException">A stack cannot be read.</exception>
    public static long Run(StudyPlan plan, UnitStore store, StudyOptions options)
    {
        ArgumentNullException.ThrowIfNull(plan);
        ArgumentNullException.ThrowIfNull(store);
        ArgumentNullException.ThrowIfNull(options);
        int threads = options.Threads > 0 ? options.Threads : Environment.ProcessorCount;
        long total = plan.Cells;
        long done = 0;
        long measured = 0;
        var jobs = new List<(StudyPoint Point, int Block, List<StudyMethod> Methods)>();
        foreach (StudyPoint point in plan.Points)
            for (int block = 0; block < point.Blocks; block++)
            {
                options.Cancellation.ThrowIfCancellationRequested();
                List<StudyMethod> missing =
                [
                    .. plan
                        .Methods.DistinctBy(m => m.ProcedureSha256)
                        .Where(m => !store.Holds(UnitStore.NameOf(point, block, m.ProcedureSha256))),
                ];
                done += point.InfoOf(block).Shape.Cells * (plan.Methods.Count - missing.Count);
                if (missing.Count > 0 || !store.Holds(UnitStore.NameOf(point, block)))
                    jobs.Add((point, block, missing));
            }
        options.Progress?.Invoke(done, total);
        // Few large blocks are shared between threads, many small ones are given out whole.
        int inside = Math.Max(1, threads / Math.Max(1, jobs.Count));
        try
        {
            Parallel.ForEach(
                Partitioner.Create(jobs, EnumerablePartitionerOptions.NoBuffering),
                new ParallelOptions
                {
                    MaxDegreeOfParallelism = Math.Max(1, threads / inside),
                    CancellationToken = options.Cancellation,
                },
                job =>
                {
                    using StudyBlock block = job.Point.Load(job.Block, options.Cancellation);
                    store.Write(UnitStore.NameOf(job.Point, job.Block), block.Truth);
                    foreach (StudyMethod method in job.Methods)
                    {
                        (MethodResult result, double seconds) = WholeMeasurement.Run(
                            block.Source,
                            method.Procedure,
                            inside,
                            options.Cancellation
                        );
                        store.Write(
                            UnitStore.NameOf(job.Point, job.Block, method.ProcedureSha256),
                            result,
                            block.Source is MemoryAScanSource ? seconds * inside : double.NaN
                        );
                        long cells = block.Source.Info.Shape.Cells;
                        Interlocked.Add(ref measured, cells);
                        options.Progress?.Invoke(Interlocked.Add(ref done, cells), total);
                    }
                }
            );
        }
        catch (AggregateException several)
        {
            // One reason is enough to tell.
            ExceptionDispatchInfo.Throw(several.InnerExceptions[0]);
        }
        return measured;
    }
}
