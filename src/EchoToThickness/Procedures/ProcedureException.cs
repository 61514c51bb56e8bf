using System.Text;

namespace EchoToThickness.Procedures;

/// <summary>A procedure cannot be used: syntax, an unknown key, a wrong unit, or settings that contradict each other or the stack.</summary>
public sealed class ProcedureException : Exception
{
    /// <summary>Says what is wrong, where, and how to put it right.</summary>
    /// <param name="what">What is wrong, with the value found and the range allowed.</param>
    /// <param name="where">File with line and key, or the key alone.</param>
    /// <param name="remedy">What the user can do.</param>
    /// <param name="inner">The cause, where another library reported it.</param>
    public ProcedureException(string what, string where, string remedy, Exception? inner = null)
        : base($"{what} Where: {where}. To fix: {remedy}", inner)
    {
        What = what;
        Where = where;
        Remedy = remedy;
        Findings = [new ProcedureFinding("", what, remedy) { Place = where }];
    }

    /// <summary>Reports several faults at once; <see cref="What"/>, <see cref="Where"/> and <see cref="Remedy"/> are those of the first.</summary>
    /// <param name="findings">At least one fault, in the order of the file.</param>
    /// <param name="inner">The cause, where another library reported it.</param>
    public ProcedureException(IReadOnlyList<ProcedureFinding> findings, Exception? inner = null)
        : base(MessageOf(findings), inner)
    {
        Findings = findings;
        What = findings[0].What;
        Where = findings[0].Where;
        Remedy = findings[0].Remedy;
    }

    /// <summary>What is wrong.</summary>
    public string What { get; }

    /// <summary>File with line and key, or the key alone.</summary>
    public string Where { get; }

    /// <summary>What the user can do.</summary>
    public string Remedy { get; }

    /// <summary>Every fault found, at least one.</summary>
    public IReadOnlyList<ProcedureFinding> Findings { get; }

    private static string MessageOf(IReadOnlyList<ProcedureFinding> findings)
    {
        ArgumentNullException.ThrowIfNull(findings);
        if (findings.Count == 0)
            throw new ArgumentException("At least one fault is needed.", nameof(findings));
        if (findings.Count == 1)
            return $"{findings[0].What} Where: {findings[0].Where}. To fix: {findings[0].Remedy}";
        var text = new StringBuilder();
        text.Append(System.Globalization.CultureInfo.InvariantCulture, $"{findings.Count} faults.");
        foreach (ProcedureFinding finding in findings)
            text.Append('\n')
                .Append(finding.Where)
                .Append(": ")
                .Append(finding.What)
                .Append(" To fix: ")
                .Append(finding.Remedy);
        return text.ToString();
    }
}
