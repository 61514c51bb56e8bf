namespace EchoToThickness.Reporting.Documents;

/// <summary>Empty lines to be signed.</summary>
/// <param name="Roles">Who signs.</param>
public sealed record SignatureBlock(IReadOnlyList<string> Roles) : ReportBlock;
