using EchoToThickness.Cli.Terminal;
using EchoToThickness.Components;
using EchoToThickness.Reporting.Inspection;
using EchoToThickness.Storage.Grids;
using Xunit;

namespace EchoToThickness.Cli.Tests;

/// <summary>A narrow scan line on a small elbow, measured and exported to every format by the command itself: most of the map is not scanned.</summary>
public sealed class ExportGrid : IDisposable
{
    private const string Scene = """
        [scene]
        name = "small elbow"
        [component]
        kind = "elbow"
        nps = "2"
        schedule = "80"
        [array]
        elements = 20
        aperture_elements = 8
        pitch = "1 mm"
        [scan]
        lines = 1
        pitch = "2 mm"
        """;

    public ExportGrid()
    {
        File.WriteAllText(At("scene.toml"), Scene);
        File.WriteAllText(At("plan.toml"), "[regions]\nbelow = \"5.6 mm\"\n");
        Ran("simulate", At("scene.toml"), "-o", At("stack.h5"));
        Ran("measure", At("stack.h5"), "-o", At("grid.h5"));
        string[] names = ["a.csv", "a.asc", "a.npy", "a.vtk", "a.glb", "a.xlsx", "a.png", "a.svg", "a.parquet"];
        Ran(["export", At("grid.h5"), "--plan", At("plan.toml"), .. names.SelectMany(n => (string[])["-o", At(n)])]);
        Ran("export", At("grid.h5"), "--plan", At("plan.toml"), "--matrix", "-o", At("matrix.csv"));
        using GridFile file = GridFile.Open(At("grid.h5"));
        Facts = file.Maps[0].Facts;
        Map = StatisticsRun.Map(file, StatisticsPlan.Read(File.ReadAllText(At("plan.toml")), "plan"));
        Wall = [.. Map.ThicknessMetres.Select(v => v * 1e3)];
    }

    public string Folder { get; } = Directory.CreateTempSubdirectory("ett-export").FullName;

    public GridFacts Facts { get; }

    public StitchedMap Map { get; }

    /// <summary>Shape [along, around]: mm, NaN where none.</summary>
    public double[] Wall { get; }

    public string At(string name) => Path.Combine(Folder, name);

    public void Dispose() => Directory.Delete(Folder, recursive: true);

    /// <summary>Compares walls read back with the grid's.</summary>
    /// <param name="read">Shape [along, around]: mm, NaN where none.</param>
    /// <param name="tolerance">Half of the last digit that the format keeps, mm.</param>
    public void Holds(IReadOnlyList<double> read, double tolerance)
    {
        Assert.Equal(Wall.Length, read.Count);
        for (int k = 0; k < Wall.Length; k++)
        {
            Assert.Equal(double.IsNaN(Wall[k]), double.IsNaN(read[k]));
            if (!double.IsNaN(Wall[k]))
                Assert.Equal(Wall[k], read[k], tolerance);
        }
    }

    private static void Ran(params string[] arguments)
    {
        Run run = Run.Of(arguments);
        Assert.True(run.Code == ExitCode.Done, run.Words);
    }
}
