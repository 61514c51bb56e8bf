using System.CommandLine;
using EchoToThickness.Cli.Terminal;
using EchoToThickness.Measurement;
using EchoToThickness.Pairing;
using EchoToThickness.Reporting.Figures;
using EchoToThickness.Stacks;

namespace EchoToThickness.Cli.Commands;

/// <summary><c>ett explain</c>.</summary>
internal static class ExplainCommand
{
    private const int NeighboursToEachSide = 12;

    public static ToolCommand Create(Talk talk)
    {
        var inputs = new StackInputs();
        Option<string?> procedure = Shared.Procedure();
        var scan = new Option<int>("--scan")
        {
            Description = "Scan position of the cell, counted from 0.",
            HelpName = "I",
            Required = true,
            CustomParser = Numbers.Whole(0),
        };
        var beam = new Option<int>("--beam")
        {
            Description = "Beam of the cell, counted from 0.",
            HelpName = "J",
            Required = true,
            CustomParser = Numbers.Whole(0),
        };
        var figure = new Option<string?>("--output", "-o")
        {
            Description = "Draw the A-scan, its gates and candidates, and its neighbours (.png or .svg).",
            HelpName = "FIGURE",
        };
        var json = new Option<string?>("--json")
        {
            Description = "Also write every decision as JSON.",
            HelpName = "FILE",
        };
        var command = new ToolCommand("explain", "Show how one cell was measured: every stage's decision, in words.")
        {
            Details = "The cell is measured again by the same code as 'measure', so the answer is the one in the grid.",
            Examples =
            [
                ("ett explain scan.h5 --scan 58 --beam 60", "In words."),
                ("ett explain scan.h5 -p bend.toml --scan 58 --beam 60 -o cell.png", "With a picture."),
            ],
        };
        inputs.AddTo(command);
        foreach (Option option in new Option[] { procedure, scan, beam, figure, json })
            command.Add(option);
        command.SetAction(parsed =>
        {
            string? figurePath = parsed.GetValue(figure);
            string? jsonPath = parsed.GetValue(json);
            string? procedurePath = parsed.GetValue(procedure);
            string?[] read = [parsed.GetValue(inputs.Stack), parsed.GetValue(inputs.Layout), procedurePath];
            if (figurePath is not null)
            {
                Files.IsFigure(figurePath);
                Files.CanWrite(figurePath, [], read);
            }
            if (jsonPath is not null)
                Files.CanWrite(jsonPath, [figurePath], read);
            using StackLines lines = inputs.Open(parsed);
            IAScanSource source = lines.Only(parsed.GetRequiredValue(inputs.Stack));
            MeasurementPlan plan = MeasureJob.Plan(
                Files.ReadProcedure(procedurePath),
                procedurePath,
                source.Info,
                talk
            );
            int i = parsed.GetValue(scan);
            int j = parsed.GetValue(beam);
            CheckCell(source.Info, i, j);
            MeasurementTrace trace = Trace(source, plan, i, j);
            IReadOnlyList<(string, double)> budget = CellBudget.Of(plan, trace.Result);
            talk.Data.Write(ExplainPage.Of(trace, plan, budget));
            if (jsonPath is not null)
                Files.WriteText(jsonPath, ExplainJson.Of(trace, plan, budget));
            if (figurePath is not null)
                Draw(source, plan, trace, figurePath);
            return ExitCode.Done;
        });
        return command;
    }

    /// <summary>Draws a cell with its neighbouring beams, as far as beams are neighbours.</summary>
    public static void Draw(IAScanSource source, MeasurementPlan plan, MeasurementTrace trace, string path)
    {
        var neighbours = new List<NeighbourAScan>();
        if (source.Info.Neighbours.HasFlag(NeighbourAxes.Beam))
        {
            int first = Math.Max(0, trace.Beam - NeighboursToEachSide);
            int last = Math.Min(source.Info.Shape.Beams - 1, trace.Beam + NeighboursToEachSide);
            for (int beam = first; beam <= last; beam++)
            {
                MeasurementTrace near = beam == trace.Beam ? trace : Trace(source, plan, trace.Scan, beam);
                CellResult result = near.Result;
                bool present = result.Status != CellStatus.NotScanned;
                neighbours.Add(
                    new NeighbourAScan(
                        beam,
                        present ? near.Signal : [],
                        result.InterfaceSeconds,
                        result.FirstEchoSeconds,
                        result.SecondEchoSeconds
                    )
                );
            }
        }
        AScanFigure.Save(trace, neighbours, path);
    }

    public static MeasurementTrace Trace(IAScanSource source, MeasurementPlan plan, int scan, int beam)
    {
        var trace = new MeasurementTrace();
        trace.Result = MeasurementEngine.Explain(source, plan, scan, beam, trace);
        return trace;
    }

    private static void CheckCell(StackInfo stack, int scan, int beam)
    {
        if (scan >= stack.Shape.Scans || beam >= stack.Shape.Beams)
            throw new UserException(
                $"Cell {scan}, {beam} is outside the stack {stack.Name}.",
                $"scan positions go from 0 to {stack.Shape.Scans - 1}, beams from 0 to {stack.Shape.Beams - 1}."
            );
    }
}
