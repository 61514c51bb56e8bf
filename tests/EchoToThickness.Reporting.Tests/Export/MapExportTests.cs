using System.Security.Cryptography;
using System.Text.Json;
using EchoToThickness.Components;
using EchoToThickness.Reporting.Export;
using EchoToThickness.Statistics.Regions;
using Parquet;
using Parquet.Schema;
using SkiaSharp;
using Xunit;

namespace EchoToThickness.Reporting.Tests.Export;

public sealed class MapExportTests : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("ett-map-export").FullName;
    private readonly StitchedMap _map = ExportMaps.Pipe();

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Fact]
    public void Figure_RegionOutlines_StandOnTheEdgesOfTheirCells()
    {
        Write("map.png");
        using SKBitmap picture = SKBitmap.Decode(At("map.png"));
        // 60 x 40 mm to scale: cells of 14 units, two dots a unit, data area from (110, 90); around grows upward, so row j ends at 90 + (40 - j) * 14.
        Assert.All(Edges(10, 15, 20, 26), edge => Assert.True(Dark(edge), $"no line at {edge}"));
        Assert.All(Edges(30, 34, 38, 40)[..3], edge => Assert.True(Dark(edge), $"no line at {edge}"));
        Assert.All(Edges(30, 34, 0, 2)[1..], edge => Assert.True(Dark(edge), $"no line at {edge}"));
        // Nor is there a line between two cells of a region, between two cells outside, or at the edge of the unscanned corner.
        Assert.All(
            [(12.0, 22.5), (22.0, 22.5), (32.0, 39.0), (32.0, 1.0), (50.0, 5.0)],
            p => Assert.False(Dark(p), $"line at {p}")
        );

        // Lower, left, right and upper edge, in cells, each in its middle.
        (double Along, double Around)[] Edges(int left, int right, int low, int high) =>
            [
                ((left + right) / 2.0 + 0.25, low),
                (left, (low + high) / 2.0 + 0.25),
                (right, (low + high) / 2.0 - 0.25),
                ((left + right) / 2.0 + 0.25, high),
            ];

        bool Dark((double Along, double Around) p)
        {
            SKColor c = picture.GetPixel(
                (int)(2 * (110 + p.Along * 14)),
                (int)(2 * (90 + (ExportMaps.Around - p.Around) * 14))
            );
            return Math.Max(c.Red, Math.Max(c.Green, c.Blue)) < 0x30;
        }
    }

    [Fact]
    public async Task Parquet_Columns_AreNamedTypedAndHoldRegions()
    {
        RegionMap regions = Write("map.parquet");
        await using ParquetReader reader = await Open("map.parquet");
        Assert.Equal(
            [
                ("along_mm", typeof(double), true),
                ("around_mm", typeof(double), true),
                ("bend_deg", typeof(double), true),
                ("girth_deg", typeof(double), true),
                ("thickness_mm", typeof(double), true),
                ("smallest_mm", typeof(double), true),
                ("uncertainty_mm", typeof(double), true),
                ("wrong_echo_probability", typeof(double), true),
                ("area_mm2", typeof(double), true),
                ("contributors", typeof(int), false),
                ("region", typeof(int), true),
                ("status", typeof(ReadOnlyMemory<char>), false), // how the reader says UTF-8 text
            ],
            reader.Schema.DataFields.Select(f => (f.Name, f.ClrType, f.IsNullable))
        );
        Assert.Equal(ExportMaps.Facts.Lines.ToDictionary(l => l.Name, l => l.Value), reader.CustomMetadata);
        int?[] labels = await Column<int>(reader, "region");
        Assert.Equal(regions.Labels.ToArray().Select(l => (int?)l), labels);
        // Cells counted by hand: the seam's patch is the thinner, 4 x 4; the other 5 x 6.
        Assert.Equal((16, 30), (labels.Count(l => l == 1), labels.Count(l => l == 2)));
        double?[] girth = await Column<double>(reader, "girth_deg");
        Assert.Equal(4.5, girth[0]!.Value, 1e-9); // half of 360 / 40
        double?[] walls = await Column<double>(reader, "thickness_mm");
        Assert.Equal(100, walls.Count(w => w is null));
        Assert.Equal(4, walls[30 * ExportMaps.Around + 39]!.Value, 1e-6);
    }

    [Fact]
    public async Task Parquet_WithoutLimit_RegionsAreNull()
    {
        MapExport.Write(
            _map,
            null,
            null,
            ExportMaps.Facts,
            false,
            At("map.parquet"),
            cancellation: TestContext.Current.CancellationToken
        );
        await using ParquetReader reader = await Open("map.parquet");
        Assert.All(await Column<int>(reader, "region"), Assert.Null);
    }

    [Fact]
    public async Task Parquet_MoreRowsThanAGroup_AllComeBackInOrder()
    {
        StitchedMap map = ExportMaps.Of(400, 400, (i, j) => 5e-3 + i * 1e-6 + j * 1e-8);
        MapExport.Write(
            map,
            null,
            null,
            ExportMaps.Facts,
            false,
            At("large.parquet"),
            cancellation: TestContext.Current.CancellationToken
        );
        await using ParquetReader reader = await Open("large.parquet");
        Assert.Equal(2, reader.RowGroupCount);
        var walls = new List<double?>();
        for (int group = 0; group < 2; group++)
            walls.AddRange(await Column<double>(reader, "thickness_mm", group));
        Assert.Equal(map.ThicknessMetres.Select(w => (double?)(w * 1e3)), walls);
    }

    [Theory]
    [InlineData(".asc")]
    [InlineData(".csv")]
    [InlineData(".npy")]
    [InlineData(".vtk")]
    public void Sidecar_NamesTheFileByItsWholeNameAndHash(string ending)
    {
        Write("wall" + ending);
        Assert.Equal(At("wall" + ending + ".json"), MapExport.SidecarOf(At("wall" + ending)));
        Assert.Equal(["wall" + ending, $"wall{ending}.json"], Names());
        using JsonDocument json = JsonDocument.Parse(File.ReadAllText(At($"wall{ending}.json")));
        Assert.Equal("wall" + ending, json.RootElement.GetProperty("file").GetString());
        Assert.Equal(
            Convert.ToHexStringLower(SHA256.HashData(File.ReadAllBytes(At("wall" + ending)))),
            json.RootElement.GetProperty("sha256").GetString()
        );
        JsonElement around = json.RootElement.GetProperty("around");
        Assert.Equal(40, around.GetProperty("cells").GetInt32());
        Assert.Equal(0.5, around.GetProperty("first_centre_mm").GetDouble(), 1e-9);
        Assert.Equal(1, around.GetProperty("pitch_mm").GetDouble(), 1e-9);
    }

    [Theory]
    [InlineData(".asc")]
    [InlineData(".csv")]
    [InlineData(".glb")]
    [InlineData(".npy")]
    [InlineData(".parquet")]
    [InlineData(".png")]
    [InlineData(".svg")]
    [InlineData(".vtk")]
    [InlineData(".xlsx")]
    public void Write_StoppedAfterTheFirstBytes_LeavesTheOldFiles(string ending)
    {
        string path = At("wall" + ending);
        File.WriteAllText(path, "old");
        if (MapExport.SidecarOf(path) is { } beside)
            File.WriteAllText(beside, "old facts");
        string[] before = Names();
        using var stop = new CancellationTokenSource();
        var watch = new StopAtFirstBytes(stop);

        Assert.ThrowsAny<OperationCanceledException>(() =>
            MapExport.Write(_map, ExportMaps.Regions(_map), 6e-3, ExportMaps.Facts, false, path, watch, stop.Token)
        );

        Assert.True(watch.Bytes > 0);
        Assert.Equal(before, Names());
        Assert.Equal("old", File.ReadAllText(path));
        Assert.All(
            Names().Where(n => n.EndsWith(".json", StringComparison.Ordinal)),
            n => Assert.Equal("old facts", File.ReadAllText(At(n)))
        );
    }

    [Fact]
    public void Write_ControlCharactersInFacts_BecomeBlanks()
    {
        ExportFacts facts = ExportMaps.Facts with { Title = "line\u0001one\nline two" };
        foreach (string ending in (string[])[".svg", ".xlsx"])
            MapExport.Write(
                _map,
                null,
                null,
                facts,
                false,
                At("a" + ending),
                cancellation: TestContext.Current.CancellationToken
            );
        string desc = System.Xml.Linq.XDocument.Load(At("a.svg")).Root!.Elements().First().Value;
        Assert.Contains("title: line one line two", desc, StringComparison.Ordinal);
        using System.IO.Compression.ZipArchive book = System.IO.Compression.ZipFile.OpenRead(At("a.xlsx"));
        using Stream about = book.GetEntry("xl/worksheets/sheet5.xml")!.Open();
        Assert.Contains(
            "line one line two",
            System.Xml.Linq.XDocument.Load(about).Root!.Value,
            StringComparison.Ordinal
        );
    }

    private RegionMap Write(string name)
    {
        RegionMap regions = ExportMaps.Regions(_map);
        MapExport.Write(
            _map,
            regions,
            6e-3,
            ExportMaps.Facts,
            false,
            At(name),
            cancellation: TestContext.Current.CancellationToken
        );
        return regions;
    }

    private string At(string name) => Path.Combine(_folder, name);

    private string[] Names() =>
        [.. Directory.GetFiles(_folder).Select(f => Path.GetFileName(f)!).Order(StringComparer.Ordinal)];

    private Task<ParquetReader> Open(string name) =>
        ParquetReader.CreateAsync(At(name), cancellationToken: TestContext.Current.CancellationToken);

    private static async Task<T?[]> Column<T>(ParquetReader reader, string name, int group = 0)
        where T : struct
    {
        using ParquetRowGroupReader rows = reader.OpenRowGroupReader(group);
        var values = new T?[rows.RowCount];
        DataField field = reader.Schema.FindDataField(name);
        await rows.ReadAsync<T>(field, values.AsMemory(), null, TestContext.Current.CancellationToken);
        return values;
    }

    private sealed class StopAtFirstBytes(CancellationTokenSource stop) : IProgress<long>
    {
        public long Bytes { get; private set; }

        public void Report(long value)
        {
            Bytes = value;
            stop.Cancel();
        }
    }
}
