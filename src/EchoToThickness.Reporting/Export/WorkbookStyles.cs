using System.Globalization;
using System.Text;
using EchoToThickness.Reporting.Figures;

namespace EchoToThickness.Reporting.Export;

/// <summary>Formats of the workbook's cells: plain, two and three decimals, then every step of the colour scale and "no wall", each with every set of outlined sides.</summary>
internal static class WorkbookStyles
{
    /// <summary>Steps of the colour scale.</summary>
    public const int Steps = 32;

    /// <summary>Format of a number with two decimals.</summary>
    public const int TwoDecimals = 1;

    /// <summary>Format of a number with three decimals.</summary>
    public const int ThreeDecimals = 2;

    private const int Sides = 16;

    /// <summary>Format of a wall.</summary>
    /// <param name="step">Step of the colour scale, from the thinnest.</param>
    /// <param name="outline">Sides on which a region ends; bits left, right, top, bottom.</param>
    public static int Wall(int step, int outline = 0) => 3 + step * Sides + outline;

    /// <summary>Format of a cell without a wall: hatched.</summary>
    /// <param name="outline">Sides on which a region ends; bits left, right, top, bottom.</param>
    public static int Missing(int outline = 0) => Wall(Steps, outline);

    /// <summary>The part <c>xl/styles.xml</c>.</summary>
    public static string Part(string main)
    {
        var colours = new WallColours();
        var fills = new StringBuilder(
            "<fill><patternFill patternType=\"none\"/></fill><fill><patternFill patternType=\"gray125\"/></fill>"
        );
        var formats = new StringBuilder(
            "<xf numFmtId=\"0\" fontId=\"0\" fillId=\"0\" borderId=\"0\"/><xf numFmtId=\"2\" fontId=\"0\" fillId=\"0\" borderId=\"0\" applyNumberFormat=\"1\"/><xf numFmtId=\"164\" fontId=\"0\" fillId=\"0\" borderId=\"0\" applyNumberFormat=\"1\"/>"
        );
        for (int k = 0; k < Steps; k++)
        {
            double place = (k + 0.5) / Steps;
            ScottPlot.Color c = colours.GetColor(place);
            fills.Append(
                CultureInfo.InvariantCulture,
                $"<fill><patternFill patternType=\"solid\"><fgColor rgb=\"FF{c.R:X2}{c.G:X2}{c.B:X2}\"/></patternFill></fill>"
            );
            // Dark walls take white figures.
            for (int sides = 0; sides < Sides; sides++)
                formats.Append(
                    CultureInfo.InvariantCulture,
                    $"<xf numFmtId=\"2\" fontId=\"{(place > 0.5 ? 1 : 0)}\" fillId=\"{k + 2}\" borderId=\"{sides}\" applyNumberFormat=\"1\" applyFill=\"1\" applyFont=\"1\" applyBorder=\"1\"/>"
                );
        }
        // Missing: hatched grey.
        for (int sides = 0; sides < Sides; sides++)
            formats.Append(
                CultureInfo.InvariantCulture,
                $"<xf numFmtId=\"0\" fontId=\"0\" fillId=\"1\" borderId=\"{sides}\" applyFill=\"1\" applyBorder=\"1\"/>"
            );
        // Outlines of regions: every set of sides; bits left, right, top, bottom.
        string borders = string.Concat(
            Enumerable
                .Range(0, Sides)
                .Select(sides =>
                    "<border>"
                    + string.Concat(
                        ((string[])["left", "right", "top", "bottom"]).Select(
                            (side, bit) =>
                                (sides >> bit & 1) == 1
                                    ? $"<{side} style=\"medium\"><color rgb=\"FF000000\"/></{side}>"
                                    : $"<{side}/>"
                        )
                    )
                    + "<diagonal/></border>"
                )
        );
        return $"<styleSheet xmlns=\"{main}\"><numFmts count=\"1\"><numFmt numFmtId=\"164\" formatCode=\"0.000\"/></numFmts><fonts count=\"2\"><font><sz val=\"9\"/><name val=\"Calibri\"/></font><font><sz val=\"9\"/><color rgb=\"FFFFFFFF\"/><name val=\"Calibri\"/></font></fonts><fills count=\"{Steps + 2}\">{fills}</fills><borders count=\"{Sides}\">{borders}</borders><cellStyleXfs count=\"1\"><xf/></cellStyleXfs><cellXfs count=\"{3 + (Steps + 1) * Sides}\">{formats}</cellXfs></styleSheet>";
    }
}
