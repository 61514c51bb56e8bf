namespace EchoToThickness.Reporting.Documents;

/// <summary>A list without order.</summary>
/// <param name="Items">At least one item.</param>
public sealed record ListBlock(IReadOnlyList<string> Items) : ReportBlock;
