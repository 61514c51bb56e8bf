using ScottPlot;

namespace EchoToThickness.Reporting.Figures;

/// <summary>A dashed line drawn dash by dash: the drawing library leaves line patterns out of SVG files.</summary>
internal static class DashedLine
{
    /// <summary>Adds the dashes to a plot.</summary>
    /// <param name="plot">The plot.</param>
    /// <param name="points">Corners of the line.</param>
    /// <param name="scale">Units of the sheet for one unit of each axis.</param>
    /// <param name="dash">Length of a dash, units of the sheet.</param>
    /// <param name="gap">Length of a gap.</param>
    /// <param name="colour">Colour.</param>
    /// <param name="width">Width.</param>
    public static void Add(
        Plot plot,
        IReadOnlyList<Coordinates> points,
        DashScale scale,
        double dash,
        double gap,
        Color colour,
        float width
    )
    {
        // Where in the pattern the line is; a dash goes on around a corner.
        double phase = 0;
        for (int i = 1; i < points.Count; i++)
        {
            (Coordinates from, Coordinates to) = (points[i - 1], points[i]);
            double length = Math.Sqrt(Math.Pow((to.X - from.X) * scale.X, 2) + Math.Pow((to.Y - from.Y) * scale.Y, 2));
            for (double at = 0; at < length; )
            {
                bool drawn = phase < dash;
                double end = Math.Min(length, at + (drawn ? dash : dash + gap) - phase);
                if (drawn)
                {
                    Coordinates Along(double distance) =>
                        new(from.X + (to.X - from.X) * distance / length, from.Y + (to.Y - from.Y) * distance / length);
                    plot.Add.Line(Along(at), Along(end)).LineStyle = new LineStyle(width, colour);
                }
                phase += end - at;
                if (phase >= dash + gap - 1e-9)
                    phase = 0;
                else if (drawn && phase >= dash - 1e-9)
                    phase = dash;
                // A step too small to count would never end.
                at = Math.Max(end, at + 1e-6);
            }
        }
    }
}
