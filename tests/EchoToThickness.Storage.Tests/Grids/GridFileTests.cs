using EchoToThickness.Grids;
using EchoToThickness.Pairing;
using EchoToThickness.Stacks;
using EchoToThickness.Storage.Grids;
using EchoToThickness.Storage.Tests.Native;
using Xunit;

namespace EchoToThickness.Storage.Tests.Grids;

public sealed class GridFileTests
{
    private static readonly GridLayer[] AllLayers = [.. GridLayers.All];

    [Theory]
    [InlineData(4, 11, 1)]
    [InlineData(4, 11, 4)]
    [InlineData(3, 4, 4)]
    [InlineData(1, 1, 2)]
    public void Tiles_of_any_shape_from_any_thread_give_the_same_file(int tileScans, int tileBeams, int threads)
    {
        using TemporaryFolder folder = new();
        string path = folder.File("grid.h5");
        WriteGrid(path, AllLayers, tileScans, tileBeams, threads);
        using (GridFile file = GridFile.Open(path))
        {
            GridMap map = Assert.Single(file.Maps);
            Assert.Equal(AllLayers, map.Layers);
            foreach (GridLayer layer in AllLayers.Where(l => GridLayers.TypeOf(l) == GridLayerType.Float32))
            {
                float[] values = map.ReadFloats(layer);
                for (int cell = 0; cell < values.Length; cell++)
                    Assert.Equal(Value(layer, cell), values[cell]);
            }
            CellStatus[] status = map.ReadStatus();
            ushort[] notes = new ushort[status.Length];
            byte[] orders = new byte[status.Length];
            map.ReadNotes(0, notes);
            map.ReadBytes(GridLayer.PairedOrders, 0, orders);
            for (int cell = 0; cell < status.Length; cell++)
            {
                Assert.Equal((CellStatus)(cell % 10), status[cell]);
                Assert.Equal(cell * 7 % 8192, notes[cell]);
                Assert.Equal(cell % 251, orders[cell]);
            }
        }
        string reference = folder.File("reference.h5");
        WriteGrid(reference, AllLayers, 7, 11, 1);
        Assert.Equal(File.ReadAllBytes(reference), File.ReadAllBytes(path));
    }

    [Fact]
    public void Facts_and_positions_read_back()
    {
        using TemporaryFolder folder = new();
        string path = folder.File("grid.h5");
        WriteGrid(path, [GridLayer.Thickness], 7, 11, 1);
        using GridFile file = GridFile.Open(path);
        GridMap map = Assert.Single(file.Maps);
        GridHeader header = Header([GridLayer.Thickness]);
        Assert.Equal([GridLayer.Thickness, GridLayer.Status], map.Layers);
        Assert.Equal(header.ProcedureText, map.Facts.ProcedureText);
        Assert.Equal(header.ProcedureSha256, map.Facts.ProcedureSha256);
        Assert.Equal(new string('a', 64), map.Facts.StackSha256);
        Assert.Equal("plate.h5", map.Facts.StackName);
        Assert.Equal(header.Corrections, map.Facts.Corrections);
        Assert.Equal(header.Warnings, map.Facts.Warnings);
        Assert.Equal(5920, map.Facts.VelocityMetresPerSecond);
        Assert.Equal(header.Stack.Component, map.Facts.Component);
        Assert.Equal(header.Stack.Neighbours, map.Facts.Neighbours);
        Assert.Equal(header.Stack.ScanPositionsMetres, map.ScanPositionsMetres);
        Assert.Equal(header.Stack.IndexPositionsMetres, map.IndexPositionsMetres);
        Assert.Equal([5, 0, 3], map.Facts.CountByStatus.Take(3));
        Assert.Equal(0.0081, map.Facts.MinimumThicknessMetres);
        Assert.True(double.IsNaN(map.Facts.MaximumThicknessMetres));
    }

    [Theory]
    [InlineData(11)]
    [InlineData(4)]
    public void Cells_that_no_tile_covered_are_not_scanned(int tileBeams)
    {
        using TemporaryFolder folder = new();
        string path = folder.File("grid.h5");
        using (GridFileWriter writer = new(path, flushToDisk: false))
        {
            writer.Begin(Header(AllLayers));
            GridTile tile = new(2 * 11, AllLayers);
            Fill(tile, 2, 2, 0, tileBeams);
            writer.Write(tile);
            writer.Complete(Summary());
        }
        using GridFile file = GridFile.Open(path);
        float[] thickness = file.Maps[0].ReadFloats(GridLayer.Thickness);
        CellStatus[] status = file.Maps[0].ReadStatus();
        for (int cell = 0; cell < thickness.Length; cell++)
        {
            bool written = cell / 11 is 2 or 3 && cell % 11 < tileBeams;
            Assert.Equal(written ? (CellStatus)(cell % 10) : CellStatus.NotScanned, status[cell]);
            Assert.Equal(written ? Value(GridLayer.Thickness, cell) : float.NaN, thickness[cell]);
        }
    }

    [Fact]
    public void Several_lines_share_a_file()
    {
        using TemporaryFolder folder = new();
        string path = folder.File("grid.h5");
        using (GridCollectionWriter writer = new(path, flushToDisk: false))
        {
            foreach (string name in new[] { "pass 1", "pass 2" })
            {
                IGridSink line = writer.AddLine(name);
                line.Begin(Header([GridLayer.Thickness]));
                GridTile tile = new(77, [GridLayer.Thickness]);
                Fill(tile, 0, 7, 0, 11);
                line.Write(tile);
                line.Complete(Summary());
            }
            writer.Complete();
        }
        using GridFile file = GridFile.Open(path);
        Assert.Equal(["pass 1", "pass 2"], file.Maps.Select(m => m.Name));
        Assert.Equal(Value(GridLayer.Thickness, 76), file.Maps[1].ReadFloats(GridLayer.Thickness)[76]);
    }

    [Fact]
    public void An_abandoned_grid_leaves_the_old_one()
    {
        using TemporaryFolder folder = new();
        string path = folder.File("grid.h5");
        File.WriteAllText(path, "old");
        using (GridFileWriter writer = new(path))
            writer.Begin(Header(AllLayers));
        Assert.Equal("old", File.ReadAllText(path));
        Assert.Single(Directory.GetFiles(folder.Path));
        StackFormatException e = Assert.Throws<StackFormatException>(() =>
            new GridFileWriter(folder.File("absent/grid.h5"))
        );
        Assert.Contains("make the folder", e.Remedy, StringComparison.Ordinal);
    }

    [Fact]
    public void The_spreadsheet_forms_print_millimetres_and_words()
    {
        using TemporaryFolder folder = new();
        string path = folder.File("grid.h5");
        WriteGrid(path, [GridLayer.Thickness, GridLayer.InterfaceTime, GridLayer.Notes], 7, 11, 1);
        using GridFile file = GridFile.Open(path);
        GridCsvWriter.WriteLong(file, folder.File("long.csv"));
        GridCsvWriter.WriteMatrix(file.Maps[0], GridLayer.Thickness, folder.File("matrix.csv"));
        string[] lines = File.ReadAllLines(folder.File("long.csv"));
        Assert.Equal("line,scan,beam,scan_mm,index_mm,thickness_mm,interface_time_us,notes,status", lines[0]);
        Assert.Equal(1 + 77, lines.Length);
        // Cell 12: scan 1 at 99 mm, beam 1 at 0.5 mm; value 0.008 + 12e-6 m as single precision; status 2.
        Assert.Equal(",1,1,99,0.5,8.012,", lines[13][..18]);
        Assert.EndsWith(",84,NoBackWallEcho", lines[13], StringComparison.Ordinal);
        // Cell 13 holds NaN.
        Assert.StartsWith(",1,2,99,1,,", lines[14], StringComparison.Ordinal);
        string[] matrix = File.ReadAllLines(folder.File("matrix.csv"));
        Assert.StartsWith("thickness_mm,0,0.5,1,", matrix[0], StringComparison.Ordinal);
        Assert.StartsWith("99,8.011,8.012,,", matrix[2], StringComparison.Ordinal);
    }

    internal static GridHeader Header(IReadOnlyList<GridLayer> layers) =>
        new()
        {
            Stack = Native.Stacks.Info() with { Name = "/some/folder/plate.h5" },
            Layers = layers,
            ProcedureText = "format = 1\nname = \"µ test\"\n" + new string('#', 70_000),
            ProcedureSha256 = new string('b', 64),
            ProgramVersion = "0.1.0",
            VelocityMetresPerSecond = 5920,
            VelocityUncertaintyMetresPerSecond = 6,
            VelocitySource = "procedure",
            Corrections = ["temperature: -0.3 m/s", "zero: 12 ns"],
            Warnings = [],
        };

    internal static GridSummary Summary() =>
        new()
        {
            CountByStatus = [5, 0, 3, 0, 0, 0, 0, 0, 0, 0],
            WithThickness = 5,
            MinimumThicknessMetres = 0.0081,
            MaximumThicknessMetres = double.NaN,
            StackSha256 = new string('a', 64),
        };

    private static float Value(GridLayer layer, int cell) =>
        cell % 13 == 0 ? float.NaN : (float)(0.008 + cell * 1e-6 + (int)layer * 1e-3);

    private static void WriteGrid(string path, GridLayer[] layers, int tileScans, int tileBeams, int threads)
    {
        using GridFileWriter writer = new(path, flushToDisk: false);
        writer.Begin(Header(layers));
        List<(int Scan, int Scans, int Beam, int Beams)> tiles = [];
        for (int scan = 0; scan < 7; scan += tileScans)
        {
            for (int beam = 0; beam < 11; beam += tileBeams)
                tiles.Add((scan, Math.Min(tileScans, 7 - scan), beam, Math.Min(tileBeams, 11 - beam)));
        }
        Parallel.For(
            0,
            tiles.Count,
            new ParallelOptions { MaxDegreeOfParallelism = threads },
            i =>
            {
                GridTile tile = new(77, layers);
                Fill(tile, tiles[i].Scan, tiles[i].Scans, tiles[i].Beam, tiles[i].Beams);
                writer.Write(tile);
            }
        );
        writer.Complete(Summary());
    }

    private static void Fill(GridTile tile, int firstScan, int scans, int firstBeam, int beams)
    {
        tile.Place(firstScan, scans, firstBeam, beams);
        for (int i = 0; i < tile.Count; i++)
        {
            int cell = (firstScan + i / beams) * 11 + firstBeam + i % beams;
            foreach (GridLayer layer in tile.Layers.Where(l => GridLayers.TypeOf(l) == GridLayerType.Float32))
                tile[layer][i] = Value(layer, cell);
            if (tile.PairedOrders.Length > 0)
                tile.PairedOrders[i] = (byte)(cell % 251);
            if (tile.EchoCount.Length > 0)
                tile.EchoCount[i] = 3;
            if (tile.Notes.Length > 0)
                tile.Notes[i] = (ushort)(cell * 7 % 8192);
            tile.Status[i] = (byte)(cell % 10);
        }
    }
}
