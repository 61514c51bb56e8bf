namespace EchoToThickness.Procedures;

/// <summary>The word by which a procedure file names an enumeration value, and what it means.</summary>
[AttributeUsage(AttributeTargets.Field)]
public sealed class ChoiceAttribute(string word, string description) : Attribute
{
    /// <summary>Word as written in the file.</summary>
    public string Word { get; } = word;

    /// <summary>What the choice means.</summary>
    public string Description { get; } = description;
}
