using EchoToThickness.Components;
using EchoToThickness.Reporting.Figures;
using EchoToThickness.Statistics;
using EchoToThickness.Statistics.Describe;
using EchoToThickness.Statistics.Regions;

namespace EchoToThickness.Reporting.Export;

/// <summary>What stands on each sheet of the workbook, row by row, so that no sheet is held in memory.</summary>
internal static class WorkbookRows
{
    /// <summary>Walls in mm, along down, around across, coloured by wall, regions outlined.</summary>
    public static IEnumerable<IEnumerable<SheetCell>> Map(StitchedMap map, int[]? labels)
    {
        MapRaster raster = map.Raster;
        (double low, double range) = Scale(map);
        yield return Enumerable
            .Range(0, raster.AroundCount)
            .Select(j => Millimetres(raster.AroundMetres(j)))
            .Prepend(new SheetCell("wall in mm; along mm down, around mm across"));
        for (int i = 0; i < raster.AlongCount; i++)
        {
            int row = i;
            yield return Enumerable
                .Range(0, raster.AroundCount)
                .Select(j => Wall(map.ThicknessMetres[row * raster.AroundCount + j], Outline(raster, labels, row, j)))
                .Prepend(Millimetres(raster.AlongMetres(i)));
        }

        SheetCell Wall(double wall, int outline) =>
            double.IsNaN(wall)
                ? new SheetCell(null, WorkbookStyles.Missing(outline))
                : new SheetCell(
                    wall * 1e3,
                    WorkbookStyles.Wall(
                        Math.Min(WorkbookStyles.Steps - 1, (int)((wall - low) / range * WorkbookStyles.Steps)),
                        outline
                    )
                );
    }

    private static SheetCell Millimetres(double metres) => new(metres * 1e3, WorkbookStyles.TwoDecimals);

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

    /// <summary>Cells and area by wall, in steps of a round width.</summary>
    public static IEnumerable<IEnumerable<SheetCell>> Histogram(StitchedMap map)
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
                new(bin.Key * width, WorkbookStyles.TwoDecimals),
                new((bin.Key + 1) * width, WorkbookStyles.TwoDecimals),
                new(bin.Count()),
                new(bin.Sum(c => map.AreaSquareMetres[c]) * 1e6, WorkbookStyles.TwoDecimals),
            ];
    }

    /// <summary>Facts, the colour scale, and how many cells have which status.</summary>
    public static IEnumerable<IEnumerable<SheetCell>> About(StitchedMap map, ExportFacts facts)
    {
        yield return Texts("fact", "value");
        foreach ((string name, string value) in facts.Lines)
            yield return Texts(name, value);
        (double low, double range) = Scale(map);
        yield return [new("no wall measured"), new(null, WorkbookStyles.Missing())];
        for (int k = 0; k < WorkbookStyles.Steps; k += 4)
            yield return
            [
                new("colour scale, mm"),
                new((low + (k + 0.5) / WorkbookStyles.Steps * range) * 1e3, WorkbookStyles.Wall(k)),
            ];
        foreach (
            IGrouping<Pairing.CellStatus, Pairing.CellStatus> group in map.Status.GroupBy(s => s).OrderBy(g => g.Key)
        )
            yield return [new("cells, " + Ink.Words(group.Key)), new(group.Count())];
    }

    /// <summary>A row a region.</summary>
    public static IEnumerable<IEnumerable<SheetCell>> Regions(RegionMap? regions)
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
                new(r.Number),
                new(r.Kind.ToString()),
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
                ).Select(
                    (v, k) => new SheetCell(v, k == 1 ? WorkbookStyles.ThreeDecimals : WorkbookStyles.TwoDecimals)
                ),
                new(r.Cells),
                new(r.OpenCells),
            ];
    }

    /// <summary>Smallest wall along and around, side by side.</summary>
    public static IEnumerable<IEnumerable<SheetCell>> Profiles(StitchedMap map)
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
            yield return [.. Row(along, k), default, .. Row(around, k)];
    }

    private static IEnumerable<SheetCell> Row(SmallestWallProfile profile, int k) =>
        k >= profile.PositionsMetres.Count
            ? [default, default, default]
            :
            [
                Millimetres(profile.PositionsMetres[k]),
                Millimetres(profile.ThicknessMetres[k]),
                new(profile.UncertaintyMetres[k] * 1e3, WorkbookStyles.ThreeDecimals),
            ];

    private static IEnumerable<SheetCell> Texts(params string[] words) => words.Select(w => new SheetCell(w));
}
