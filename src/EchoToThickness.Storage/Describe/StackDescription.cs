using EchoToThickness.Stacks.Sanity;
using EchoToThickness.Storage.Foreign;

namespace EchoToThickness.Storage.Describe;

/// <summary>What a file or folder holds, how it could be read, and whether its samples look sound.</summary>
public sealed record StackDescription
{
    /// <summary>File or folder.</summary>
    public required string Path { get; init; }

    /// <summary>What it is.</summary>
    public required StackFileKind Kind { get; init; }

    /// <summary>Whether it is in the native stack layout.</summary>
    public required bool IsNative { get; init; }

    /// <summary>Bytes of the file, or of all files of a folder.</summary>
    public required long Bytes { get; init; }

    /// <summary>Groups and datasets, in walking order.</summary>
    public required IReadOnlyList<DescribedObject> Objects { get; init; }

    /// <summary>Lines that could be opened: native, through the given layout map, or through the proposed one.</summary>
    public required IReadOnlyList<DescribedLine> Lines { get; init; }

    /// <summary>Proposed layout map (TOML); null for a native stack or when a layout map was given.</summary>
    public required string? ProposedLayout { get; init; }

    /// <summary>Why lines could not be opened, as for people; empty when they could.</summary>
    public required IReadOnlyList<string> Problems { get; init; }

    /// <summary>Findings between lines.</summary>
    public required IReadOnlyList<SanityFinding> LineFindings { get; init; }

    /// <summary>Whether anything must be put right before measuring: the stack does not open, or a finding is a fault.</summary>
    public bool HasFaults =>
        Problems.Count > 0
        || Lines.Any(l => l.Sanity.Findings.Any(f => f.Severity == SanitySeverity.Fault))
        || LineFindings.Any(f => f.Severity == SanitySeverity.Fault);
}
