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
    }

    /// <summary>What is wrong.</summary>
    public string What { get; }

    /// <summary>File with line and key, or the key alone.</summary>
    public string Where { get; }

    /// <summary>What the user can do.</summary>
    public string Remedy { get; }
}
