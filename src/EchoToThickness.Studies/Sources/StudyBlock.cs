using EchoToThickness.Stacks;

namespace EchoToThickness.Studies.Sources;

/// <summary>A-scans that are measured in one go, with everything a score needs. Disposing it closes the A-scans.</summary>
public sealed record StudyBlock : IDisposable
{
    /// <summary>The A-scans.</summary>
    public required IAScanSource Source { get; init; }

    /// <summary>What is known of the cells.</summary>
    public required BlockTruth Truth { get; init; }

    /// <inheritdoc/>
    public void Dispose() => Source.Dispose();
}
