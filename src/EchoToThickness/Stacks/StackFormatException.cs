namespace EchoToThickness.Stacks;

/// <summary>A stack, grid or evidence file (or a description of one) cannot be used as it is.</summary>
public sealed class StackFormatException : Exception
{
    /// <summary>Says what is wrong, where, and how to put it right.</summary>
    /// <param name="what">What is wrong, with the value found and the range allowed.</param>
    /// <param name="file">File the fault is in.</param>
    /// <param name="objectPath">Group, dataset, attribute or key; empty when the file as a whole is meant.</param>
    /// <param name="remedy">What the user can do.</param>
    /// <param name="inner">The cause, where another library reported it.</param>
    public StackFormatException(string what, string file, string objectPath, string remedy, Exception? inner = null)
        : base($"{what} Where: {file}{(objectPath.Length > 0 ? ", " + objectPath : "")}. To fix: {remedy}", inner)
    {
        What = what;
        File = file;
        ObjectPath = objectPath;
        Remedy = remedy;
    }

    /// <summary>What is wrong.</summary>
    public string What { get; }

    /// <summary>File the fault is in.</summary>
    public string File { get; }

    /// <summary>Group, dataset, attribute or key.</summary>
    public string ObjectPath { get; }

    /// <summary>What the user can do.</summary>
    public string Remedy { get; }
}
