namespace EchoToThickness.Units;

/// <summary>A text that should be a quantity with a unit (or another value written as text) is not one.</summary>
public sealed class UnitException : Exception
{
    /// <summary>Says what is wrong with the text and how to write it.</summary>
    /// <param name="what">What is wrong, with the text found.</param>
    /// <param name="remedy">How to write it.</param>
    public UnitException(string what, string remedy)
        : base($"{what} To fix: {remedy}")
    {
        What = what;
        Remedy = remedy;
    }

    /// <summary>What is wrong, with the text found.</summary>
    public string What { get; }

    /// <summary>How to write it.</summary>
    public string Remedy { get; }
}
