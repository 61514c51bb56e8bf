using System.CommandLine;
using System.Globalization;
using EchoToThickness.Cli.Terminal;
using EchoToThickness.Grids;
using EchoToThickness.Measurement;
using EchoToThickness.Procedures;
using EchoToThickness.Simulation.Rendering;
using EchoToThickness.Simulation.Scenes;
using EchoToThickness.Stacks;
using EchoToThickness.Storage.Grids;
using EchoToThickness.Storage.Native;

namespace EchoToThickness.Cli.Commands;

/// <summary><c>ett demo</c>: an invented scan from simulation to score, in seconds.</summary>
internal static class DemoCommand
{
    private const double LimitMetres = 5e-3;
    private const string Scenario = "steps-and-pits";

    public static ToolCommand Create(Talk talk, CancellationToken cancellation)
    {
        var output = new Option<string>("--output", "-o")
        {
            Description = "Folder to fill; made if missing. Files of an earlier demo are replaced.",
            HelpName = "FOLDER",
            DefaultValueFactory = _ => "demo-out",
        };
        var seed = new Option<int>("--seed")
        {
            Description = "Seed of everything random.",
            HelpName = "N",
            CustomParser = Numbers.Whole(0),
            DefaultValueFactory = _ => 20,
        };
        var command = new ToolCommand(
            "demo",
            "Simulate a small scan, measure it, draw it, and score it against its truth."
        )
        {
            Details =
                "The scene is the shipped scenario 'steps-and-pits', made small: one turn around the middle of an NPS 6 elbow, with machined "
                + "steps on one flank, a pit field on the other, thinning at the extrados, a lamination, a deposit, a region of bubbles and "
                + "couplant multiples.",
            Examples = [("ett demo", "Fill demo-out/."), ("ett demo -o try1 --seed 7", "Other noise, another folder.")],
        };
        command.Add(output);
        command.Add(seed);
        command.SetAction(parsed =>
        {
            Run(talk, parsed.GetRequiredValue(output), (ulong)parsed.GetValue(seed), cancellation);
            return ExitCode.Done;
        });
        return command;
    }

    private static void Run(Talk talk, string folder, ulong seed, CancellationToken cancellation)
    {
        if (File.Exists(folder))
            throw new UserException($"{folder} is a file.", "name a folder with -o.");
        Directory.CreateDirectory(folder);
        string In(string name) => Path.Combine(folder, name);
        Scene scene = SmallScene((long)seed);
        SceneModel model = SceneModel.Compile(scene);
        KeepForeign(In("scan.h5"), model);

        string cells = StatusWords.Count(model.Cells);
        talk.Say($"Simulating {cells} A-scans into {In("scan.h5")} ...");
        Files.WriteText(In("scene.toml"), SceneText.Write(scene, withComments: true));
        SimulateJob.Run(model, In("scan.h5"), new StackWriterOptions(), talk, cancellation);
        Files.WriteText(In("procedure.toml"), ProcedureText.Write(new Procedure(), withComments: true));

        var job = new MeasureJob
        {
            StackPath = In("scan.h5"),
            ProcedurePath = In("procedure.toml"),
            GridPath = In("grid.h5"),
            CsvPath = In("grid.csv"),
            MapPath = In("thickness.png"),
            LimitMetres = LimitMetres,
        };
        talk.Say("Measuring with the default procedure ...");
        GridSummary summary = job.Run(talk, cancellation)[0].Summary;
        cancellation.ThrowIfCancellationRequested();
        MapDrawing.SaveUncertainty(In("grid.h5"), null, In("uncertainty.png"));
        MapDrawing.SaveHistogram(In("grid.h5"), null, In("histogram.png"), LimitMetres);

        cancellation.ThrowIfCancellationRequested();
        using StackLines lines = StackLines.Open(In("scan.h5"), null, null);
        IAScanSource source = lines.Only(In("scan.h5"));
        MeasurementPlan plan = MeasureJob.Plan(
            Files.ReadProcedure(In("procedure.toml")),
            In("procedure.toml"),
            source.Info,
            talk
        );
        (int scan, int beam) = Thinnest(In("grid.h5"));
        MeasurementTrace trace = ExplainCommand.Trace(source, plan, scan, beam);
        ExplainCommand.Draw(source, plan, trace, In("thinnest.png"));

        talk.Data.Write($"\nThe demo is in {folder}/\n\n");
        talk.Data.Write(
            TextLayout.List(
                [
                    ("scene.toml", "the scene, every key explained"),
                    ("scan.h5", $"{cells} simulated A-scans, with the true wall of every cell"),
                    ("procedure.toml", "the default procedure, every key explained"),
                    ("grid.h5", "the result: thickness, uncertainty, status and more by cell"),
                    ("grid.csv", "the same as a table"),
                    ("thickness.png", "the map; outlined: below 5 mm"),
                    ("uncertainty.png", "its standard uncertainty"),
                    ("histogram.png", "how many cells have which wall"),
                    ("thinnest.png", Cell(scan, beam, summary)),
                ],
                Talk.Columns
            )
        );
        talk.Data.Write("\nAgainst the truth:\n\n");
        talk.Data.Write(ScoreTable.Heading);
        talk.Data.Write(ScoreTable.Row("demo", ScoreCommand.Score(In("grid.h5"), null, source)));
        talk.Data.Write("\nNext:\n");
        foreach (
            string line in new[]
            {
                $"ett explain {In("scan.h5")} --scan {scan} --beam {beam}",
                $"ett measure {In("scan.h5")} -p {In("procedure.toml")} -o {In("mine.h5")}",
                $"ett describe {In("scan.h5")}",
                $"ett simulate {In("scene.toml")} --seed 7 -o {In("again.h5")}",
                "ett procedure reference",
            }
        )
            talk.Data.Write("  " + line + "\n");
    }

    /// <summary>The shipped scenario with one line around the middle of the bend, coarse enough to finish in seconds.</summary>
    private static Scene SmallScene(long seed)
    {
        Scene scene = SceneCatalog.Read(Scenario).Value;
        return scene with
        {
            Header = scene.Header with { Seed = seed },
            Array = scene.Array with { PitchMetres = 2e-3, ApertureElements = 4 },
            Scan = new ScanSection
            {
                Direction = ScanDirection.Around,
                Lines = 1,
                FirstLine = SceneLength.FromFraction(0.5),
                PitchMetres = 3e-3,
            },
        };
    }

    /// <summary>Refuses to replace a stack that no demo wrote: a folder of real scans may hold one of that name.</summary>
    private static void KeepForeign(string path, SceneModel model)
    {
        if (!File.Exists(path))
            return;
        try
        {
            using StackLines lines = StackLines.Open(path, null, null);
            if (
                lines.Count == 1
                && lines[0].Source is ILabelSource
                && lines[0].Source.Info.Shape == model.Geometry.ShapeOf(0)
            )
                return;
        }
        catch (StackFormatException)
        {
            // Not a native stack, so not the demo's either.
        }
        throw new UserException($"{path} exists, and no demo wrote it.", "name another folder with -o.");
    }

    private static string Cell(int scan, int beam, GridSummary summary) =>
        string.Create(
            CultureInfo.InvariantCulture,
            $"the thinnest cell ({scan}, {beam}: {StatusWords.Millimetres(summary.MinimumThicknessMetres)}) explained"
        );

    private static (int Scan, int Beam) Thinnest(string gridPath)
    {
        using GridFile grid = GridFile.Open(gridPath);
        GridMap map = GridMaps.Choose(grid, null);
        float[] walls = map.ReadFloats(GridLayer.Thickness);
        int thinnest = 0;
        for (int cell = 1; cell < walls.Length; cell++)
        {
            if (float.IsNaN(walls[thinnest]) || walls[cell] < walls[thinnest])
                thinnest = cell;
        }
        return (thinnest / map.Beams, thinnest % map.Beams);
    }
}
