using EchoToThickness.Procedures;

namespace EchoToThickness.Storage.Layouts;

/// <summary>Section <c>[time]</c>: sample index to seconds. One of sample_rate, interval and axis is needed.</summary>
public sealed record TimeLayout
{
    /// <summary>Samples a second.</summary>
    [ProcedureKey("sample_rate", "Samples a second.")]
    public ValueSource? SampleRate { get; init; }

    /// <summary>One sample's duration.</summary>
    [ProcedureKey("interval", "Duration of one sample.")]
    public ValueSource? Interval { get; init; }

    /// <summary>Time of every sample.</summary>
    [ProcedureKey("axis", "Time of every sample, evenly spaced; gives start and interval.")]
    public ValueSource? Axis { get; init; }

    /// <summary>Time of sample 0.</summary>
    [ProcedureKey("start", "Time of sample 0 after the pulse: one value, or one for each beam; left out: 0.")]
    public ValueSource? Start { get; init; }

    /// <summary>Full or half path.</summary>
    [ProcedureKey("path", "Whether times count the way there and back or one way.")]
    public StoredPath Path { get; init; } = StoredPath.Full;
}
