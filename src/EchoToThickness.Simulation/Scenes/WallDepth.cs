using EchoToThickness.Units;

namespace EchoToThickness.Simulation.Scenes;

/// <summary>A depth or remaining wall: a length (<c>"3 mm"</c>) or a fraction of the nominal wall (<c>"40 %"</c>), which scales with it.</summary>
public readonly record struct WallDepth : ITextValue<WallDepth>
{
    private WallDepth(double value, bool isFraction)
    {
        Value = value;
        IsFraction = isFraction;
    }

    /// <summary>Metres, or a fraction of the nominal wall.</summary>
    public double Value { get; }

    /// <summary>Whether <see cref="Value"/> is a fraction of the nominal wall.</summary>
    public bool IsFraction { get; }

    /// <summary>A length.</summary>
    /// <param name="metres">Metres.</param>
    public static WallDepth FromMetres(double metres) => new(metres, false);

    /// <summary>A fraction of the nominal wall.</summary>
    /// <param name="fraction">Fraction.</param>
    public static WallDepth FromFraction(double fraction) => new(fraction, true);

    /// <inheritdoc/>
    public static string TextForm => "length or fraction of the nominal wall: `\"3 mm\"`, `\"40 %\"`";

    /// <summary>Metres.</summary>
    /// <param name="nominalWallMetres">Nominal wall, metres.</param>
    public double ToMetres(double nominalWallMetres) => IsFraction ? Value * nominalWallMetres : Value;

    /// <summary>Reads a length or a fraction.</summary>
    /// <param name="text">A quantity with its unit.</param>
    /// <exception cref="UnitException">Of another dimension, or no quantity.</exception>
    public static WallDepth ParseText(string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        return UnitText.DimensionOf(text) switch
        {
            Dimension.Fraction => FromFraction(UnitText.Parse(text, Dimension.Fraction)),
            null or Dimension.Length => FromMetres(UnitText.Parse(text, Dimension.Length)),
            _ => throw new UnitException(
                $"'{text}' is neither a length nor a fraction of the nominal wall.",
                "write \"3 mm\" or \"40 %\"."
            ),
        };
    }

    /// <summary>Prints the value so that <see cref="ParseText"/> gives back an equal one.</summary>
    public string ToText() => UnitText.Format(Value, IsFraction ? Dimension.Fraction : Dimension.Length);

    /// <inheritdoc/>
    public override string ToString() => ToText();
}
