namespace EchoToThickness.Reporting.Documents;

/// <summary>Sentences that a reader must not miss.</summary>
/// <param name="Title">One or two words.</param>
/// <param name="Items">At least one sentence.</param>
public sealed record NoticeBlock(string Title, IReadOnlyList<string> Items) : ReportBlock;
