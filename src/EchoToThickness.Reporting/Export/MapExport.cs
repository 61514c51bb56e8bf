using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using EchoToThickness.Components;
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
    /// <param name="written">Told after each piece how many bytes of the file are written; null for nobody.</param>
    /// <param name="cancellation">Stops the work between two pieces; the old files stay.</param>
    /// <exception cref="ArgumentException">An unknown ending.</exception>
    /// <remarks>Both files of a pair are complete before the first takes its place, and nothing stops the work between the two.</remarks>
    public static void Write(
        StitchedMap map,
        RegionMap? regions,
        double? limitMetres,
        ExportFacts facts,
        bool matrix,
        string path,
        IProgress<long>? written = null,
        CancellationToken cancellation = default
    )
    {
        ArgumentNullException.ThrowIfNull(map);
        ArgumentNullException.ThrowIfNull(facts);
        ArgumentNullException.ThrowIfNull(path);
        cancellation.ThrowIfCancellationRequested();
        string ending = Path.GetExtension(path).ToLowerInvariant();
        Action<Stream> write = ending switch
        {
            ".png" or ".svg" => s => MapFigure.Write(Image(map, regions, limitMetres, facts), s, ending),
            ".csv" => s => Text(s, writer => TableWriter.Csv(map, regions, matrix, writer)),
            ".asc" => s => Text(s, writer => TableWriter.Ascii(map.Raster, map.ThicknessMetres, writer)),
            ".npy" => s => NpyWriter.Write(s, map.ThicknessMetres, map.Raster.AlongCount, map.Raster.AroundCount),
            ".vtk" => s => Text(s, writer => VtkWriter.Write(map, facts, writer)),
            ".glb" => s => GlbWriter.Write(map, facts, s),
            ".xlsx" => s => WorkbookWriter.Write(map, regions, facts, s),
            ".parquet" => s => ParquetExport.Write(map, regions, facts, s, cancellation),
            _ => throw new ArgumentException(
                $"'{Path.GetExtension(path)}' is not one of {string.Join(", ", Endings.Keys)}.",
                nameof(path)
            ),
        };
        using AtomicFile file = AtomicFile.Create(path);
        using AtomicFile? beside = SidecarOf(path) is { } name ? AtomicFile.Create(name) : null;
        using (FileStream stream = new(file.Handle, FileAccess.ReadWrite, 1 << 16))
        {
            using (var watched = new WatchedStream(stream, written, cancellation))
                write(watched);
            stream.Flush();
            if (beside is not null)
            {
                stream.Position = 0;
                string sha = Convert.ToHexStringLower(SHA256.HashData(stream));
                RandomAccess.Write(beside.Handle, Encoding.UTF8.GetBytes(ExportSidecar.Text(map, facts, path, sha)), 0);
            }
        }
        cancellation.ThrowIfCancellationRequested();
        file.Commit(flushToDisk: false);
        beside?.Commit(flushToDisk: false);
    }

    /// <summary>The file of facts that is written beside a file: its whole name with .json behind it; null where the format holds the facts itself.</summary>
    /// <param name="path">File; its ending says what is written.</param>
    public static string? SidecarOf(string path)
    {
        ArgumentNullException.ThrowIfNull(path);
        return ExportSidecar.IsFor(Path.GetExtension(path).ToLowerInvariant()) ? path + ".json" : null;
    }

    private const int MostNumbers = 15;

    internal static MapImage Image(StitchedMap map, RegionMap? regions, double? limitMetres, ExportFacts facts)
    {
        MapRaster raster = map.Raster;
        double girth = raster.Surface.WidthMetres;
        return new MapImage
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
        };
    }

    private static void Text(Stream stream, Action<TextWriter> write)
    {
        using var writer = new StreamWriter(stream, new UTF8Encoding(false), 1 << 16, leaveOpen: true)
        {
            NewLine = "\n",
        };
        write(writer);
    }
}
