namespace EchoToThickness.Reporting.Documents;

/// <summary>A heading.</summary>
/// <param name="Level">2 to 4; level 1 is the title of the document.</param>
/// <param name="Text">Words.</param>
public sealed record HeadingBlock(int Level, string Text) : ReportBlock;
