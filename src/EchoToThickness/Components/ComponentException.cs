namespace EchoToThickness.Components;

/// <summary>A cell's place on the component cannot be told from what is known.</summary>
public sealed class ComponentException : Exception
{
    /// <summary>Says what is wrong, where, and how to put it right.</summary>
    /// <param name="what">What is wrong, with the value found and the range allowed.</param>
    /// <param name="where">Component, line or setting.</param>
    /// <param name="remedy">What the user can do.</param>
    public ComponentException(string what, string where, string remedy)
        : base($"{what} Where: {where}. To fix: {remedy}")
    {
        What = what;
        Where = where;
        Remedy = remedy;
    }

    /// <summary>What is wrong.</summary>
    public string What { get; }

    /// <summary>Component, line or setting.</summary>
    public string Where { get; }

    /// <summary>What the user can do.</summary>
    public string Remedy { get; }
}
