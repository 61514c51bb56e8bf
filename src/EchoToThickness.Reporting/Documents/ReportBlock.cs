namespace EchoToThickness.Reporting.Documents;

/// <summary>One piece of a report, free of any output format.</summary>
public abstract record ReportBlock;
