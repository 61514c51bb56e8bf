using EchoToThickness.Units;

namespace EchoToThickness.Storage.Describe;

/// <summary>Reads units off names (<c>t0_s</c>, <c>sampling MHz</c>, <c>velocity_mm_per_us</c>), or off the size of the number.</summary>
internal static class UnitGuess
{
    private static readonly (string Suffix, string Unit)[] Suffixes =
    [
        ("mm_per_us", "mm/us"),
        ("mm_us", "mm/us"),
        ("km_per_s", "km/s"),
        ("km_s", "km/s"),
        ("m_per_s", "m/s"),
        ("m_s", "m/s"),
        ("mps", "m/s"),
        ("ghz", "GHz"),
        ("mhz", "MHz"),
        ("khz", "kHz"),
        ("hz", "Hz"),
        ("ns", "ns"),
        ("us", "us"),
        ("usec", "us"),
        ("ms", "ms"),
        ("sec", "s"),
        ("s", "s"),
        ("mm", "mm"),
        ("um", "um"),
        ("cm", "cm"),
        ("inch", "in"),
        ("in", "in"),
        ("m", "m"),
        ("db", "dB"),
        ("degc", "degC"),
        ("deg", "deg"),
    ];

    /// <summary>Small letters, everything else underscores.</summary>
    public static string Normal(string name) =>
        new string([
            .. name.ToLowerInvariant()
                .Replace("µ", "u", StringComparison.Ordinal)
                .Select(c => char.IsAsciiLetterOrDigit(c) ? c : '_'),
        ]).Trim('_');

    /// <summary>A unit at the end of a name, if it is one of the dimension.</summary>
    public static string? FromName(string name, Dimension dimension)
    {
        string normal = "_" + Normal(name);
        foreach ((string suffix, string unit) in Suffixes)
        {
            if (
                normal.EndsWith("_" + suffix, StringComparison.Ordinal)
                && UnitText.TryParse("1 " + unit, dimension, out _)
            )
                return unit;
        }
        return null;
    }

    /// <summary>The first unit that brings the value into the range of the trade; null when none does.</summary>
    public static string? FromSize(double value, Dimension dimension, double low, double high)
    {
        string[] order = dimension switch
        {
            Dimension.Frequency => ["Hz", "MHz", "kHz"],
            Dimension.Time => ["s", "us", "ns"],
            Dimension.Length => ["mm", "m", "um"],
            Dimension.Velocity => ["m/s", "mm/us"],
            Dimension.Decibel => ["dB"],
            Dimension.Temperature => ["degC"],
            _ => [],
        };
        foreach (string unit in order)
        {
            double si = value * UnitText.Parse("1 " + unit, dimension);
            if (dimension == Dimension.Temperature)
                si = value;
            if (Math.Abs(si) >= low && Math.Abs(si) <= high)
                return unit;
        }
        return null;
    }
}
