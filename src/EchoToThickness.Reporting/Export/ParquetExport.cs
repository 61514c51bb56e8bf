using EchoToThickness.Components;
using EchoToThickness.Statistics.Regions;
using Parquet;
using Parquet.Schema;

namespace EchoToThickness.Reporting.Export;

/// <summary>
/// Apache Parquet, a row a cell, written by groups of rows; a quantity that does not exist is null, and the status says why. Facts are in the file's
/// metadata, units in the names and in the metadata of the columns. Equal maps give equal bytes.
/// </summary>
internal static class ParquetExport
{
    /// <summary>Rows of a group: what is held in memory beside the map.</summary>
    public const int GroupRows = 1 << 17;

    private static readonly (string Name, string Unit, Func<StitchedMap, SurfacePlace, int, double> Value)[] Numbers =
    [
        ("along_mm", "mm", (_, p, _) => p.AlongMetres * 1e3),
        ("around_mm", "mm", (_, p, _) => p.AroundMetres * 1e3),
        ("bend_deg", "degree", (m, p, _) => m.Raster.Surface.BendRadians(p.AlongMetres) * 180 / Math.PI),
        ("girth_deg", "degree", (m, p, _) => m.Raster.Surface.GirthRadians(p.AroundMetres) * 180 / Math.PI),
        ("thickness_mm", "mm", (m, _, c) => m.ThicknessMetres[c] * 1e3),
        ("smallest_mm", "mm", (m, _, c) => m.SmallestMetres[c] * 1e3),
        ("uncertainty_mm", "mm", (m, _, c) => m.UncertaintyMetres[c] * 1e3),
        ("wrong_echo_probability", "1", (m, _, c) => m.WrongEcho[c]),
        ("area_mm2", "mm2", (m, _, c) => m.AreaSquareMetres[c] * 1e6),
    ];

    public static void Write(
        StitchedMap map,
        RegionMap? regions,
        ExportFacts facts,
        Stream stream,
        CancellationToken cancellation
    ) => Task.Run(() => WriteAsync(map, regions, facts, stream, cancellation), cancellation).GetAwaiter().GetResult();

    private static async Task WriteAsync(
        StitchedMap map,
        RegionMap? regions,
        ExportFacts facts,
        Stream stream,
        CancellationToken cancellation
    )
    {
        DataField[] numbers = [.. Numbers.Select(n => new DataField(n.Name, typeof(double?)))];
        var contributors = new DataField("contributors", typeof(int));
        var region = new DataField("region", typeof(int?));
        var status = new DataField("status", typeof(string), isNullable: false);
        var schema = new ParquetSchema([.. numbers, contributors, region, status]);
        var options = new ParquetOptions { CompressionMethod = CompressionMethod.Zstd };
        ParquetWriter writer = await ParquetWriter
            .CreateAsync(schema, stream, options, cancellationToken: cancellation)
            .ConfigureAwait(false);
        await using (writer.ConfigureAwait(false))
        {
            writer.CustomMetadata = facts.Lines.ToDictionary(f => f.Name, f => f.Value);
            for (int start = 0; start < map.Raster.Count; start += GroupRows)
            {
                cancellation.ThrowIfCancellationRequested();
                int rows = Math.Min(GroupRows, map.Raster.Count - start);
                using ParquetRowGroupWriter group = writer.CreateRowGroup();
                var column = new double?[rows];
                for (int k = 0; k < Numbers.Length; k++)
                {
                    for (int i = 0; i < rows; i++)
                    {
                        double value = Numbers[k].Value(map, map.Raster.PlaceOf(start + i), start + i);
                        column[i] = double.IsFinite(value) ? value : null;
                    }
                    await group
                        .WriteAsync<double>(
                            numbers[k],
                            new ReadOnlyMemory<double?>(column),
                            null,
                            new Dictionary<string, string> { ["unit"] = Numbers[k].Unit },
                            cancellation
                        )
                        .ConfigureAwait(false);
                }
                int first = start;
                int[] counts = [.. Enumerable.Range(first, rows).Select(map.ContributorCount)];
                await group
                    .WriteAsync<int>(contributors, new ReadOnlyMemory<int>(counts), cancellationToken: cancellation)
                    .ConfigureAwait(false);
                await group
                    .WriteAsync<int>(
                        region,
                        new ReadOnlyMemory<int?>(Labels(regions, first, rows)),
                        cancellationToken: cancellation
                    )
                    .ConfigureAwait(false);
                string[] words = [.. Enumerable.Range(first, rows).Select(c => map.Status[c].ToString())];
                await group.WriteAsync(status, words).ConfigureAwait(false);
                group.CompleteValidate();
            }
        }
    }

    private static int?[] Labels(RegionMap? regions, int first, int rows)
    {
        var labels = new int?[rows];
        for (int i = 0; i < rows && regions is not null; i++)
            labels[i] = regions.Labels[first + i];
        return labels;
    }
}
