namespace EchoToThickness.Reporting.Documents;

/// <summary>Text whose lines and blanks are kept, such as a file.</summary>
/// <param name="Text">Lines ended by line feeds.</param>
public sealed record LiteralBlock(string Text) : ReportBlock;
