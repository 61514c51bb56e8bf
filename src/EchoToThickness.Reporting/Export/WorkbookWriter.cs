using System.Globalization;
using System.IO.Compression;
using System.Text;
using EchoToThickness.Components;
using EchoToThickness.Reporting.Figures;
using EchoToThickness.Statistics;
using EchoToThickness.Statistics.Describe;
using EchoToThickness.Statistics.Regions;

namespace EchoToThickness.Reporting.Export;

/// <summary>
/// Office Open XML workbook (ISO/IEC 29500): the map with cells coloured by wall (32 steps), regions, profiles. Written directly, without time stamps, so
/// that equal maps give equal bytes. A sheet holds 16 384 columns and 1 048 576 rows; a larger map is refused.
/// </summary>
internal static class WorkbookWriter
{
    private const int Steps = 32;
    private const int Sides = 16;
    private static readonly DateTimeOffset Epoch = new(1980, 1, 1, 0, 0, 0, TimeSpan.Zero);

    public static void Write(StitchedMap map, RegionMap? regions, ExportFacts facts, Stream stream)
    {
        if (map.Raster.AroundCount >= 16_384 || map.Raster.AlongCount >= 1_048_575)
            throw new ComponentException(
                $"The map has {map.Raster.AlongCount} x {map.Raster.AroundCount} cells.",
                "workbook",
                "export it as .npy or .csv, or choose a coarser pitch in [stitch]; a sheet holds 16 383 columns."
            );
        using var zip = new ZipArchive(stream, ZipArchiveMode.Create, leaveOpen: true);
        string[] sheets = ["Map", "Regions", "Profiles", "Histogram", "About"];
        const string main = "http://schemas.openxmlformats.org/spreadsheetml/2006/main";
        const string relations = "http://schemas.openxmlformats.org/officeDocument/2006/relationships";
        const string package = "http://schemas.openxmlformats.org/package/2006";
        Part(
            zip,
            "[Content_Types].xml",
            $"<Types xmlns=\"{package}/content-types\"><Default Extension=\"rels\" ContentType=\"application/vnd.openxmlformats-package.relationships+xml\"/><Override PartName=\"/xl/workbook.xml\" ContentType=\"application/vnd.openxmlformats-officedocument.spreadsheetml.sheet.main+xml\"/><Override PartName=\"/xl/styles.xml\" ContentType=\"application/vnd.openxmlformats-officedocument.spreadsheetml.styles+xml\"/>"
                + string.Concat(
                    sheets.Select(
                        (_, k) =>
                            $"<Override PartName=\"/xl/worksheets/sheet{k + 1}.xml\" ContentType=\"application/vnd.openxmlformats-officedocument.spreadsheetml.worksheet+xml\"/>"
                    )
                )
                + "</Types>"
        );
        Part(
            zip,
            "_rels/.rels",
            $"<Relationships xmlns=\"{package}/relationships\"><Relationship Id=\"rId1\" Type=\"{relations}/officeDocument\" Target=\"xl/workbook.xml\"/></Relationships>"
        );
        Part(
            zip,
            "xl/workbook.xml",
            $"<workbook xmlns=\"{main}\" xmlns:r=\"{relations}\"><sheets>"
                + string.Concat(
                    sheets.Select((s, k) => $"<sheet name=\"{s}\" sheetId=\"{k + 1}\" r:id=\"rId{k + 1}\"/>")
                )
                + "</sheets></workbook>"
        );
        Part(
            zip,
            "xl/_rels/workbook.xml.rels",
            $"<Relationships xmlns=\"{package}/relationships\">"
                + string.Concat(
                    sheets.Select(
                        (_, k) =>
                            $"<Relationship Id=\"rId{k + 1}\" Type=\"{relations}/worksheet\" Target=\"worksheets/sheet{k + 1}.xml\"/>"
                    )
                )
                + $"<Relationship Id=\"rId9\" Type=\"{relations}/styles\" Target=\"styles.xml\"/></Relationships>"
        );
        Part(zip, "xl/styles.xml", Styles(main));
        Sheet(zip, 1, main, MapRows(map, regions?.Labels.ToArray()));
        Sheet(zip, 2, main, RegionRows(regions));
        Sheet(zip, 3, main, ProfileRows(map));
        Sheet(zip, 4, main, HistogramRows(map));
        Sheet(
            zip,
            5,
            main,
            AboutRows(map, facts),
            "<cols><col min=\"1\" max=\"1\" width=\"24\" customWidth=\"1\"/></cols>"
        );
    }

    private static string Styles(string main)
    {
        var colours = new WallColours();
        var fills = new StringBuilder(
            "<fill><patternFill patternType=\"none\"/></fill><fill><patternFill patternType=\"gray125\"/></fill>"
        );
        var formats = new StringBuilder(
            "<xf numFmtId=\"0\" fontId=\"0\" fillId=\"0\" borderId=\"0\"/><xf numFmtId=\"2\" fontId=\"0\" fillId=\"0\" borderId=\"0\" applyNumberFormat=\"1\"/>"
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
        return $"<styleSheet xmlns=\"{main}\"><fonts count=\"2\"><font><sz val=\"9\"/><name val=\"Calibri\"/></font><font><sz val=\"9\"/><color rgb=\"FFFFFFFF\"/><name val=\"Calibri\"/></font></fonts><fills count=\"{Steps + 2}\">{fills}</fills><borders count=\"{Sides}\">{borders}</borders><cellStyleXfs count=\"1\"><xf/></cellStyleXfs><cellXfs count=\"{2 + (Steps + 1) * Sides}\">{formats}</cellXfs></styleSheet>";
    }

    private static IEnumerable<IEnumerable<(object? Value, int Style)>> MapRows(StitchedMap map, int[]? labels)
    {
        MapRaster raster = map.Raster;
        (double low, double range) = Scale(map);
        yield return Enumerable
            .Range(0, raster.AroundCount)
            .Select(j => ((object?)(raster.AroundMetres(j) * 1e3), 1))
            .Prepend(("wall in mm; along mm down, around mm across", 0));
        for (int i = 0; i < raster.AlongCount; i++)
        {
            int row = i;
            yield return Enumerable
                .Range(0, raster.AroundCount)
                .Select(j =>
                {
                    double wall = map.ThicknessMetres[row * raster.AroundCount + j];
                    return double.IsNaN(wall)
                        ? ((object?)null, 2 + Steps * Sides + Outline(raster, labels, row, j))
                        : (
                            wall * 1e3,
                            2
                                + Math.Min(Steps - 1, (int)((wall - low) / range * Steps)) * Sides
                                + Outline(raster, labels, row, j)
                        );
                })
                .Prepend((raster.AlongMetres(i) * 1e3, 1));
        }
    }

    private static (double Low, double Range) Scale(StitchedMap map)
    {
        double[] walls = [.. map.ThicknessMetres.Where(double.IsFinite)];
        double low = walls.Length > 0 ? walls.Min() : 0;
        return (low, walls.Length > 0 ? Math.Max(1e-12, walls.Max() - low) : 1);
    }

    /// <summary>Sides of a cell on which its region ends; bits left, right, top, bottom.</summary>
    private static int Outline(MapRaster raster, int[]? labels, int i, int j)
    {
        int n = raster.AroundCount;
        if (labels is null || labels[i * n + j] == 0)
            return 0;
        bool Ends(int row, int column)
        {
            if (raster.Surface.IsClosed)
                column = (column + n) % n;
            return row < 0
                || row >= raster.AlongCount
                || column < 0
                || column >= n
                || labels[row * n + column] != labels[i * n + j];
        }
        return (Ends(i, j - 1) ? 1 : 0)
            | (Ends(i, j + 1) ? 2 : 0)
            | (Ends(i - 1, j) ? 4 : 0)
            | (Ends(i + 1, j) ? 8 : 0);
    }

    private static IEnumerable<IEnumerable<(object? Value, int Style)>> HistogramRows(StitchedMap map)
    {
        yield return Texts("from_mm", "to_mm", "cells", "area_mm2");
        (double low, double range) = Scale(map);
        double width = ColourBar.NiceStep(Math.Max(range * 1e3 / 40, 1e-3));
        long Bin(double wall) => (long)Math.Floor(wall * 1e3 / width);
        foreach (
            IGrouping<long, int> bin in Enumerable
                .Range(0, map.Raster.Count)
                .Where(c => double.IsFinite(map.ThicknessMetres[c]))
                .GroupBy(c => Bin(map.ThicknessMetres[c]))
                .OrderBy(g => g.Key)
        )
            yield return
            [
                (bin.Key * width, 1),
                ((bin.Key + 1) * width, 1),
                (bin.Count(), 0),
                (bin.Sum(c => map.AreaSquareMetres[c]) * 1e6, 1),
            ];
    }

    private static IEnumerable<IEnumerable<(object? Value, int Style)>> AboutRows(StitchedMap map, ExportFacts facts)
    {
        yield return Texts("fact", "value");
        foreach ((string name, string value) in facts.Lines)
            yield return Texts(name, value);
        (double low, double range) = Scale(map);
        yield return [("no wall measured", 0), (null, 2 + Steps * Sides)];
        for (int k = 0; k < Steps; k += 4)
            yield return [("colour scale, mm", 0), ((low + (k + 0.5) / Steps * range) * 1e3, 2 + k * Sides)];
        foreach (
            IGrouping<Pairing.CellStatus, Pairing.CellStatus> group in map.Status.GroupBy(s => s).OrderBy(g => g.Key)
        )
            yield return [("cells, " + Ink.Words(group.Key), 0), (group.Count(), 0)];
    }

    private static IEnumerable<IEnumerable<(object? Value, int Style)>> RegionRows(RegionMap? regions)
    {
        yield return Texts(
            "number",
            "kind",
            "smallest_mm",
            "uncertainty_mm",
            "depth_mm",
            "mean_mm",
            "length_mm",
            "width_mm",
            "area_mm2",
            "volume_mm3",
            "along_mm",
            "around_mm",
            "cells",
            "open_cells"
        );
        foreach (ThinRegion r in regions?.Regions ?? [])
            yield return
            [
                (r.Number, 0),
                (r.Kind.ToString(), 0),
                .. (
                    (double[])
                        [
                            r.SmallestWallMetres * 1e3,
                            r.SmallestWallUncertaintyMetres * 1e3,
                            r.DepthMetres * 1e3,
                            r.MeanWallMetres * 1e3,
                            r.LengthMetres * 1e3,
                            r.WidthMetres * 1e3,
                            r.AreaSquareMetres * 1e6,
                            r.VolumeCubicMetres * 1e9,
                            r.CentroidAlongMetres * 1e3,
                            r.CentroidAroundMetres * 1e3,
                        ]
                ).Select(v => ((object?)v, 1)),
                (r.Cells, 0),
                (r.OpenCells, 0),
            ];
    }

    private static IEnumerable<IEnumerable<(object? Value, int Style)>> ProfileRows(StitchedMap map)
    {
        ThicknessMap thickness = map.ToThicknessMap();
        SmallestWallProfile along = MapDescriber.Profile(thickness, true);
        SmallestWallProfile around = MapDescriber.Profile(thickness, false);
        yield return Texts(
            "along_mm",
            "smallest_mm",
            "uncertainty_mm",
            "",
            "around_mm",
            "smallest_mm",
            "uncertainty_mm"
        );
        int rows = Math.Max(along.PositionsMetres.Count, around.PositionsMetres.Count);
        for (int k = 0; k < rows; k++)
            yield return [.. Row(along, k), (null, 0), .. Row(around, k)];
    }

    private static IEnumerable<(object? Value, int Style)> Row(SmallestWallProfile profile, int k) =>
        k >= profile.PositionsMetres.Count
            ? [(null, 0), (null, 0), (null, 0)]
            :
            [
                (profile.PositionsMetres[k] * 1e3, 1),
                (profile.ThicknessMetres[k] * 1e3, 1),
                (profile.UncertaintyMetres[k] * 1e3, 1),
            ];

    private static IEnumerable<(object? Value, int Style)> Texts(params string[] words) =>
        words.Select(w => ((object?)w, 0));

    private static void Sheet(
        ZipArchive zip,
        int number,
        string main,
        IEnumerable<IEnumerable<(object? Value, int Style)>> rows,
        string columns = ""
    )
    {
        using Stream stream = Entry(zip, $"xl/worksheets/sheet{number}.xml").Open();
        using var writer = new StreamWriter(stream, new UTF8Encoding(false));
        writer.Write(
            $"<?xml version=\"1.0\" encoding=\"UTF-8\" standalone=\"yes\"?><worksheet xmlns=\"{main}\"><sheetViews><sheetView workbookViewId=\"0\"><pane xSplit=\"1\" ySplit=\"1\" topLeftCell=\"B2\" activePane=\"bottomRight\" state=\"frozen\"/></sheetView></sheetViews><sheetFormatPr defaultRowHeight=\"13\"/>{columns}<sheetData>"
        );
        int r = 0;
        foreach (IEnumerable<(object? Value, int Style)> row in rows)
        {
            r++;
            writer.Write(string.Create(CultureInfo.InvariantCulture, $"<row r=\"{r}\">"));
            int c = 0;
            foreach ((object? value, int style) in row)
            {
                string at = Column(c++) + r.ToString(CultureInfo.InvariantCulture);
                if (value is string text)
                    writer.Write(
                        $"<c r=\"{at}\" s=\"{style}\" t=\"inlineStr\"><is><t>{System.Security.SecurityElement.Escape(text)}</t></is></c>"
                    );
                else if (value is double real && !double.IsFinite(real) || value is null)
                    writer.Write(style == 0 ? "" : $"<c r=\"{at}\" s=\"{style}\"/>");
                else
                    writer.Write(
                        $"<c r=\"{at}\" s=\"{style}\"><v>{Convert.ToDouble(value, CultureInfo.InvariantCulture).ToString("R", CultureInfo.InvariantCulture)}</v></c>"
                    );
            }
            writer.Write("</row>");
        }
        writer.Write("</sheetData></worksheet>");
    }

    private static string Column(int index)
    {
        string name = "";
        for (int k = index + 1; k > 0; k = (k - 1) / 26)
            name = (char)('A' + (k - 1) % 26) + name;
        return name;
    }

    private static void Part(ZipArchive zip, string name, string content)
    {
        using Stream stream = Entry(zip, name).Open();
        stream.Write(Encoding.UTF8.GetBytes("<?xml version=\"1.0\" encoding=\"UTF-8\" standalone=\"yes\"?>" + content));
    }

    private static ZipArchiveEntry Entry(ZipArchive zip, string name)
    {
        ZipArchiveEntry entry = zip.CreateEntry(name, CompressionLevel.Optimal);
        entry.LastWriteTime = Epoch;
        return entry;
    }
}
