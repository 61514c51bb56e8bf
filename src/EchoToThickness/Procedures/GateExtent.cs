using EchoToThickness.Units;

namespace EchoToThickness.Procedures;

/// <summary>A gate start or width: a time (<c>"0.6 us"</c>) or a depth of metal (<c>"2 mm"</c>), converted with the plan's velocity.</summary>
public readonly record struct GateExtent : ITextValue<GateExtent>
{
    private GateExtent(double value, bool isDepth)
    {
        Value = value;
        IsDepth = isDepth;
    }

    /// <summary>Seconds, or metres when <see cref="IsDepth"/>.</summary>
    public double Value { get; }

    /// <summary>Whether <see cref="Value"/> is a depth in metres.</summary>
    public bool IsDepth { get; }

    /// <summary>A time.</summary>
    /// <param name="seconds">Seconds on the time base (round trip).</param>
    public static GateExtent FromSeconds(double seconds) => new(seconds, false);

    /// <summary>A depth of metal.</summary>
    /// <param name="metres">Metres, one way.</param>
    public static GateExtent FromDepth(double metres) => new(metres, true);

    /// <summary>Seconds on the time base: a depth counts there and back.</summary>
    /// <param name="velocityMetresPerSecond">Velocity in the metal.</param>
    public double ToSeconds(double velocityMetresPerSecond) => IsDepth ? 2 * Value / velocityMetresPerSecond : Value;

    /// <inheritdoc/>
    public static string TextForm => "time or depth of metal: `\"0.6 us\"` or `\"2 mm\"`";

    /// <summary>Reads a time or a depth.</summary>
    /// <param name="text"><c>"0.6 us"</c> or <c>"2 mm"</c>, any unit of time or length.</param>
    /// <exception cref="UnitException">Neither a time nor a length.</exception>
    public static GateExtent ParseText(string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        Dimension? dimension = UnitText.DimensionOf(text);
        if (dimension == Dimension.Length)
            return FromDepth(UnitText.Parse(text, Dimension.Length));
        if (dimension is null or Dimension.Time)
            return FromSeconds(UnitText.Parse(text, Dimension.Time));
        throw new UnitException(
            $"'{text}' is neither a time nor a depth.",
            "write a time such as \"0.6 us\" or a depth of metal such as \"2 mm\"."
        );
    }

    /// <summary>Prints the extent so that <see cref="ParseText"/> gives back an equal one.</summary>
    public string ToText() => UnitText.Format(Value, IsDepth ? Dimension.Length : Dimension.Time);

    /// <inheritdoc/>
    public override string ToString() => ToText();
}
