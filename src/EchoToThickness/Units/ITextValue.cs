namespace EchoToThickness.Units;

/// <summary>A value that a file holds as one piece of text, such as a gate level or a gate start.</summary>
/// <typeparam name="TSelf">The type itself.</typeparam>
public interface ITextValue<TSelf>
    where TSelf : ITextValue<TSelf>
{
    /// <summary>Reads the text.</summary>
    /// <param name="text">Text as written in the file.</param>
    /// <exception cref="UnitException">The text is not such a value; says how to write one.</exception>
    static abstract TSelf ParseText(string text);

    /// <summary>What to write, with an example, for the reference page.</summary>
    static abstract string TextForm { get; }

    /// <summary>Prints text that <see cref="ParseText"/> reads back to an equal value.</summary>
    string ToText();
}
