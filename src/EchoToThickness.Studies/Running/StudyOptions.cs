namespace EchoToThickness.Studies.Running;

/// <summary>How a study runs; nothing here changes a result.</summary>
public sealed record StudyOptions
{
    /// <summary>Worker threads; 0 for one a processor.</summary>
    public int Threads { get; init; }

    /// <summary>Called from worker threads: A-scans measured (those found finished included) and in all.</summary>
    public Action<long, long>? Progress { get; init; }

    /// <summary>Stops the study; what is finished stays and is not measured again.</summary>
    public CancellationToken Cancellation { get; init; }
}
