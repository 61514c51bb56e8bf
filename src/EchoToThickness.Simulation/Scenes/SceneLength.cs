using EchoToThickness.Units;

namespace EchoToThickness.Simulation.Scenes;

/// <summary>
/// A position or extent on the component that scales with it: a length (<c>"20 mm"</c>), an angle (<c>"45 deg"</c>: of the bend along,
/// of the girth around) or a fraction (<c>"30 %"</c>: of the length along, of the girth or width around).
/// </summary>
public readonly record struct SceneLength : ITextValue<SceneLength>
{
    private SceneLength(double value, Dimension dimension)
    {
        Value = value;
        Dimension = dimension;
    }

    /// <summary>Metres, radians or fraction, by <see cref="Dimension"/>.</summary>
    public double Value { get; }

    /// <summary><see cref="Units.Dimension.Length"/>, <see cref="Units.Dimension.Angle"/> or <see cref="Units.Dimension.Fraction"/>.</summary>
    public Dimension Dimension { get; }

    /// <summary>A length.</summary>
    /// <param name="metres">Metres.</param>
    public static SceneLength FromMetres(double metres) => new(metres, Dimension.Length);

    /// <summary>An angle.</summary>
    /// <param name="radians">Radians.</param>
    public static SceneLength FromRadians(double radians) => new(radians, Dimension.Angle);

    /// <summary>A fraction of the whole extent.</summary>
    /// <param name="fraction">Fraction.</param>
    public static SceneLength FromFraction(double fraction) => new(fraction, Dimension.Fraction);

    /// <inheritdoc/>
    public static string TextForm => "length, angle or fraction: `\"20 mm\"`, `\"45 deg\"`, `\"30 %\"`";

    /// <summary>Metres on the surface.</summary>
    /// <param name="metresPerRadian">Radius that turns an angle into an arc, metres.</param>
    /// <param name="wholeMetres">Extent of which a fraction is taken, metres.</param>
    public double ToMetres(double metresPerRadian, double wholeMetres) =>
        Dimension switch
        {
            Dimension.Angle => Value * metresPerRadian,
            Dimension.Fraction => Value * wholeMetres,
            _ => Value,
        };

    /// <summary>Reads a length, an angle or a fraction.</summary>
    /// <param name="text">A quantity with its unit.</param>
    /// <exception cref="UnitException">Of another dimension, or no quantity.</exception>
    public static SceneLength ParseText(string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        Dimension? dimension = UnitText.DimensionOf(text);
        return dimension switch
        {
            Dimension.Angle or Dimension.Fraction => new(UnitText.Parse(text, dimension.Value), dimension.Value),
            null or Dimension.Length => new(UnitText.Parse(text, Dimension.Length), Dimension.Length),
            _ => throw new UnitException(
                $"'{text}' is neither a length, an angle nor a fraction.",
                "write \"20 mm\", \"45 deg\" or \"30 %\"."
            ),
        };
    }

    /// <summary>Prints the value so that <see cref="ParseText"/> gives back an equal one.</summary>
    public string ToText() => UnitText.Format(Value, Dimension);

    /// <inheritdoc/>
    public override string ToString() => ToText();
}
