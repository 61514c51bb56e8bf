namespace EchoToThickness.Reporting.Documents;

/// <summary>A picture with the words that stand in its place for those who do not see it.</summary>
/// <param name="Png">The picture, PNG.</param>
/// <param name="Alternative">What it shows, in a sentence or two.</param>
/// <param name="Caption">Words under it.</param>
public sealed record FigureBlock(byte[] Png, string Alternative, string Caption) : ReportBlock;
