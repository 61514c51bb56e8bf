namespace EchoToThickness.Units;

/// <summary>
/// Quantities as people write them (<c>"8.6 mm"</c>, <c>"5920 m/s"</c>, <c>"0.25 us"</c>, <c>"-6 dB"</c>) to SI and back.
/// Invariant culture, a case-sensitive whitelist of units, no thousands separators, one dimension per call.
/// </summary>
/// <remarks>
/// Powers of ten are applied to the digits and not by multiplication: <c>Parse("8.6 mm") == 8.6e-3</c> exactly, and
/// <c>Parse(Format(x, d), d) == x</c> for every finite x. Degrees Celsius, kelvin differences and decibels are kept as they are;
/// degrees become radians; percent becomes a fraction.
/// </remarks>
public static class UnitText
{
    /// <summary>Reads a quantity.</summary>
    /// <param name="text">Number, optional spaces, unit.</param>
    /// <param name="dimension">Dimension the quantity must have.</param>
    /// <returns>Value in the library's unit of the dimension (see <see cref="Dimension"/>); finite.</returns>
    /// <exception cref="UnitException">Not a number, no unit, an unknown unit, a unit of another dimension, a comma.</exception>
    public static double Parse(string text, Dimension dimension)
    {
        ArgumentNullException.ThrowIfNull(text);
        (string number, string symbol) = Split(text, dimension);
        if (UnitTable.Find(symbol, dimension) is { } unit)
            return Value(text, number, unit);
        string article = symbol.Length == 0 ? "has no unit" : $"has the unknown unit '{symbol}'";
        if (UnitTable.Find(symbol) is { } other)
            article = $"is {Indefinite(other.Dimension)}, not {Indefinite(dimension)}";
        else if (CaseSibling(symbol, dimension) is { } sibling)
            article += $" (capital and small letters differ: '{sibling}')";
        throw new UnitException(
            $"'{text}' {article}.",
            $"write {Indefinite(dimension)} such as \"{Example(dimension)}\"; units: {string.Join(", ", UnitsOf(dimension))}."
        );
    }

    /// <summary>Reads a quantity without throwing.</summary>
    /// <param name="text">Number, optional spaces, unit.</param>
    /// <param name="dimension">Dimension the quantity must have.</param>
    /// <param name="value">Value in the library's unit; NaN when false is returned.</param>
    /// <returns>Whether the text is a quantity of that dimension.</returns>
    public static bool TryParse(string? text, Dimension dimension, out double value)
    {
        value = double.NaN;
        if (text is null)
            return false;
        try
        {
            value = Parse(text, dimension);
            return true;
        }
        catch (UnitException)
        {
            return false;
        }
    }

    /// <summary>Prints a quantity so that <see cref="Parse"/> gives back exactly the same double.</summary>
    /// <param name="value">Value in the library's unit; finite.</param>
    /// <param name="dimension">Its dimension.</param>
    /// <returns>For example <c>"8.6 mm"</c>.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The value is NaN or infinite.</exception>
    public static string Format(double value, Dimension dimension)
    {
        if (!double.IsFinite(value))
            throw new ArgumentOutOfRangeException(nameof(value), value, "Only finite values can be printed.");
        UnitDefinition unit = UnitTable.ForPrinting(dimension, value);
        if (unit.Factor == 1)
            return DecimalText.Print(value, unit.Power) + " " + unit.Symbol;
        // An angle in degrees is not a decimal shift: take the degrees if some double near the quotient reads back exactly.
        double inUnit = value / unit.Factor;
        ReadOnlySpan<double> candidates =
        [
            Math.Round(inUnit, 9),
            inUnit,
            Math.BitIncrement(inUnit),
            Math.BitDecrement(inUnit),
            Math.BitIncrement(Math.BitIncrement(inUnit)),
            Math.BitDecrement(Math.BitDecrement(inUnit)),
        ];
        foreach (double candidate in candidates)
        {
            string text = DecimalText.Print(candidate, 0) + " " + unit.Symbol;
            if (double.IsFinite(candidate) && TryParse(text, dimension, out double back) && back == value)
                return text;
        }
        return DecimalText.Print(value, 0) + " rad";
    }

    /// <summary>Symbols of a dimension that the parser knows, the usual ones first.</summary>
    /// <param name="dimension">A dimension.</param>
    public static IReadOnlyList<string> UnitsOf(Dimension dimension) =>
        UnitTable.All.Where(unit => unit.Dimension == dimension).Select(unit => unit.Symbol).ToArray();

    /// <summary>A well-formed example of a dimension, for messages.</summary>
    /// <param name="dimension">A dimension.</param>
    public static string Example(Dimension dimension) =>
        dimension switch
        {
            Dimension.Time => "0.25 us",
            Dimension.Length => "8.6 mm",
            Dimension.Frequency => "7 MHz",
            Dimension.Velocity => "5920 m/s",
            Dimension.Temperature => "20 degC",
            Dimension.TemperatureDifference => "5 K",
            Dimension.VelocityPerKelvin => "-0.8 m/s/K",
            Dimension.Angle => "12 deg",
            Dimension.Fraction => "30 %",
            Dimension.Decibel => "-6 dB",
            Dimension.Density => "7850 kg/m3",
            Dimension.Attenuation => "0.01 dB/mm",
            Dimension.LengthPerYear => "0.2 mm/year",
            Dimension.Pressure => "5.8 MPa",
            _ => throw new ArgumentOutOfRangeException(nameof(dimension), dimension, "Not a dimension."),
        };

    /// <summary>A dimension in words, without article, for messages and reference pages.</summary>
    /// <param name="dimension">A dimension.</param>
    public static string NameOf(Dimension dimension) =>
        dimension switch
        {
            Dimension.Time => "time",
            Dimension.Length => "length",
            Dimension.Frequency => "frequency",
            Dimension.Velocity => "velocity",
            Dimension.Temperature => "temperature",
            Dimension.TemperatureDifference => "temperature difference",
            Dimension.VelocityPerKelvin => "velocity per kelvin",
            Dimension.Angle => "angle",
            Dimension.Fraction => "fraction",
            Dimension.Decibel => "level in decibels",
            Dimension.Density => "density",
            Dimension.Attenuation => "attenuation",
            Dimension.LengthPerYear => "length per year",
            Dimension.Pressure => "pressure",
            _ => throw new ArgumentOutOfRangeException(nameof(dimension), dimension, "Not a dimension."),
        };

    /// <summary>The dimension of a well-formed quantity of any dimension; null when the text is none.</summary>
    /// <param name="text">Number, optional spaces, unit.</param>
    public static Dimension? DimensionOf(string? text)
    {
        if (text is null)
            return null;
        string trimmed = text.Trim(' ');
        int length = DecimalText.NumberLength(trimmed);
        return length == 0 ? null : UnitTable.Find(trimmed[length..].TrimStart(' '))?.Dimension;
    }

    private static double Value(string text, string number, UnitDefinition unit)
    {
        if (!DecimalText.TryScale(number, unit.Power, out double value))
            throw new UnitException($"'{text}' is too large a number.", "write a number of ordinary size.");
        return value * unit.Factor + unit.Offset;
    }

    private static (string Number, string Symbol) Split(string text, Dimension dimension)
    {
        string trimmed = text.Trim(' ');
        string wanted = $"write {Indefinite(dimension)} such as \"{Example(dimension)}\".";
        if (trimmed.Length == 0)
            throw new UnitException("The quantity is empty.", wanted);
        if (trimmed.Contains(','))
            throw new UnitException(
                $"'{text}' contains a comma.",
                $"write a decimal point and no thousands separators, such as \"{Example(dimension)}\"."
            );
        if (trimmed.Any(c => c is '_' or '\''))
            throw new UnitException(
                $"'{text}' contains a thousands separator.",
                "write the digits without separators."
            );
        if (trimmed[0] is '\u2212' or '\u2013')
            throw new UnitException($"'{text}' begins with a typographic minus sign.", "write the minus sign as '-'.");
        int length = DecimalText.NumberLength(trimmed);
        if (length == 0)
            throw new UnitException($"'{text}' does not begin with a number.", wanted);
        return (trimmed[..length], trimmed[length..].TrimStart(' '));
    }

    private static string? CaseSibling(string symbol, Dimension dimension) =>
        UnitTable
            .All.Where(unit => unit.Dimension == dimension)
            .Select(unit => unit.Symbol)
            .FirstOrDefault(known => string.Equals(known, symbol, StringComparison.OrdinalIgnoreCase));

    private static string Indefinite(Dimension dimension) =>
        (dimension is Dimension.Angle or Dimension.Attenuation ? "an " : "a ") + NameOf(dimension);
}
