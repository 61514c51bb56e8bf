using EchoToThickness.Grids;
using EchoToThickness.Pairing;
using EchoToThickness.Stacks;

namespace EchoToThickness.Measurement;

/// <summary>
/// Runs a plan over a stack: reads blocks, measures them on several threads and hands tiles to a sink. Memory depends on the threads
/// and on one group of scan lines, never on the length of the stack; results do not depend on the number of threads.
/// </summary>
public static class MeasurementEngine
{
    /// <summary>Measures every cell of a stack.</summary>
    /// <param name="source">The stack.</param>
    /// <param name="plan">The compiled procedure.</param>
    /// <param name="header">What the grid says of itself.</param>
    /// <param name="sink">Takes header, tiles and summary.</param>
    /// <param name="options">Threads, progress, cancellation.</param>
    /// <returns>The summary the sink was completed with.</returns>
    /// <exception cref="StackFormatException">The stack cannot be read.</exception>
    /// <exception cref="OperationCanceledException">The caller cancelled; the sink was not completed.</exception>
    public static GridSummary Run(
        IAScanSource source,
        MeasurementPlan plan,
        GridHeader header,
        IGridSink sink,
        MeasurementOptions options
    )
    {
        ArgumentNullException.ThrowIfNull(source);
        ArgumentNullException.ThrowIfNull(plan);
        ArgumentNullException.ThrowIfNull(header);
        ArgumentNullException.ThrowIfNull(sink);
        ArgumentNullException.ThrowIfNull(options);
        options.Cancellation.ThrowIfCancellationRequested();
        var geometry = new MeasurementGeometry(source, plan, fine: options.Order is not null);
        sink.Begin(header);
        int threads = options.Threads > 0 ? options.Threads : Environment.ProcessorCount;
        threads = Math.Clamp(threads, 1, Math.Max(1, geometry.Groups));
        var run = new MeasurementRun(source, plan, geometry, sink, options);
        if (threads == 1)
        {
            run.Work();
        }
        else
        {
            var helpers = new Thread[threads - 1];
            for (int i = 0; i < helpers.Length; i++)
            {
                helpers[i] = new Thread(run.Work) { IsBackground = true, Name = $"measure {i + 1}" };
                helpers[i].Start();
            }
            run.Work();
            foreach (Thread helper in helpers)
                helper.Join();
        }
        run.ThrowIfFailed();
        options.Cancellation.ThrowIfCancellationRequested();
        GridSummary summary = run.Summary(options.StackSha256?.GetAwaiter().GetResult() ?? "");
        sink.Complete(summary);
        return summary;
    }

    /// <summary>
    /// Measures one cell exactly as <see cref="Run"/> does, neighbours included, and records every decision.
    /// </summary>
    /// <param name="source">The stack.</param>
    /// <param name="plan">The compiled procedure.</param>
    /// <param name="scan">Scan position.</param>
    /// <param name="beam">Beam.</param>
    /// <param name="trace">Takes the decisions.</param>
    /// <exception cref="ArgumentOutOfRangeException">The cell is not in the stack.</exception>
    public static CellResult Explain(
        IAScanSource source,
        MeasurementPlan plan,
        int scan,
        int beam,
        MeasurementTrace trace
    )
    {
        ArgumentNullException.ThrowIfNull(source);
        ArgumentNullException.ThrowIfNull(plan);
        ArgumentNullException.ThrowIfNull(trace);
        StackShape shape = source.Info.Shape;
        ArgumentOutOfRangeException.ThrowIfNegative(scan);
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual(scan, shape.Scans);
        ArgumentOutOfRangeException.ThrowIfNegative(beam);
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual(beam, shape.Beams);
        var geometry = new MeasurementGeometry(source, plan);
        using var worker = new MeasurementWorker(source, plan, geometry);
        return worker.Explain(scan, beam, trace);
    }
}
