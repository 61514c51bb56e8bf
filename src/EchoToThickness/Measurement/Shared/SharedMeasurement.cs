using System.Runtime.ExceptionServices;
using EchoToThickness.Grids;
using EchoToThickness.Pairing;
using EchoToThickness.Procedures;
using EchoToThickness.Stacks;

namespace EchoToThickness.Measurement.Shared;

/// <summary>
/// Measures one stack by many procedures in one go. A block of A-scans is lent once and measured by all while it is in the cache, and procedures
/// that agree in the first stages (conditioning; interface; gates; or filter, candidates and train decision) share them. Every
/// procedure gets the very numbers that <see cref="MeasurementEngine"/> gives it.
/// </summary>
public static class SharedMeasurement
{
    /// <summary>Measures.</summary>
    /// <param name="source">The stack.</param>
    /// <param name="plans">Plans compiled for this stack.</param>
    /// <param name="take">
    /// Takes results: number of the plan, and a tile that is reused after the call. Called from worker threads, for a cell once.
    /// </param>
    /// <param name="options">Threads, wanted scan positions, cancellation.</param>
    /// <exception cref="StackFormatException">The stack cannot be read.</exception>
    /// <exception cref="OperationCanceledException">The caller cancelled.</exception>
    public static void Run(
        IAScanSource source,
        IReadOnlyList<MeasurementPlan> plans,
        Action<int, GridTile> take,
        SharedOptions options
    )
    {
        ArgumentNullException.ThrowIfNull(source);
        ArgumentNullException.ThrowIfNull(plans);
        ArgumentNullException.ThrowIfNull(take);
        ArgumentNullException.ThrowIfNull(options);
        foreach (PlanClass alike in Classes(source, plans))
            Run(source, alike, take, options);
    }

    /// <summary>Plans that cut a stack alike, so that one pass over it serves them all.</summary>
    private static IEnumerable<PlanClass> Classes(IAScanSource source, IReadOnlyList<MeasurementPlan> plans) =>
        plans
            .Select((plan, i) => (Plan: plan, Index: i, Geometry: new MeasurementGeometry(source, plan)))
            .GroupBy(p =>
                (
                    p.Geometry.Tracked,
                    p.Geometry.Mapped,
                    p.Geometry.ScansPerGroup,
                    p.Geometry.OverlapScans,
                    p.Geometry.HaloScans,
                    p.Geometry.HaloBeams,
                    Train: p.Plan.Procedure.Pairing.Rule == PairingRule.Train,
                    Asks: TrainPlan.AsksNeighbours(p.Plan.Procedure, p.Plan.Stack)
                )
            )
            .Select(g => new PlanClass([.. g.Select(p => p.Plan)], [.. g.Select(p => p.Index)], g.First().Geometry));

    private static void Run(IAScanSource source, PlanClass plans, Action<int, GridTile> take, SharedOptions options)
    {
        int[] groups =
        [
            .. Enumerable.Range(0, plans.Geometry.Groups).Where(g => IsWanted(plans.Geometry.Group(g), options.Wanted)),
        ];
        int threads = options.Threads > 0 ? options.Threads : Environment.ProcessorCount;
        threads = Math.Clamp(threads, 1, Math.Max(1, groups.Length));
        int next = -1;
        ExceptionDispatchInfo? failure = null;
        void Work()
        {
            try
            {
                using var worker = new SharedWorker(source, plans, take, options.Kernels);
                for (int i = Interlocked.Increment(ref next); i < groups.Length; i = Interlocked.Increment(ref next))
                {
                    if (options.Cancellation.IsCancellationRequested || Volatile.Read(ref failure) is not null)
                        return;
                    worker.MeasureGroup(groups[i]);
                    options.Progress?.Invoke(
                        (long)plans.Geometry.Group(groups[i]).Count * plans.Geometry.Beams * plans.Plans.Count
                    );
                }
            }
            catch (Exception error)
            {
                Interlocked.CompareExchange(ref failure, ExceptionDispatchInfo.Capture(error), null);
            }
        }

        var helpers = new Thread[threads - 1];
        for (int i = 0; i < helpers.Length; i++)
        {
            helpers[i] = new Thread(Work) { IsBackground = true, Name = $"measure {i + 1}" };
            helpers[i].Start();
        }
        Work();
        foreach (Thread helper in helpers)
            helper.Join();
        failure?.Throw();
        options.Cancellation.ThrowIfCancellationRequested();
    }

    private static bool IsWanted((int First, int Count) group, IReadOnlyList<(int FirstScan, int ScanCount)> wanted) =>
        wanted.Count == 0
        || wanted.Any(range =>
            range.FirstScan < group.First + group.Count && group.First < range.FirstScan + range.ScanCount
        );
}
