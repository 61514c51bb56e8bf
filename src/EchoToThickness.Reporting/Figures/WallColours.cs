using ScottPlot;

namespace EchoToThickness.Reporting.Figures;

/// <summary>
/// The colour scale of thickness: 0 (thin) is light yellow, 1 (thick) is dark blue, and lightness falls evenly in between. Equal steps of
/// wall look equally large, a grey print keeps the order, and so does every kind of colour blindness, because the order is in lightness.
/// </summary>
/// <remarks>
/// Straight lines in OKLab (B. Ottosson, "A perceptual color space for image processing", 2020) through three colours with equal steps of
/// lightness; conversion to sRGB by IEC 61966-2-1.
/// </remarks>
public sealed class WallColours : IColormap
{
    // Lightness, green-red, blue-yellow: thin, middle, thick.
    private static readonly (double L, double A, double B)[] Stops =
    [
        (0.94, -0.020, 0.130),
        (0.62, 0.095, 0.010),
        (0.30, 0.005, -0.120),
    ];

    /// <inheritdoc/>
    public string Name => "wall";

    /// <inheritdoc/>
    public Color GetColor(double position)
    {
        double scaled = Math.Clamp(double.IsNaN(position) ? 0 : position, 0, 1) * (Stops.Length - 1);
        int stop = Math.Min((int)scaled, Stops.Length - 2);
        double part = scaled - stop;
        (double L, double A, double B) from = Stops[stop];
        (double L, double A, double B) to = Stops[stop + 1];
        return FromOkLab(
            from.L + part * (to.L - from.L),
            from.A + part * (to.A - from.A),
            from.B + part * (to.B - from.B)
        );
    }

    private static Color FromOkLab(double lightness, double greenRed, double blueYellow)
    {
        double l = Cube(lightness + 0.3963377774 * greenRed + 0.2158037573 * blueYellow);
        double m = Cube(lightness - 0.1055613458 * greenRed - 0.0638541728 * blueYellow);
        double s = Cube(lightness - 0.0894841775 * greenRed - 1.2914855480 * blueYellow);
        return new Color(
            Channel(4.0767416621 * l - 3.3077115913 * m + 0.2309699292 * s),
            Channel(-1.2684380046 * l + 2.6097574011 * m - 0.3413193965 * s),
            Channel(-0.0041960863 * l - 0.7034186147 * m + 1.7076147010 * s)
        );
    }

    private static double Cube(double value) => value * value * value;

    private static byte Channel(double linear)
    {
        double encoded = linear <= 0.0031308 ? 12.92 * linear : 1.055 * Math.Pow(linear, 1 / 2.4) - 0.055;
        return (byte)Math.Round(255 * Math.Clamp(encoded, 0, 1));
    }
}
