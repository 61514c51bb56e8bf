using System.CommandLine;
using EchoToThickness.Cli.Terminal;
using EchoToThickness.Components;
using EchoToThickness.Reporting.Export;
using EchoToThickness.Reporting.Inspection;
using EchoToThickness.Statistics;
using EchoToThickness.Statistics.Regions;
using EchoToThickness.Storage.Grids;

namespace EchoToThickness.Cli.Commands;

/// <summary><c>ett export</c>.</summary>
internal static class ExportCommand
{
    public static ToolCommand Create(Talk talk, CancellationToken cancellation)
    {
        var grid = new Argument<string>("GRID") { Description = "Grid that 'ett measure' wrote." };
        var plan = StatisticsCommand.Plan();
        var overrules = StatisticsCommand.Overrules();
        var output = new Option<string[]>("--output", "-o")
        {
            Description = "File to write; its ending says what (below). May be given several times.",
            HelpName = "FILE",
            Required = true,
        };
        var matrix = new Option<bool>("--matrix")
        {
            Description = "CSV as a matrix of walls in place of a row a cell.",
        };
        var force = new Option<bool>("--force") { Description = "Replace files that exist." };
        var command = new ToolCommand("export", "Write the map of the component for other programs.")
        {
            Details =
                "The lines are put together as 'ett statistics' does it. Endings: "
                + string.Join("; ", MapExport.Endings.Select(e => $"{e.Key} {e.Value}"))
                + ". Missing cells stay missing in all of them; datum, units and origin are in every file, or beside it in one ending in .json. An existing file is kept unless --force is given. The lines as measured: 'ett measure --csv'.",
            Examples =
            [
                (
                    "ett export grid.h5 --plan plan.toml -o map.png",
                    "The unrolled map, regions below the plan's limit outlined."
                ),
                ("ett export grid.h5 -o wall.parquet", "A table for data frames and SQL."),
                ("ett export grid.h5 -o wall.xlsx -o wall.glb", "A workbook, and the component in 3-D."),
            ],
        };
        command.Add(grid);
        foreach (Option option in new Option[] { output, plan, overrules, matrix, force })
            command.Add(option);
        command.SetAction(parsed =>
        {
            string path = parsed.GetRequiredValue(grid);
            Files.MustExist(path, "grid");
            string[] targets = parsed.GetRequiredValue(output);
            for (int k = 0; k < targets.Length; k++)
            {
                if (!MapExport.Endings.ContainsKey(Path.GetExtension(targets[k]).ToLowerInvariant()))
                    throw new UserException(
                        $"{targets[k]} has none of the known endings.",
                        "end it in one of " + string.Join(", ", MapExport.Endings.Keys) + "."
                    );
                string?[] earlier = [.. targets[..k], .. targets[..k].Select(MapExport.SidecarOf)];
                foreach (string written in new[] { targets[k], MapExport.SidecarOf(targets[k]) }.OfType<string>())
                {
                    if (File.Exists(written) && !parsed.GetValue(force))
                        throw new UserException(
                            written == targets[k]
                                ? $"{written} exists."
                                : $"{written}, which takes the datum and units of {targets[k]}, exists.",
                            "choose another name, or add --force to replace it."
                        );
                    Files.CanWrite(written, earlier, path, parsed.GetValue(plan), parsed.GetValue(overrules));
                }
            }
            StatisticsPlan chosen = StatisticsCommand.ReadPlan(parsed.GetValue(plan));
            OverruleFile? layer = StatisticsCommand.ReadOverrules(parsed.GetValue(overrules));
            StatisticsRun.CheckOverrules(layer, path);
            using GridFile file = GridFile.Open(path);
            StitchedMap map = StatisticsRun.Map(file, chosen, layer);
            RegionMap? regions = StatisticsRun.Regions(
                map.ToThicknessMap(),
                chosen,
                chosen.Component.Over(file.Maps[0].Facts.Component).NominalWallMetres
            );
            ExportFacts facts = ExportFacts.Of(path, file, chosen, map, VersionCommand.Version);
            foreach (string target in targets)
                MapExport.Write(
                    map,
                    regions,
                    chosen.Regions.BelowMetres,
                    facts,
                    parsed.GetValue(matrix),
                    target,
                    cancellation: cancellation
                );
            talk.Say(string.Join(", ", targets));
            return ExitCode.Done;
        });
        return command;
    }
}
