using EchoToThickness.Cli.Tests;
using EchoToThickness.Components;
using EchoToThickness.Reporting.Inspection;
using EchoToThickness.Simulation.Rendering;
using EchoToThickness.Simulation.Scenes;
using EchoToThickness.Statistics;
using EchoToThickness.Statistics.Regions;
using EchoToThickness.Storage.Grids;

namespace EchoToThickness.EndToEnd.Tests;

/// <summary>A small elbow scan taken from scene to grid with the program, in a folder of its own.</summary>
public abstract class ElbowScan : IDisposable
{
    private const string Rest = """

        [coupling]
        thickness = "3.3 mm"
        waviness = "0.15 mm"
        wave_period_along = "110 mm"
        jitter = "0.02 mm"
        reverberation = "12 %"
        [instrument]
        sample_rate = "100 MHz"
        bits = 12
        gain = "70 %"
        noise = "0.25 %"
        """;

    protected ElbowScan(string scene)
    {
        Folder = Directory.CreateTempSubdirectory("ett-elbow").FullName;
        string file = In("scene.toml");
        File.WriteAllText(file, scene + Rest);
        Model = SceneModel.Compile(SceneText.Read(scene + Rest, "scene.toml").Value);
        Stack = In("scan.h5");
        Grid = In("grid.h5");
        Must(Run.Of("simulate", file, "-o", Stack));
        Must(Run.Of("measure", Stack, "-o", Grid, "-q"));
    }

    internal SceneModel Model { get; }

    public string Folder { get; }

    public string Stack { get; }

    public string Grid { get; }

    public string In(string name) => Path.Combine(Folder, name);

    /// <summary>Writes a text file into the folder and gives its path.</summary>
    public string Text(string name, string text)
    {
        File.WriteAllText(In(name), text);
        return In(name);
    }

    internal StitchedMap Map(StatisticsPlan plan)
    {
        using GridFile grid = GridFile.Open(Grid);
        return StatisticsRun.Map(grid, plan);
    }

    internal RegionMap Regions(StitchedMap map, StatisticsPlan plan) =>
        StatisticsRun.Regions(map.ToThicknessMap(), plan, Model.Shape.NominalWallMetres)!;

    public void Dispose()
    {
        Directory.Delete(Folder, recursive: true);
        GC.SuppressFinalize(this);
    }

    private static void Must(Run run)
    {
        if (run.Code != 0)
            throw new InvalidOperationException(run.Words);
    }
}
