using System.CommandLine;
using System.Text;
using EchoToThickness.Cli.Terminal;
using EchoToThickness.Components;
using EchoToThickness.Procedures;
using EchoToThickness.Reporting.Inspection;

namespace EchoToThickness.Cli.Commands;

/// <summary><c>ett statistics</c>.</summary>
internal static class StatisticsCommand
{
    public static ToolCommand Create(Talk talk)
    {
        var grid = new Argument<string?>("GRID")
        {
            Description = "Grid that 'ett measure' wrote, of one line or several.",
            Arity = ArgumentArity.ZeroOrOne,
        };
        var plan = Plan();
        var overrules = Overrules();
        var machine = new Option<bool>("--machine-only")
        {
            Description =
                "Leave every decision of a person out (overrules, choices of bounds in the plan): the machine's own result, bit for bit.",
        };
        var output = new Option<string?>("--output", "-o")
        {
            Description =
                "JSON file to write, with a page of the same name ending in .md beside it, and the fields of change as NAME-since-DATE.csv; left out: the page is printed.",
            HelpName = "FILE",
        };
        var schema = new Option<bool>("--schema") { Description = "Print the JSON Schema of the result." };
        var defaults = new Option<bool>("--defaults") { Description = "Print a plan with all defaults and comments." };
        var command = new ToolCommand("statistics", "Turn a grid into statements about the component.")
        {
            Details =
                "Puts the lines of a scan together on the plate, pipe or elbow with the true area of every cell, and says how thin, how much of it, "
                + "how sure: coverage and the largest unsampled disc, faults of positions, minimum with its uncertainty and bias, areas below limits, "
                + "regions, spatial structure, and a statement about metal nobody measured, or why there can be none. The plan may ask for change since "
                + "earlier surveys, rates, required walls, remaining strength, averaging and remaining life. A screening; it needs a "
                + "competent person. docs/statistics-guide.md explains it, docs/statistics-plan-reference.md lists the keys of a plan.",
            Examples =
            [
                ("ett statistics grid.h5 --plan plan.toml -o wall.json", "All statistics, as JSON and as a page."),
                (
                    "ett statistics grid.h5 --plan plan.toml --overrules review.toml",
                    "With a reviewer's decisions, and what they change."
                ),
                ("ett statistics --defaults > plan.toml", "A plan to edit."),
            ],
        };
        command.Add(grid);
        foreach (Option option in new Option[] { plan, overrules, machine, output, schema, defaults })
            command.Add(option);
        command.SetAction(parsed =>
        {
            if (parsed.GetValue(schema))
            {
                talk.Data.Write(StatisticsJson.Schema());
                return ExitCode.Done;
            }
            if (parsed.GetValue(defaults))
            {
                talk.Data.Write(TomlBinder.Write(new StatisticsPlan(), withComments: true));
                return ExitCode.Done;
            }
            string path =
                parsed.GetValue(grid)
                ?? throw new UserException("No grid is named.", "write ett statistics GRID --plan PLAN.");
            Files.MustExist(path, "grid");
            string? target = parsed.GetValue(output);
            string? page = target is null ? null : Path.ChangeExtension(target, ".md");
            if (target is not null)
            {
                Files.CanWrite(target, [], path, parsed.GetValue(plan), parsed.GetValue(overrules));
                Files.CanWrite(page!, [target], path, parsed.GetValue(plan), parsed.GetValue(overrules));
            }
            string? planPath = parsed.GetValue(plan);
            StatisticsPlan chosen = ReadPlan(planPath);
            string[] fields = target is null
                ? []
                : [.. chosen.Change.Earlier.Select(e => Path.ChangeExtension(target, null) + $"-since-{e.Date}.csv")];
            foreach (string field in fields)
                Files.CanWrite(field, [target, page], path, planPath, parsed.GetValue(overrules));
            StatisticsReport report = StatisticsRun.Run(
                path,
                chosen,
                parsed.GetValue(machine) ? null : ReadOverrules(parsed.GetValue(overrules)),
                VersionCommand.Version,
                planPath is null ? "" : Path.GetDirectoryName(Path.GetFullPath(planPath)) ?? "",
                parsed.GetValue(machine)
            );
            string words = StatisticsMarkdown.Write(report);
            if (target is null)
            {
                talk.Data.Write(words);
                return ExitCode.Done;
            }
            Files.WriteText(target, StatisticsJson.Write(report));
            Files.WriteText(page!, words);
            foreach (SurveyChange change in report.Changes)
                Files.WriteText(
                    Path.ChangeExtension(target, null) + $"-since-{change.Date}.csv",
                    ChangeCsv.Write(change)
                );
            talk.Say(
                $"{target}, {page}: smallest {StatusWords.Millimetres(report.Description.Minimum.MeasuredMetres)}"
            );
            foreach (string caution in report.Cautions)
                talk.Say("caution: " + caution);
            return ExitCode.Done;
        });
        return command;
    }

    public static Option<string?> Plan() =>
        new("--plan")
        {
            Description = "Plan of statistics (TOML); left out: the defaults and the facts in the grid.",
            HelpName = "FILE",
        };

    public static Option<string?> Overrules() =>
        new("--overrules")
        {
            Description = "A reviewer's decisions (TOML); docs/component-maps.md.",
            HelpName = "FILE",
        };

    public static StatisticsPlan ReadPlan(string? path)
    {
        if (path is null)
            return new StatisticsPlan();
        Files.MustExist(path, "plan");
        return StatisticsPlan.Read(File.ReadAllText(path, Encoding.UTF8), path);
    }

    public static OverruleFile? ReadOverrules(string? path)
    {
        if (path is null)
            return null;
        Files.MustExist(path, "overrules");
        return OverruleFile.Read(File.ReadAllText(path, Encoding.UTF8), path);
    }
}
