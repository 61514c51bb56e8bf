using System.Diagnostics;
using EchoToThickness.Measurement;
using EchoToThickness.Procedures;
using EchoToThickness.Stacks;

namespace EchoToThickness.Studies.Running;

/// <summary>Measures a line whole and keeps its result in memory.</summary>
internal static class WholeMeasurement
{
    /// <summary>Measures a line.</summary>
    /// <param name="source">The line.</param>
    /// <param name="procedure">The procedure; of its layers only those of a result are kept.</param>
    /// <param name="threads">Worker threads; 0 for one a processor.</param>
    /// <param name="cancellation">Stops the work.</param>
    /// <returns>The result, and how long measuring took, without compiling the procedure.</returns>
    public static (MethodResult Result, double Seconds) Run(
        IAScanSource source,
        Procedure procedure,
        int threads,
        CancellationToken cancellation
    )
    {
        MeasurementPlan plan = MeasurementPlan.Compile(procedure, source.Info);
        var sink = new ResultSink();
        long started = Stopwatch.GetTimestamp();
        MeasurementEngine.Run(
            source,
            plan,
            plan.CreateHeader(""),
            sink,
            new MeasurementOptions { Threads = threads, Cancellation = cancellation }
        );
        return (sink.Result, Stopwatch.GetElapsedTime(started).TotalSeconds);
    }
}
