using EchoToThickness.Signals;

namespace EchoToThickness.Measurement;

/// <summary>How a measurement runs; nothing here changes a result.</summary>
public sealed record MeasurementOptions
{
    /// <summary>Worker threads; 0 for one a processor.</summary>
    public int Threads { get; init; }

    /// <summary>Kernel implementation; null for the machine's best. All give the same grid.</summary>
    public KernelPath? Kernels { get; init; }

    /// <summary>Called after each group of scan lines, from a worker thread: A-scans done and in all.</summary>
    public Action<long, long>? Progress { get; init; }

    /// <summary>SHA-256 of the stack, computed beside the work; awaited before the sink completes.</summary>
    public Task<string>? StackSha256 { get; init; }

    /// <summary>What is measured first; null for the order of the stack.</summary>
    public MeasurementOrder? Order { get; init; }

    /// <summary>What earlier runs over the same stack may have left to reuse; null to keep nothing.</summary>
    public EvidenceStore? Evidence { get; init; }

    /// <summary>Stops the measurement between groups of scan lines.</summary>
    public CancellationToken Cancellation { get; init; }
}
