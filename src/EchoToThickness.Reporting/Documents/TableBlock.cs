namespace EchoToThickness.Reporting.Documents;

/// <summary>A table; the first cell of a row is the heading of the row.</summary>
/// <param name="Caption">What the table holds.</param>
/// <param name="Columns">Headings of the columns.</param>
/// <param name="Rows">Rows, each as long as the headings.</param>
public sealed record TableBlock(
    string Caption,
    IReadOnlyList<string> Columns,
    IReadOnlyList<IReadOnlyList<string>> Rows
) : ReportBlock;
