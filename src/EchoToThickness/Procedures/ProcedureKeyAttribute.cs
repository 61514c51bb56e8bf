using EchoToThickness.Units;

namespace EchoToThickness.Procedures;

/// <summary>
/// Describes one key of a procedure file. The parser, the writer, the reference page and the help all read these descriptions;
/// there is no second list.
/// </summary>
[AttributeUsage(AttributeTargets.Property)]
public sealed class ProcedureKeyAttribute : Attribute
{
    /// <summary>Describes a key without a unit: text, number, switch, choice, level, section.</summary>
    /// <param name="key">Key as written in the file, snake_case.</param>
    /// <param name="description">One or two sentences for people.</param>
    public ProcedureKeyAttribute(string key, string description)
    {
        Key = key;
        Description = description;
    }

    /// <summary>Describes a key that is a quantity with a unit.</summary>
    /// <param name="key">Key as written in the file, snake_case.</param>
    /// <param name="description">One or two sentences for people.</param>
    /// <param name="dimension">Dimension of the quantity.</param>
    public ProcedureKeyAttribute(string key, string description, Dimension dimension)
        : this(key, description) => Dimension = dimension;

    /// <summary>Key as written in the file.</summary>
    public string Key { get; }

    /// <summary>What the key does.</summary>
    public string Description { get; }

    /// <summary>Dimension of a quantity; null for text, numbers, switches, choices and sections.</summary>
    public Dimension? Dimension { get; }

    /// <summary>Smallest allowed value, SI; NaN when unbounded.</summary>
    public double Minimum { get; init; } = double.NaN;

    /// <summary>Largest allowed value, SI; NaN when unbounded.</summary>
    public double Maximum { get; init; } = double.NaN;

    /// <summary>The key must be present in its section.</summary>
    public bool Required { get; init; }
}
