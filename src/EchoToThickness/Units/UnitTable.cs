namespace EchoToThickness.Units;

/// <summary>The whitelist of units. The first symbols of a dimension are the ones printed.</summary>
internal static class UnitTable
{
    private const double Degree = Math.PI / 180;

    /// <summary>1 inch = 25.4 mm exactly (international yard and pound agreement, 1959).</summary>
    private const double Inch = 0.0254;

    /// <summary>All units; within a dimension the order in which messages name them.</summary>
    public static readonly UnitDefinition[] All =
    [
        new("us", Dimension.Time, -6),
        new("ns", Dimension.Time, -9),
        new("ps", Dimension.Time, -12),
        new("ms", Dimension.Time, -3),
        new("s", Dimension.Time, 0),
        new("\u00B5s", Dimension.Time, -6),
        new("\u03BCs", Dimension.Time, -6),
        new("mm", Dimension.Length, -3),
        new("um", Dimension.Length, -6),
        new("nm", Dimension.Length, -9),
        new("cm", Dimension.Length, -2),
        new("m", Dimension.Length, 0),
        new("in", Dimension.Length, 0, Inch),
        new("\u00B5m", Dimension.Length, -6),
        new("\u03BCm", Dimension.Length, -6),
        new("MHz", Dimension.Frequency, 6),
        new("kHz", Dimension.Frequency, 3),
        new("Hz", Dimension.Frequency, 0),
        new("GHz", Dimension.Frequency, 9),
        new("MS/s", Dimension.Frequency, 6),
        new("kS/s", Dimension.Frequency, 3),
        new("S/s", Dimension.Frequency, 0),
        new("GS/s", Dimension.Frequency, 9),
        new("m/s", Dimension.Velocity, 0),
        new("km/s", Dimension.Velocity, 3),
        new("mm/us", Dimension.Velocity, 3),
        new("mm/\u00B5s", Dimension.Velocity, 3),
        new("mm/\u03BCs", Dimension.Velocity, 3),
        new("in/us", Dimension.Velocity, 6, Inch),
        new("degC", Dimension.Temperature, 0),
        new("\u00B0C", Dimension.Temperature, 0),
        new("degF", Dimension.Temperature, 0, 5.0 / 9.0, -160.0 / 9.0),
        new("K", Dimension.TemperatureDifference, 0),
        new("mK", Dimension.TemperatureDifference, -3),
        new("m/s/K", Dimension.VelocityPerKelvin, 0),
        new("deg", Dimension.Angle, 0, Degree),
        new("\u00B0", Dimension.Angle, 0, Degree),
        new("rad", Dimension.Angle, 0),
        new("%", Dimension.Fraction, -2),
        new("ppm", Dimension.Fraction, -6),
        new("dB", Dimension.Decibel, 0),
        new("kg/m3", Dimension.Density, 0),
        new("g/cm3", Dimension.Density, 3),
        new("dB/mm", Dimension.Attenuation, 3),
        new("dB/m", Dimension.Attenuation, 0),
        new("mm/year", Dimension.LengthPerYear, -3),
        new("um/year", Dimension.LengthPerYear, -6),
        new("MPa", Dimension.Pressure, 6),
        new("bar", Dimension.Pressure, 5),
        new("kPa", Dimension.Pressure, 3),
        new("Pa", Dimension.Pressure, 0),
    ];

    /// <summary>The unit in which a value of a dimension is printed, by its size.</summary>
    public static UnitDefinition ForPrinting(Dimension dimension, double value)
    {
        double size = Math.Abs(value);
        string symbol = dimension switch
        {
            Dimension.Time => size < 1e-9 && size > 0 ? "ps"
            : size < 1e-7 && size > 0 ? "ns"
            : "us",
            Dimension.Length => size < 1e-4 && size > 0 ? "um"
            : size >= 10 ? "m"
            : "mm",
            Dimension.Frequency => size is >= 1e5 or 0 ? "MHz"
            : size < 100 ? "Hz"
            : "kHz",
            Dimension.Velocity => "m/s",
            Dimension.Temperature => "degC",
            Dimension.TemperatureDifference => "K",
            Dimension.VelocityPerKelvin => "m/s/K",
            Dimension.Angle => "deg",
            Dimension.Fraction => "%",
            Dimension.Decibel => "dB",
            Dimension.Density => "kg/m3",
            Dimension.Attenuation => "dB/mm",
            Dimension.LengthPerYear => "mm/year",
            Dimension.Pressure => "MPa",
            _ => throw new ArgumentOutOfRangeException(nameof(dimension), dimension, "Not a dimension."),
        };
        return Find(symbol, dimension)!.Value;
    }

    /// <summary>A unit of a dimension, or null.</summary>
    public static UnitDefinition? Find(string symbol, Dimension dimension)
    {
        foreach (UnitDefinition unit in All)
            if (unit.Dimension == dimension && unit.Symbol == symbol)
                return unit;
        return null;
    }

    /// <summary>A unit of any dimension, or null.</summary>
    public static UnitDefinition? Find(string symbol)
    {
        foreach (UnitDefinition unit in All)
            if (unit.Symbol == symbol)
                return unit;
        return null;
    }
}
