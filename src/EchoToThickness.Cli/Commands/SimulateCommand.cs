using System.CommandLine;
using EchoToThickness.Cli.Terminal;
using EchoToThickness.Simulation.Rendering;
using EchoToThickness.Simulation.Scenes;
using EchoToThickness.Storage.Native;

namespace EchoToThickness.Cli.Commands;

/// <summary><c>ett simulate</c>.</summary>
internal static class SimulateCommand
{
    public static ToolCommand Create(Talk talk, CancellationToken cancellation)
    {
        var inputs = new SceneInputs();
        var output = new Option<string?>("--output", "-o")
        {
            Description = "Native stack file to write (HDF5), with the truth of every cell.",
            HelpName = "FILE",
        };
        var check = new Option<bool>("--check") { Description = "Only read the scene and report every fault in it." };
        var show = new Option<bool>("--show")
        {
            Description = "Only print the scene complete with every default, every key explained.",
        };
        var list = new Option<bool>("--list") { Description = "Only list the scenarios that come with the program." };
        var reference = new Option<bool>("--reference")
        {
            Description = "Only print the page that explains every key of a scene.",
        };
        var contiguous = new Option<bool>("--contiguous")
        {
            Description = "Store samples without compression: larger, and faster to write and measure.",
        };
        var map = new Option<string?>("--map")
        {
            Description = "Draw the true wall of one scan line (.png or .svg).",
            HelpName = "FILE",
        };
        var mapLine = new Option<string?>("--line")
        {
            Description = "Which scan line --map draws; left out: the first.",
            HelpName = "NAME",
        };
        var force = new Option<bool>("--force") { Description = "Replace the file if it exists." };
        var command = new ToolCommand("simulate", "Make a stack with known truth from a scene.")
        {
            Details =
                "A scene is a TOML file: component, wall, coats, coupling, array, scan, instrument, and what goes wrong. The stack carries the "
                + "true wall of every cell and a label for every failure planted in it, for 'score' and for judging rules. The same scene "
                + "gives the same samples on any number of threads. An existing file is kept unless --force is given.",
            Examples =
            [
                ("ett simulate bend.toml -o bend.h5", "A scene of your own."),
                ("ett simulate --scenario steps-and-pits --nps 8 -o elbow.h5", "A shipped one, on NPS 8."),
                ("ett simulate --scenario rough-pipe --show > mine.toml", "Start a scene from a shipped one."),
                ("ett simulate --scenario pit-block -o pits.h5 --map pits.png", "With a picture of the truth."),
                ("ett simulate bend.toml --check", "What is wrong with a scene."),
                ("ett simulate --list", "What is shipped."),
            ],
        };
        inputs.AddTo(command);
        foreach (
            Option option in new Option[] { output, map, mapLine, check, show, list, reference, contiguous, force }
        )
            command.Add(option);
        command.SetAction(parsed =>
        {
            if (parsed.GetValue(list))
                return List(talk);
            if (parsed.GetValue(reference))
            {
                talk.Data.Write(SceneReference.Page());
                return ExitCode.Done;
            }
            SceneInputs.Chosen chosen = inputs.Read(parsed);
            if (parsed.GetValue(show))
            {
                talk.Data.Write(SceneText.Write(chosen.Scene, withComments: true));
                return ExitCode.Done;
            }
            string? path = parsed.GetValue(output);
            if (path is null && !parsed.GetValue(check))
                throw new UserException(
                    "There is no output.",
                    "name the stack to write with -o, or ask for --check or --show."
                );
            if (path is not null)
            {
                Files.CanWrite(path, [], chosen.Path);
                if (File.Exists(path) && !parsed.GetValue(force))
                    throw new UserException($"{path} exists.", "choose another name, or add --force to replace it.");
            }
            string? figure = parsed.GetValue(map);
            if (figure is not null)
            {
                Files.IsFigure(figure);
                Files.CanWrite(figure, [path], chosen.Path);
                if (path is null || parsed.GetValue(check))
                    throw new UserException("A map needs a stack.", "write one with -o, without --check.");
            }
            SceneModel model = chosen.Compile();
            string lineName = parsed.GetValue(mapLine) ?? model.Geometry.LineName(0);
            if (!Enumerable.Range(0, model.Lines).Any(line => model.Geometry.LineName(line) == lineName))
                throw new UserException(
                    $"There is no scan line '{lineName}'.",
                    $"name one from {model.Geometry.LineName(0)} to {model.Geometry.LineName(model.Lines - 1)}."
                );
            if (parsed.GetValue(check))
            {
                talk.Data.Write(
                    $"{chosen.Name}: can be simulated ({StatusWords.Count(model.Cells)} A-scans of {model.Time.Samples} samples in {model.Lines} scan line(s))\n"
                );
                return ExitCode.Done;
            }
            var options = new StackWriterOptions
            {
                Packing = parsed.GetValue(contiguous) ? StackPacking.Contiguous : StackPacking.Deflate,
            };
            SimulateJob.Run(model, path!, options, talk, cancellation);
            if (figure is not null)
                TruthDrawing.Save(path!, model.Lines == 1 ? null : lineName, figure);
            return ExitCode.Done;
        });
        return command;
    }

    private static int List(Talk talk)
    {
        talk.Data.Write(
            TextLayout.List(
                SceneCatalog.Names.Select(name => (name, SceneCatalog.Read(name).Value.Header.Description)),
                Talk.Columns,
                indent: 0
            )
        );
        return ExitCode.Done;
    }
}
