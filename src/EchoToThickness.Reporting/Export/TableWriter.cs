using System.Globalization;
using EchoToThickness.Components;
using EchoToThickness.Statistics.Regions;

namespace EchoToThickness.Reporting.Export;

/// <summary>Maps as lines of text: comma-separated values, and the ASCII grid of geographic programs.</summary>
internal static class TableWriter
{
    /// <summary>Comma-separated values: a row a cell, or a matrix of walls.</summary>
    public static void Csv(StitchedMap map, RegionMap? regions, bool matrix, TextWriter writer)
    {
        MapRaster raster = map.Raster;
        if (matrix)
        {
            writer.Write("along_mm\\around_mm");
            for (int j = 0; j < raster.AroundCount; j++)
                writer.Write("," + Mm(raster.AroundMetres(j)));
            writer.Write('\n');
            for (int i = 0; i < raster.AlongCount; i++)
            {
                writer.Write(Mm(raster.AlongMetres(i)));
                for (int j = 0; j < raster.AroundCount; j++)
                    writer.Write("," + Mm(map.ThicknessMetres[i * raster.AroundCount + j]));
                writer.Write('\n');
            }
            return;
        }
        writer.Write(
            "along_mm,around_mm,bend_deg,girth_deg,thickness_mm,smallest_mm,uncertainty_mm,wrong_echo_probability,area_mm2,contributors,region,status\n"
        );
        for (int cell = 0; cell < raster.Count; cell++)
        {
            SurfacePlace place = raster.PlaceOf(cell);
            string[] fields =
            [
                Mm(place.AlongMetres),
                Mm(place.AroundMetres),
                Number(raster.Surface.BendRadians(place.AlongMetres) * 180 / Math.PI),
                Number(raster.Surface.GirthRadians(place.AroundMetres) * 180 / Math.PI),
                Mm(map.ThicknessMetres[cell]),
                Mm(map.SmallestMetres[cell]),
                Mm(map.UncertaintyMetres[cell]),
                Number(map.WrongEcho[cell]),
                Number(map.AreaSquareMetres[cell] * 1e6),
                map.ContributorCount(cell).ToString(CultureInfo.InvariantCulture),
                regions is null ? "" : regions.Labels[cell].ToString(CultureInfo.InvariantCulture),
                map.Status[cell].ToString(),
            ];
            writer.Write(string.Join(',', fields) + "\n");
        }
    }

    /// <summary>ESRI ASCII grid, millimetres; rows from the end of the component to its start: the format begins at the top.</summary>
    public static void Ascii(MapRaster raster, double[] values, TextWriter writer)
    {
        // The published header knows one size of square cells; where the pitches differ, dx and dy say so (read by GDAL and others).
        writer.Write(
            string.Create(
                CultureInfo.InvariantCulture,
                $"ncols {raster.AroundCount}\nnrows {raster.AlongCount}\nxllcorner 0\nyllcorner {raster.Surface.StartMetres * 1e3 + 0.0:R}\n"
            )
        );
        bool square = Math.Abs(raster.AroundPitchMetres - raster.AlongPitchMetres) < 1e-12;
        string across = (raster.AroundPitchMetres * 1e3).ToString("R", CultureInfo.InvariantCulture);
        string down = (raster.AlongPitchMetres * 1e3).ToString("R", CultureInfo.InvariantCulture);
        writer.Write(square ? $"cellsize {across}\n" : $"dx {across}\ndy {down}\n");
        writer.Write("NODATA_value -9999\n");
        for (int i = raster.AlongCount - 1; i >= 0; i--)
        {
            for (int j = 0; j < raster.AroundCount; j++)
            {
                double value = values[i * raster.AroundCount + j];
                writer.Write(j > 0 ? " " : "");
                writer.Write(double.IsNaN(value) ? "-9999" : Mm(value));
            }
            writer.Write('\n');
        }
    }

    private static string Mm(double metres) => Number(metres * 1e3);

    private static string Number(double value) =>
        double.IsFinite(value) ? value.ToString("0.######", CultureInfo.InvariantCulture) : "";
}
