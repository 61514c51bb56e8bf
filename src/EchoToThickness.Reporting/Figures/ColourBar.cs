using System.Globalization;
using ScottPlot;

namespace EchoToThickness.Reporting.Figures;

/// <summary>Draws a colour scale with round numbers beside it.</summary>
internal static class ColourBar
{
    private const int Bands = 128;

    public static void Draw(
        FigureSheet sheet,
        PixelRect place,
        IColormap colours,
        double low,
        double high,
        string label,
        double? limit
    )
    {
        float band = place.Height / Bands;
        for (int i = 0; i < Bands; i++)
            sheet.Rectangle(
                place.Left,
                place.Bottom - (i + 1) * band,
                place.Width,
                band + 0.5f,
                colours.GetColor((i + 0.5) / Bands)
            );
        sheet.Lines(
            [
                (place.Left, place.Top, place.Right, place.Top),
                (place.Right, place.Top, place.Right, place.Bottom),
                (place.Right, place.Bottom, place.Left, place.Bottom),
                (place.Left, place.Bottom, place.Left, place.Top),
            ],
            Ink.Text,
            1
        );
        double step = NiceStep((high - low) / 6);
        int decimals = Math.Max(0, (int)Math.Ceiling(-Math.Log10(step) - 1e-9));
        for (double tick = Math.Ceiling(low / step - 1e-9) * step; tick <= high + 1e-9 * step; tick += step)
        {
            float y = place.Bottom - (float)((tick - low) / (high - low)) * place.Height;
            sheet.Lines([(place.Right, y, place.Right + 5, y)], Ink.Text, 1);
            sheet.Text(tick.ToString("F" + decimals, CultureInfo.InvariantCulture), place.Right + 9, y + 5, Ink.Text);
        }
        sheet.Text(label, place.Left, place.Top - 14, Ink.Text, FigureSheet.TextSize + 1);
        if (limit is { } value && value >= low && value <= high)
        {
            float y = place.Bottom - (float)((value - low) / (high - low)) * place.Height;
            sheet.Lines([(place.Left - 8, y, place.Right, y)], Ink.Limit, 2.5f);
        }
    }

    /// <summary>1, 2 or 5 times a power of ten, not smaller than a step.</summary>
    public static double NiceStep(double step)
    {
        double power = Math.Pow(10, Math.Floor(Math.Log10(step)));
        double factor = step / power;
        return power
            * (
                factor <= 1 ? 1
                : factor <= 2 ? 2
                : factor <= 5 ? 5
                : 10
            );
    }
}
