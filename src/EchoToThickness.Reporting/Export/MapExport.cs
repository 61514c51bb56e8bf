using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using EchoToThickness.Components;
using EchoToThickness.Pairing;
using EchoToThickness.Reporting.Figures;
using EchoToThickness.Statistics.Regions;
using EchoToThickness.Storage.Files;

namespace EchoToThickness.Reporting.Export;

/// <summary>Writes a component map for other programs, by the ending of the file. Files appear complete or not at all.</summary>
public static class MapExport
{
    /// <summary>Endings that are known, with what they hold.</summary>
    public static IReadOnlyDictionary<string, string> Endings { get; } =
        new SortedDictionary<string, string>(StringComparer.Ordinal)
        {
            [".asc"] = "ESRI ASCII grid, millimetres, missing -9999",
            [".csv"] = "table, one row a cell (or a matrix)",
            [".glb"] = "glTF 2.0, the component in 3-D coloured by wall",
            [".npy"] = "NumPy array [along, around], float64, metres, missing NaN",
            [".parquet"] = "Apache Parquet, one row a cell, missing null",
            [".png"] = "map",
            [".svg"] = "map",
            [".vtk"] = "VTK legacy structured grid in 3-D with the wall as cell data",
            [".xlsx"] = "workbook: map as coloured cells, regions, profiles, histogram",
        };

    /// <summary>Writes a map.</summary>
    /// <param name="map">The map.</param>
    /// <param name="regions">Thin regions; null for none.</param>
    /// <param name="limitMetres">Limit outlined on figures; null for none.</param>
    /// <param name="facts">What the file says of its datum, units and origin.</param>
    /// <param name="matrix">CSV: a matrix in place of a row a cell.</param>
    /// <param name="path">File; its ending says what is written. Beside .asc, .csv, .npy and .vtk the facts go to a file of the same name with .json behind it.</param>
    /// <param name="cancellation">Stops the work; the old file stays.</param>
    /// <exception cref="ArgumentException">An unknown ending.</exception>
    public static void Write(
        StitchedMap map,
        RegionMap? regions,
        double? limitMetres,
        ExportFacts facts,
        bool matrix,
        string path,
        CancellationToken cancellation = default
    )
    {
        ArgumentNullException.ThrowIfNull(map);
        ArgumentNullException.ThrowIfNull(facts);
        ArgumentNullException.ThrowIfNull(path);
        cancellation.ThrowIfCancellationRequested();
        string ending = Path.GetExtension(path).ToLowerInvariant();
        switch (ending)
        {
            case ".png" or ".svg":
                Figure(map, regions, limitMetres, facts, path);
                break;
            case ".csv":
                Save(s => Text(s, writer => Csv(map, regions, matrix, writer)));
                break;
            case ".asc":
                Save(s => Text(s, writer => Ascii(map.Raster, map.ThicknessMetres, writer)));
                break;
            case ".npy":
                Save(s => NpyWriter.Write(s, map.ThicknessMetres, map.Raster.AlongCount, map.Raster.AroundCount));
                break;
            case ".vtk":
                Save(s => Text(s, writer => VtkWriter.Write(map, facts, writer)));
                break;
            case ".glb":
                Save(s => GlbWriter.Write(map, facts, s));
                break;
            case ".xlsx":
                Save(s => WorkbookWriter.Write(map, regions, facts, s));
                break;
            case ".parquet":
                Save(s => ParquetExport.Write(map, regions, facts, s, cancellation));
                break;
            default:
                throw new ArgumentException(
                    $"'{Path.GetExtension(path)}' is not one of {string.Join(", ", Endings.Keys)}.",
                    nameof(path)
                );
        }

        void Save(Action<Stream> write)
        {
            using AtomicFile file = AtomicFile.Create(path);
            using AtomicFile? beside = ExportSidecar.IsFor(ending) ? AtomicFile.Create(path + ".json") : null;
            using (FileStream stream = new(file.Handle, FileAccess.ReadWrite, 1 << 16))
            {
                write(stream);
                stream.Flush();
                if (beside is not null)
                {
                    stream.Position = 0;
                    string sha = Convert.ToHexStringLower(SHA256.HashData(stream));
                    RandomAccess.Write(
                        beside.Handle,
                        Encoding.UTF8.GetBytes(ExportSidecar.Text(map, facts, path, sha)),
                        0
                    );
                }
            }
            cancellation.ThrowIfCancellationRequested();
            file.Commit(flushToDisk: false);
            beside?.Commit(flushToDisk: false);
        }
    }

    private const int MostNumbers = 15;

    private static void Figure(StitchedMap map, RegionMap? regions, double? limitMetres, ExportFacts facts, string path)
    {
        MapRaster raster = map.Raster;
        double girth = raster.Surface.WidthMetres;
        MapFigure.Save(
            new MapImage
            {
                Title = "Wall thickness on the component",
                Subtitle = facts.Title,
                Scans = raster.AlongCount,
                Beams = raster.AroundCount,
                ValuesMetres = Array.ConvertAll(map.ThicknessMetres, v => (float)v),
                Status = Array.ConvertAll(map.Status, s => (byte)s),
                ScanPositionsMetres = [.. Enumerable.Range(0, raster.AlongCount).Select(raster.AlongMetres)],
                IndexPositionsMetres = [.. Enumerable.Range(0, raster.AroundCount).Select(raster.AroundMetres)],
                ScanName = "along",
                IndexName = raster.Surface.IsClosed ? "around, clockwise looking downstream" : "across",
                IndexMarks = raster.Surface.Torus is null
                    ? []
                    :
                    [
                        .. ((string[])["extrados", "crown 90°", "intrados", "crown 270°", "extrados"]).Select(
                            (word, k) =>
                                (
                                    k * girth / 4,
                                    string.Create(CultureInfo.InvariantCulture, $"{word} {k * girth / 4 * 1e3:0}")
                                )
                        ),
                    ],
                LimitMetres = limitMetres,
                Regions = regions?.Labels.ToArray(),
                RegionWords =
                [
                    .. (regions?.Regions ?? [])
                        .Take(MostNumbers)
                        .Select(r =>
                            (
                                r.AlongLast,
                                Math.Min(r.AroundLast, raster.AroundCount - 1),
                                r.Number.ToString(CultureInfo.InvariantCulture)
                            )
                        ),
                ],
                Caption =
                    $"{facts.Component}. Datum: {facts.Datum}."
                    + (
                        regions is { Regions.Count: > MostNumbers }
                            ? $" The {MostNumbers} thinnest of {regions.Regions.Count} regions are numbered."
                            : ""
                    ),
                Notes = facts.Lines,
            },
            path
        );
    }

    private static void Csv(StitchedMap map, RegionMap? regions, bool matrix, TextWriter writer)
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

    /// <summary>Rows from the end of the component to its start: the format begins at the top.</summary>
    private static void Ascii(MapRaster raster, double[] values, TextWriter writer)
    {
        // The published header knows one size of square cells; where the pitches differ, dx and dy say so (read by GDAL and others).
        writer.Write(
            string.Create(
                CultureInfo.InvariantCulture,
                $"ncols {raster.AroundCount}\nnrows {raster.AlongCount}\nxllcorner 0\nyllcorner {raster.Surface.StartMetres * 1e3:R}\n"
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

    private static void Text(Stream stream, Action<TextWriter> write)
    {
        using var writer = new StreamWriter(stream, new UTF8Encoding(false), 1 << 16, leaveOpen: true)
        {
            NewLine = "\n",
        };
        write(writer);
    }
}
