namespace EchoToThickness.Reporting.Documents;

/// <summary>A paragraph of plain text.</summary>
/// <param name="Text">Words.</param>
public sealed record ParagraphBlock(string Text) : ReportBlock;
