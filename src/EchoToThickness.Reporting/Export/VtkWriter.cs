using System.Globalization;
using EchoToThickness.Components;

namespace EchoToThickness.Reporting.Export;

/// <summary>VTK legacy file, structured grid (file formats of the VTK user's guide): corners of the cells in space, wall as cell data.</summary>
internal static class VtkWriter
{
    public static void Write(StitchedMap map, ExportFacts facts, TextWriter writer)
    {
        MapRaster raster = map.Raster;
        (int along, int around) = (raster.AlongCount, raster.AroundCount);
        writer.Write("# vtk DataFile Version 3.0\n");
        // The format allows 256 characters, the end of the line among them; the sidecar holds the rest.
        string title = $"Wall thickness, mm; points mm; {facts.Datum}; {facts.Title}".ReplaceLineEndings(" ");
        writer.Write($"{title[..Math.Min(255, title.Length)]}\nASCII\nDATASET STRUCTURED_GRID\n");
        writer.Write(
            string.Create(
                CultureInfo.InvariantCulture,
                $"DIMENSIONS {around + 1} {along + 1} 1\nPOINTS {(along + 1) * (around + 1)} float\n"
            )
        );
        for (int i = 0; i <= along; i++)
        for (int j = 0; j <= around; j++)
        {
            (double x, double y, double z) = GlbWriter.Corner(raster, i, j);
            writer.Write(
                string.Create(CultureInfo.InvariantCulture, $"{x * 1e3:0.####} {y * 1e3:0.####} {z * 1e3:0.####}\n")
            );
        }
        writer.Write(string.Create(CultureInfo.InvariantCulture, $"CELL_DATA {raster.Count}\n"));
        Scalars(writer, "thickness_mm", map.ThicknessMetres);
        Scalars(writer, "uncertainty_mm", map.UncertaintyMetres);
        writer.Write("SCALARS status int 1\nLOOKUP_TABLE default\n");
        foreach (Pairing.CellStatus status in map.Status)
            writer.Write(string.Create(CultureInfo.InvariantCulture, $"{(int)status}\n"));
    }

    private static void Scalars(TextWriter writer, string name, double[] metres)
    {
        writer.Write($"SCALARS {name} float 1\nLOOKUP_TABLE default\n");
        foreach (double value in metres)
            writer.Write(
                double.IsFinite(value)
                    ? string.Create(CultureInfo.InvariantCulture, $"{value * 1e3:0.####}\n")
                    : "nan\n"
            );
    }
}
