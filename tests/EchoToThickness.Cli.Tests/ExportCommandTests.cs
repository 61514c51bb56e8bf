using System.Buffers.Binary;
using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using DocumentFormat.OpenXml.Packaging;
using DocumentFormat.OpenXml.Spreadsheet;
using EchoToThickness.Cli.Terminal;
using EchoToThickness.Components;
using Parquet;
using Xunit;

namespace EchoToThickness.Cli.Tests;

/// <summary>
/// Every file is read back by a reader that is not the writer: Open XML SDK, SharpGLTF, Parquet.Net, or a parser written here from the published format
/// (numpy.lib.format 1.0, VTK legacy file format, ESRI ASCII raster, ISO/IEC 15948).
/// </summary>
public sealed class ExportCommandTests(ExportGrid grid) : IClassFixture<ExportGrid>
{
    private const string Clockwise = "clockwise looking downstream";

    [Fact]
    public void Map_Fixture_HasWallsAndGapsAndTheGridsMinimum()
    {
        Assert.InRange(grid.Wall.Count(double.IsFinite), 100, grid.Wall.Length / 2);
        // Rule 'smallest'; the grid stores single precision: half a unit in the last place of 5 mm is 0.24 nm.
        Assert.Equal(grid.Facts.MinimumThicknessMetres, grid.Map.ThicknessMetres.Where(double.IsFinite).Min(), 5e-10);
    }

    [Fact]
    public void Csv_Long_HoldsTheGrid()
    {
        string[] lines = File.ReadAllLines(grid.At("a.csv"));
        string[] head = lines[0].Split(',');
        string[][] rows = [.. lines.Skip(1).Select(l => l.Split(','))];
        int wall = Array.IndexOf(head, "thickness_mm");
        int status = Array.IndexOf(head, "status");
        grid.Holds([.. rows.Select(r => Number(r[wall]))], 5e-7);
        Assert.All(rows, r => Assert.Equal(r[wall].Length == 0, r[status] != "Measured"));
        MapRaster raster = grid.Map.Raster;
        Assert.Equal(raster.AlongMetres(0) * 1e3, Number(rows[0][0]), 5e-7);
        Assert.Equal(raster.AroundMetres(1) * 1e3, Number(rows[1][1]), 5e-7);
    }

    [Fact]
    public void Csv_Matrix_HoldsTheGrid()
    {
        string[][] rows = [.. File.ReadAllLines(grid.At("matrix.csv")).Select(l => l.Split(','))];
        grid.Holds([.. rows.Skip(1).SelectMany(r => r.Skip(1)).Select(Number)], 5e-7);
        Assert.Equal(grid.Map.Raster.AroundMetres(3) * 1e3, Number(rows[0][4]), 5e-7);
        Assert.Equal(grid.Map.Raster.AlongMetres(2) * 1e3, Number(rows[3][0]), 5e-7);
    }

    [Fact]
    public void Asc_HoldsTheGridFromTheDownstreamEnd()
    {
        string[] lines = File.ReadAllLines(grid.At("a.asc"));
        var head = lines
            .TakeWhile(l => char.IsLetter(l[0]))
            .Select(l => l.Split(' '))
            .ToDictionary(p => p[0], p => Number(p[1]));
        MapRaster raster = grid.Map.Raster;
        Assert.Equal((raster.AroundCount, raster.AlongCount), ((int)head["ncols"], (int)head["nrows"]));
        Assert.Equal(
            raster.AroundPitchMetres * 1e3,
            head.GetValueOrDefault("dx", head.GetValueOrDefault("cellsize")),
            1e-9
        );
        Assert.Equal(-9999, head["NODATA_value"]);
        grid.Holds(
            [
                .. lines
                    .Skip(head.Count)
                    .Reverse()
                    .SelectMany(l => l.Split(' '))
                    .Select(v => v == "-9999" ? double.NaN : Number(v)),
            ],
            5e-7
        );
    }

    [Fact]
    public void Npy_HoldsTheGridInMetres()
    {
        byte[] file = File.ReadAllBytes(grid.At("a.npy"));
        Assert.Equal("\u0093NUMPY\u0001\0", Encoding.Latin1.GetString(file, 0, 8));
        int length = BinaryPrimitives.ReadUInt16LittleEndian(file.AsSpan(8));
        Assert.Equal(0, (10 + length) % 64);
        MapRaster raster = grid.Map.Raster;
        Assert.Contains(
            $"'shape': ({raster.AlongCount}, {raster.AroundCount})",
            Encoding.ASCII.GetString(file, 10, length),
            StringComparison.Ordinal
        );
        grid.Holds(
            [
                .. Enumerable
                    .Range(0, raster.Count)
                    .Select(k => 1e3 * BinaryPrimitives.ReadDoubleLittleEndian(file.AsSpan(10 + length + 8 * k))),
            ],
            0
        );
    }

    [Fact]
    public void Vtk_HoldsTheGridAndThePlaces()
    {
        string[] lines = File.ReadAllLines(grid.At("a.vtk"));
        Assert.Equal("# vtk DataFile Version 3.0", lines[0]);
        Assert.True(lines[1].Length <= 255);
        Assert.Contains(Clockwise, lines[1], StringComparison.Ordinal);
        Assert.Equal(["ASCII", "DATASET STRUCTURED_GRID"], lines[2..4]);
        MapRaster raster = grid.Map.Raster;
        Assert.Equal($"DIMENSIONS {raster.AroundCount + 1} {raster.AlongCount + 1} 1", lines[4]);
        // The first corner: on the extrados at the start of the bend, R + r from its axis.
        double[] corner = [.. lines[6].Split(' ').Select(Number)];
        Assert.Equal((raster.Surface.BendRadiusMetres + raster.Surface.OutsideRadiusMetres) * 1e3, corner[0], 5e-5);
        int at = Array.IndexOf(lines, "SCALARS thickness_mm float 1") + 2;
        grid.Holds([.. lines.Skip(at).Take(raster.Count).Select(l => l == "nan" ? double.NaN : Number(l))], 5.0001e-5);
    }

    [Fact]
    public void Xlsx_HoldsTheGridRegionsAndFacts()
    {
        using SpreadsheetDocument book = SpreadsheetDocument.Open(grid.At("a.xlsx"), false);
        Assert.Empty(
            new DocumentFormat.OpenXml.Validation.OpenXmlValidator()
                .Validate(book, TestContext.Current.CancellationToken)
                .Select(e => e.Description)
        );
        Row[] map = Rows(book, "Map");
        MapRaster raster = grid.Map.Raster;
        Assert.Equal(raster.AlongCount + 1, map.Length);
        grid.Holds(
            [
                .. map.Skip(1)
                    .SelectMany(r => r.Elements<Cell>().Skip(1))
                    .Select(c => c.CellValue is { } v ? Number(v.Text) : double.NaN),
            ],
            1e-12
        );
        // A cell without a wall is there, empty, in a style of its own.
        Cell[] all = [.. map.Skip(1).SelectMany(r => r.Elements<Cell>().Skip(1))];
        uint missing = Assert.Single(all.Where(c => c.CellValue is null).Select(c => c.StyleIndex!.Value).Distinct());
        Assert.DoesNotContain(all, c => c.CellValue is not null && c.StyleIndex!.Value == missing);
        Assert.True(Rows(book, "Regions").Length > 1);
        int counted = Rows(book, "Histogram").Skip(1).Sum(r => (int)Number(r.Elements<Cell>().ElementAt(2).InnerText));
        Assert.Equal(grid.Wall.Count(double.IsFinite), counted);
        Assert.Contains(Rows(book, "About"), r => r.InnerText.Contains(Clockwise, StringComparison.Ordinal));
    }

    [Fact]
    public void Glb_HoldsEveryCellInPlace_MissingGrey()
    {
        SharpGLTF.Schema2.ModelRoot model = SharpGLTF.Schema2.ModelRoot.Load(grid.At("a.glb"));
        SharpGLTF.Schema2.MeshPrimitive mesh = model.LogicalMeshes[0].Primitives[0];
        var points = mesh.GetVertexAccessor("POSITION").AsVector3Array();
        var colours = mesh.GetVertexAccessor("COLOR_0").AsColorArray();
        Assert.Equal(4 * grid.Wall.Length, points.Count);
        // #9aa1ab in linear light (IEC 61966-2-1), to a step of 8 bits.
        double Grey(int cell) => Math.Abs(colours[4 * cell].X - 0.3231) + Math.Abs(colours[4 * cell].Z - 0.4072);
        for (int k = 0; k < grid.Wall.Length; k++)
            Assert.Equal(double.IsNaN(grid.Wall[k]), Grey(k) < 0.008);
        // Every corner lies on the torus: (sqrt(x² + y²) - R)² + z² = r²; single precision of 0.1 m.
        ComponentSurface s = grid.Map.Raster.Surface;
        Assert.All(
            points,
            p =>
                Assert.Equal(
                    s.OutsideRadiusMetres,
                    double.Hypot(double.Hypot(p.X, p.Y) - s.BendRadiusMetres, p.Z),
                    1e-7
                )
        );
        Assert.Contains(Clockwise, model.Asset.Extras!.ToJsonString(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Parquet_HoldsTheGridNullsAndFacts()
    {
        using FileStream stream = File.OpenRead(grid.At("a.parquet"));
        await using ParquetReader reader = await ParquetReader.CreateAsync(
            stream,
            cancellationToken: TestContext.Current.CancellationToken
        );
        using ParquetRowGroupReader group = reader.OpenRowGroupReader(0);
        var walls = new double?[group.RowCount];
        await group.ReadAsync<double>(
            reader.Schema.FindDataField("thickness_mm"),
            walls.AsMemory(),
            null,
            TestContext.Current.CancellationToken
        );
        var status = new string?[group.RowCount];
        await group.ReadAsync(
            reader.Schema.FindDataField("status"),
            status.AsMemory(),
            null,
            TestContext.Current.CancellationToken
        );
        grid.Holds([.. walls.Select(w => w ?? double.NaN)], 0);
        Assert.DoesNotContain(walls, w => w is { } v && double.IsNaN(v));
        Assert.Equal(grid.Map.Status.Select(s => s.ToString()), status);
        Assert.Contains(Clockwise, reader.CustomMetadata["datum"], StringComparison.Ordinal);
        Assert.Equal(grid.Facts.StackSha256, reader.CustomMetadata["stack_sha256"]);
        Assert.Equal("mm", group.GetCustomMetadata(reader.Schema.FindDataField("thickness_mm"))["unit"]);
    }

    [Fact]
    public void Png_KeepsDatumAsText()
    {
        byte[] file = File.ReadAllBytes(grid.At("a.png"));
        var texts = new List<string>();
        for (int at = 8; at < file.Length; )
        {
            int length = BinaryPrimitives.ReadInt32BigEndian(file.AsSpan(at));
            if (Encoding.ASCII.GetString(file, at + 4, 4) == "iTXt")
                texts.Add(Encoding.UTF8.GetString(file, at + 8, length));
            at += 12 + length;
        }
        Assert.Contains(
            texts,
            t =>
                t.StartsWith("datum\0\0\0\0\0", StringComparison.Ordinal)
                && t.Contains(Clockwise, StringComparison.Ordinal)
        );
        using SkiaSharp.SKBitmap picture = SkiaSharp.SKBitmap.Decode(file);
        Assert.True(picture.Width > 1000);
    }

    [Fact]
    public void Svg_NamesDatumUnitsAndPlacesOnTheSection()
    {
        string svg = File.ReadAllText(grid.At("a.svg"));
        var xml = System.Xml.Linq.XDocument.Parse(svg);
        Assert.Contains(
            Clockwise,
            xml.Root!.Elements().First(e => e.Name.LocalName == "desc").Value,
            StringComparison.Ordinal
        );
        Assert.All(
            ["extrados", "intrados", "crown 90", "wall thickness, mm", "not scanned", "regions below 5.6 mm"],
            word => Assert.Contains(word, xml.Root.Value, StringComparison.Ordinal)
        );
    }

    [Theory]
    [InlineData("a.asc")]
    [InlineData("a.csv")]
    [InlineData("a.npy")]
    [InlineData("a.vtk")]
    public void Sidecar_SaysDatumUnitsAndWhichBytes(string name)
    {
        using JsonDocument json = JsonDocument.Parse(File.ReadAllText(grid.At(name + ".json")));
        Assert.Contains(Clockwise, json.RootElement.GetProperty("datum").GetString(), StringComparison.Ordinal);
        Assert.Contains(
            name == "a.npy" ? "wall, m;" : "mm",
            json.RootElement.GetProperty("units").GetString(),
            StringComparison.Ordinal
        );
        Assert.Equal(
            Convert.ToHexStringLower(SHA256.HashData(File.ReadAllBytes(grid.At(name)))),
            json.RootElement.GetProperty("sha256").GetString()
        );
        Assert.Equal(grid.Map.Raster.AlongCount, json.RootElement.GetProperty("along").GetProperty("cells").GetInt32());
    }

    [Theory]
    [InlineData(".csv")]
    [InlineData(".asc")]
    [InlineData(".npy")]
    [InlineData(".vtk")]
    [InlineData(".glb")]
    [InlineData(".xlsx")]
    [InlineData(".png")]
    [InlineData(".svg")]
    [InlineData(".parquet")]
    public void Export_FileThere_IsKeptUnlessForced_AndSameBytesComeOut(string ending)
    {
        string path = grid.At("kept" + ending);
        File.WriteAllText(path, "old");
        string[] typed = ["export", grid.At("grid.h5"), "--plan", grid.At("plan.toml"), "-o", path];
        Run kept = Run.Of(typed);
        Assert.Equal(ExitCode.CouldNotRun, kept.Code);
        Assert.Contains("exists", kept.Words, StringComparison.Ordinal);
        Assert.Contains("--force", kept.Words, StringComparison.Ordinal);
        Assert.Equal("old", File.ReadAllText(path));

        using var stop = new CancellationTokenSource();
        stop.Cancel();
        Assert.Equal(ExitCode.Interrupted, Run.With([.. typed, "--force"], stop.Token).Code);
        Assert.Equal("old", File.ReadAllText(path));
        Assert.Empty(Directory.GetFiles(grid.Folder, "*.part"));

        Assert.Equal(ExitCode.Done, Run.Of([.. typed, "--force"]).Code);
        Assert.Equal(File.ReadAllBytes(grid.At("a" + ending)), File.ReadAllBytes(path));
    }

    [Theory]
    [InlineData(".csv")]
    [InlineData(".asc")]
    [InlineData(".npy")]
    [InlineData(".vtk")]
    public void Export_OnlyTheFileOfFactsIsThere_IsKeptUnlessForced(string ending)
    {
        string path = grid.At("beside" + ending);
        File.WriteAllText(path + ".json", "somebody's own");
        string[] typed = ["export", grid.At("grid.h5"), "--plan", grid.At("plan.toml"), "-o", path];
        Run kept = Run.Of(typed);
        Assert.Equal(ExitCode.CouldNotRun, kept.Code);
        string words = kept.Words.ReplaceLineEndings(" ");
        Assert.Contains($"beside{ending}.json", words, StringComparison.Ordinal);
        Assert.Contains("--force", words, StringComparison.Ordinal);
        Assert.Equal("somebody's own", File.ReadAllText(path + ".json"));
        Assert.False(File.Exists(path));

        Assert.Equal(ExitCode.Done, Run.Of([.. typed, "--force"]).Code);
        Assert.Equal(
            File.ReadAllText(grid.At("a" + ending + ".json"))
                .Replace("a" + ending, "beside" + ending, StringComparison.Ordinal),
            File.ReadAllText(path + ".json")
        );
    }

    [Theory]
    [InlineData("out.pdf", "out.pdf has none of the known endings", ".parquet")]
    [InlineData("no-such/out.csv", "does not exist", "make it first")]
    public void Export_BadTarget_NamesItAndTheRemedy(string name, string what, string remedy)
    {
        Run run = Run.Of("export", grid.At("grid.h5"), "-o", grid.At(name));
        Assert.Equal(ExitCode.CouldNotRun, run.Code);
        string words = run.Words.ReplaceLineEndings(" ");
        Assert.Contains(what, words, StringComparison.Ordinal);
        Assert.Contains(remedy, words, StringComparison.Ordinal);
        CommandLineTests.NoTrace(run);
    }

    private static Row[] Rows(SpreadsheetDocument book, string name)
    {
        WorkbookPart part = book.WorkbookPart!;
        Sheet sheet = part.Workbook!.Descendants<Sheet>().Single(s => s.Name == name);
        return [.. ((WorksheetPart)part.GetPartById(sheet.Id!)).Worksheet!.Descendants<Row>()];
    }

    private static double Number(string text) =>
        text.Length == 0 ? double.NaN : double.Parse(text, CultureInfo.InvariantCulture);
}
