namespace EchoToThickness.Units;

/// <summary>The dimension a quantity in a procedure or layout map must have. Values inside the library are SI.</summary>
public enum Dimension
{
    /// <summary>Seconds.</summary>
    Time,

    /// <summary>Metres.</summary>
    Length,

    /// <summary>Hertz.</summary>
    Frequency,

    /// <summary>Metres per second.</summary>
    Velocity,

    /// <summary>Degrees Celsius (a point on the scale).</summary>
    Temperature,

    /// <summary>Kelvin (a difference); written <c>"5 K"</c>.</summary>
    TemperatureDifference,

    /// <summary>Metres per second and kelvin.</summary>
    VelocityPerKelvin,

    /// <summary>Radians; written in degrees or radians.</summary>
    Angle,

    /// <summary>A plain fraction; written <c>"30 %"</c>.</summary>
    Fraction,

    /// <summary>Decibels of amplitude.</summary>
    Decibel,

    /// <summary>Kilograms per cubic metre.</summary>
    Density,

    /// <summary>Decibels of amplitude per metre of path.</summary>
    Attenuation,

    /// <summary>Metres per year.</summary>
    LengthPerYear,

    /// <summary>Pascals.</summary>
    Pressure,
}
