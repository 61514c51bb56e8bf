namespace EchoToThickness.Reporting.Documents;

/// <summary>Names and values.</summary>
/// <param name="Facts">At least one pair.</param>
public sealed record FactsBlock(IReadOnlyList<(string Name, string Value)> Facts) : ReportBlock;
