using System.CommandLine;
using EchoToThickness.Cli.Terminal;
using EchoToThickness.Grids;
using EchoToThickness.Stacks;
using EchoToThickness.Storage.Grids;
using EchoToThickness.Studies;

namespace EchoToThickness.Cli.Commands;

/// <summary><c>ett score</c>.</summary>
internal static class ScoreCommand
{
    public static ToolCommand Create(Talk talk)
    {
        var grid = new Argument<string>("GRID") { Description = "Grid to judge." };
        var inputs = new StackInputs();
        Option<double?> missing = Allow("--allow-missing", "missing cells");
        Option<double?> gross = Allow("--allow-gross", "gross errors");
        var heading = new Option<bool>("--no-heading")
        {
            Description = "Only the row, for tables over several stacks.",
        };
        var command = new ToolCommand("score", "Judge a grid against the truth that its stack holds.")
        {
            Details =
                "Missing: no thickness. Gross: off by more than 0.5 mm or 10 % of the wall, whichever is smaller; thick and thin apart, since "
                + "reading thick is the dangerous side. Cycle: off by more than an eighth of a wavelength. Bias, RMSE and P95 are over all "
                + "measured cells, 'RMSE sound' over those that are not gross. Where the wall on the beam axis and the smallest wall under "
                + "the aperture differ by more than 0.5 mm, both and all between are right, and so is 0.5 mm outside. With --allow-... the "
                + "exit code is 1 when there is more.",
            Examples =
            [
                ("ett score grid.h5 scan.h5", "A table row, Markdown."),
                (
                    "ett score grid.h5 raw.h5 -l layout.toml --allow-gross 0",
                    "Fail when a single cell is grossly wrong."
                ),
            ],
        };
        command.Add(grid);
        inputs.AddTo(command);
        command.Add(missing);
        command.Add(gross);
        command.Add(heading);
        command.SetAction(parsed =>
        {
            string path = parsed.GetRequiredValue(grid);
            using StackLines lines = inputs.Open(parsed);
            IAScanSource source = lines.Only(parsed.GetRequiredValue(inputs.Stack));
            AccuracyScore score = Score(path, parsed.GetValue(inputs.Line), source);
            if (!parsed.GetValue(heading))
                talk.Data.Write(ScoreTable.Heading);
            talk.Data.Write(ScoreTable.Row(source.Info.Name, score));
            if (score.ThickOverMinimum > 0)
                talk.Say(
                    $"{StatusWords.Count(score.ThickOverMinimum)} cells read more than 0.5 mm above the smallest wall under the aperture."
                );
            return
                Judge(talk, "missing", score.MissingFraction, parsed.GetValue(missing))
                & Judge(talk, "gross", score.GrossFraction, parsed.GetValue(gross))
                ? ExitCode.Done
                : ExitCode.CheckFailed;
        });
        return command;
    }

    /// <summary>Scores a grid file against the truth of an open stack.</summary>
    public static AccuracyScore Score(string gridPath, string? line, IAScanSource source)
    {
        if (source is not ITruthSource truth || !truth.TruthLayers.Contains("thickness"))
            throw new UserException(
                $"The stack {source.Info.Name} does not hold the true thickness.",
                "use a simulated stack or a reference block, or name the truth in the layout map."
            );
        Files.MustExist(gridPath, "grid");
        using GridFile grid = GridFile.Open(gridPath);
        GridMap map = GridMaps.Choose(grid, line);
        StackShape shape = source.Info.Shape;
        if (map.Scans != shape.Scans || map.Beams != shape.Beams)
            throw new UserException(
                $"{gridPath} has {map.Scans} x {map.Beams} cells, the stack {shape.Scans} x {shape.Beams}.",
                "give the stack that the grid was measured from."
            );
        return AccuracyScore.Of(
            map.ReadFloats(GridLayer.Thickness),
            Array.ConvertAll(map.ReadStatus(), status => (byte)status),
            Read(truth, "thickness", shape),
            truth.TruthLayers.Contains("minimum_thickness") ? Read(truth, "minimum_thickness", shape) : [],
            AccuracyRules.For(source.Info.Acquisition.VelocityMetresPerSecond, source.Info.Acquisition.FrequencyHz)
        );
    }

    private static double[] Read(ITruthSource truth, string layer, StackShape shape)
    {
        var metres = new double[shape.Cells];
        truth.ReadTruth(layer, 0, shape.Scans, metres);
        return metres;
    }

    private static bool Judge(Talk talk, string what, double fraction, double? allowedPercent)
    {
        if (allowedPercent is not { } allowed || fraction * 100 <= allowed)
            return true;
        talk.Say(
            $"Check failed: {StatusWords.Percent(fraction)} {what}, {StatusWords.Percent(allowed / 100)} allowed."
        );
        return false;
    }

    private static Option<double?> Allow(string name, string what) =>
        new(name)
        {
            Description = $"Largest acceptable part of {what}, in percent.",
            HelpName = "PERCENT",
            CustomParser = Numbers.Decimal(0, 100),
        };
}
