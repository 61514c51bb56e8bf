namespace EchoToThickness.Reporting.Documents;

/// <summary>A report before it is written as HTML or PDF.</summary>
public sealed record ReportDocument
{
    /// <summary>Title, the only heading of level 1.</summary>
    public required string Title { get; init; }

    /// <summary>Line under the title.</summary>
    public required string Subtitle { get; init; }

    /// <summary>Line at the foot of every page: program and version.</summary>
    public required string Foot { get; init; }

    /// <summary>The pieces, in order.</summary>
    public required IReadOnlyList<ReportBlock> Blocks { get; init; }

    /// <summary>Roles of the signature lines: what every report ends with.</summary>
    public static IReadOnlyList<string> Signatures { get; } =
    ["Measured by", "Evaluated by", "Reviewed by", "Accepted by"];
}
