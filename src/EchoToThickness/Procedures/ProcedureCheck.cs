using EchoToThickness.Stacks;

namespace EchoToThickness.Procedures;

/// <summary>Settings that contradict each other, or the stack they are to be used on.</summary>
public static class ProcedureCheck
{
    /// <summary>Contradictions inside a procedure; what a single key may hold is checked when it is read.</summary>
    /// <param name="procedure">The procedure.</param>
    /// <returns>Every contradiction, in the order of the file; empty when there is none.</returns>
    public static IReadOnlyList<ProcedureFinding> Consistency(Procedure procedure)
    {
        ArgumentNullException.ThrowIfNull(procedure);
        var findings = new List<ProcedureFinding>();
        ConsistencyRules.Check(procedure, findings);
        return findings;
    }

    /// <summary>Throws when the procedure contradicts itself; for procedures made in code.</summary>
    /// <param name="procedure">The procedure.</param>
    /// <exception cref="ProcedureException">Every contradiction found.</exception>
    public static void ThrowIfInconsistent(Procedure procedure)
    {
        IReadOnlyList<ProcedureFinding> findings = Consistency(procedure);
        if (findings.Count > 0)
            throw new ProcedureException(findings);
    }

    /// <summary>Settings that the chosen pairing rule would pass over: they are refused, not ignored, before anything is measured.</summary>
    /// <param name="procedure">The procedure.</param>
    /// <exception cref="ProcedureException">Every section found.</exception>
    public static void ThrowIfUnused(Procedure procedure)
    {
        ArgumentNullException.ThrowIfNull(procedure);
        var findings = new List<ProcedureFinding>();
        ConsistencyRules.Unused(procedure, findings);
        if (findings.Count > 0)
            throw new ProcedureException(findings);
    }

    /// <summary>Checks a procedure against a stack: what cannot work is an error, what is doubtful a warning.</summary>
    /// <param name="procedure">A consistent procedure.</param>
    /// <param name="stack">The stack.</param>
    /// <returns>Warnings, one line each.</returns>
    /// <exception cref="ProcedureException">
    /// A band edge at or above half the sample rate, a pick or polarity that needs the sign of a rectified stack, a window outside
    /// the time base, averaging over cells that are not neighbours, no source of velocity, a correction without its facts.
    /// </exception>
    public static IReadOnlyList<string> Against(Procedure procedure, StackInfo stack)
    {
        ArgumentNullException.ThrowIfNull(procedure);
        ArgumentNullException.ThrowIfNull(stack);
        var rules = new StackRules(procedure, stack);
        rules.Check();
        return rules.Findings.Count == 0 ? rules.Warnings : throw new ProcedureException(rules.Findings);
    }
}
