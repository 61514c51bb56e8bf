using EchoToThickness.Signals;

namespace EchoToThickness.Measurement.Shared;

/// <summary>How several plans are measured together; nothing here changes a result.</summary>
public sealed record SharedOptions
{
    /// <summary>Worker threads; 0 for one a processor.</summary>
    public int Threads { get; init; }

    /// <summary>Kernel implementation; null for the machine's best. All give the same results.</summary>
    public KernelPath? Kernels { get; init; }

    /// <summary>
    /// Scan positions that are wanted, first and count of each range; empty for all. Cells outside may be given as well. A cell's result does not
    /// depend on what else is wanted.
    /// </summary>
    public IReadOnlyList<(int FirstScan, int ScanCount)> Wanted { get; init; } = [];

    /// <summary>Called from worker threads: cells done, summed over the plans.</summary>
    public Action<long>? Progress { get; init; }

    /// <summary>Stops the work between groups of scan lines.</summary>
    public CancellationToken Cancellation { get; init; }
}
