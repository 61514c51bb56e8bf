namespace EchoToThickness.Workbench;

/// <summary>A request that cannot be done: what is wrong and how to put it right, for the person at the page or the terminal.</summary>
public sealed class WorkbenchException : Exception
{
    /// <summary>Makes the error.</summary>
    /// <param name="what">What is wrong.</param>
    /// <param name="remedy">What the user can do.</param>
    public WorkbenchException(string what, string remedy)
        : base($"{what} To fix: {remedy}")
    {
        What = what;
        Remedy = remedy;
    }

    /// <summary>What is wrong.</summary>
    public string What { get; }

    /// <summary>What the user can do.</summary>
    public string Remedy { get; }
}
