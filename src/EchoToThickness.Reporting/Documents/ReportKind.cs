namespace EchoToThickness.Reporting.Documents;

/// <summary>What a report is about.</summary>
public enum ReportKind
{
    /// <summary>Statements about a component.</summary>
    Inspection,

    /// <summary>Methods compared on the same records.</summary>
    Comparison,

    /// <summary>A search for a procedure.</summary>
    Tuning,

    /// <summary>A procedure on known walls.</summary>
    Validation,
}
