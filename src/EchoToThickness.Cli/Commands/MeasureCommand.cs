using System.CommandLine;
using EchoToThickness.Cli.Terminal;

namespace EchoToThickness.Cli.Commands;

/// <summary><c>ett measure</c>.</summary>
internal static class MeasureCommand
{
    public static ToolCommand Create(Talk talk, CancellationToken cancellation)
    {
        var inputs = new StackInputs();
        var procedure = Shared.Procedure();
        var grid = new Option<string>("--output", "-o")
        {
            Description = "Grid to write (HDF5), with GRID.log.json beside it for time and machine.",
            HelpName = "GRID",
            Required = true,
        };
        var csv = new Option<string?>("--csv")
        {
            Description = "Also write the grid as CSV, one row a cell.",
            HelpName = "FILE",
        };
        var map = new Option<string?>("--map")
        {
            Description = "Also draw the thickness map (.png or .svg).",
            HelpName = "FILE",
        };
        Option<double?> limit = Shared.Limit();
        var threads = new Option<int>("--threads")
        {
            Description = "Worker threads; left out: one a processor. Results do not depend on it.",
            HelpName = "N",
            CustomParser = Numbers.Whole(1, 1024),
        };
        var quiet = new Option<bool>("--quiet", "-q")
        {
            Description = "No progress and no summary; warnings and errors remain.",
        };
        var force = new Option<bool>("--force")
        {
            Description = "Replace GRID even if it is not a grid of this program.",
        };
        var command = new ToolCommand("measure", "Turn a stack of A-scans into a grid of wall thickness.")
        {
            Details =
                "Every cell gets a thickness or a reason why not, with its uncertainty and the echoes it rests on. An earlier grid of the "
                + "same name is replaced in one step at the end; anything else of that name is kept unless --force is given. Interrupting "
                + "leaves the earlier file. The stack's SHA-256 is remembered in STACK.sha256.json beside it, if its folder allows.",
            Examples =
            [
                ("ett measure scan.h5 -o grid.h5", "The default procedure."),
                (
                    "ett measure scan.h5 -p bend.toml -o grid.h5 --map map.png --csv grid.csv",
                    "Your procedure, with a map and a table."
                ),
                ("ett measure raw.h5 -l layout.toml -o grid.h5", "A foreign file through a layout map."),
            ],
        };
        inputs.AddTo(command);
        foreach (Option option in new Option[] { procedure, grid, csv, map, limit, threads, quiet, force })
            command.Add(option);
        command.SetAction(parsed =>
        {
            new MeasureJob
            {
                StackPath = parsed.GetRequiredValue(inputs.Stack),
                LayoutPath = parsed.GetValue(inputs.Layout),
                Line = parsed.GetValue(inputs.Line),
                ProcedurePath = parsed.GetValue(procedure),
                GridPath = parsed.GetRequiredValue(grid),
                CsvPath = parsed.GetValue(csv),
                MapPath = parsed.GetValue(map),
                LimitMetres = parsed.GetValue(limit) * 1e-3,
                Threads = parsed.GetValue(threads),
                Quiet = parsed.GetValue(quiet),
                Force = parsed.GetValue(force),
            }.Run(talk, cancellation);
            return ExitCode.Done;
        });
        return command;
    }
}
