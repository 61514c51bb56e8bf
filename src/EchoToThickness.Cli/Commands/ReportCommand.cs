using System.CommandLine;
using System.Text;
using EchoToThickness.Cli.Terminal;
using EchoToThickness.Reporting.Documents;

namespace EchoToThickness.Cli.Commands;

/// <summary><c>ett report</c>.</summary>
internal static class ReportCommand
{
    private const int MostRegions = 50;

    public static ToolCommand Create(Talk talk)
    {
        var run = new Argument<string?>("RUN")
        {
            Description =
                "JSON file of 'ett statistics', or the folder of results of 'ett compare', 'tune' or 'validate'.",
            Arity = ArgumentArity.ZeroOrOne,
        };
        var output = Text("--output", "HTML file to write; left out: beside the JSON, with its name.", "FILE", "-o");
        var pdf = Text("--pdf", "Also write the report as PDF.", "FILE");
        var grid = Text("--grid", "Inspection: the grid; left out: looked for beside the JSON.", "FILE");
        var stack = Text("--stack", "Inspection: the stack; left out: looked for beside the grid.", "PATH");
        var layout = Text("--layout", "Layout map (TOML) of a foreign stack.", "FILE", "-l");
        var regions = new Option<int>("--regions")
        {
            Description = "Inspection: how many of the thinnest regions get a picture and an A-scan.",
            HelpName = "N",
            DefaultValueFactory = _ => 5,
            CustomParser = Numbers.Whole(0, MostRegions),
        };
        var title = Text("--title", "Title of the report.", "TEXT");
        var component = Text("--component", "Inspection: the component's name, as the reader knows it.", "TEXT");
        var template = Text("--template", "HTML shell in place of the built-in one.", "FILE");
        var print = new Option<bool>("--print-template") { Description = "Print the built-in HTML shell." };
        var command = new ToolCommand("report", "Write a finished run as a report to be read, printed and signed.")
        {
            Details =
                "One HTML file that opens anywhere, without a network and without scripts, and with --pdf the same as PDF. An inspection shows map, "
                + "profiles, regions with their A-scans, statistics, cautions, the uncertainty budget, and the warnings ranked by what they do to the "
                + "result; grid and stack are used when their SHA-256 are those of the run. docs/reports.md explains it.",
            Examples =
            [
                ("ett report wall.json", "An inspection: wall.html."),
                ("ett report wall.json -o bend.html --pdf bend.pdf --component bend-7", "Both forms, with a name."),
                ("ett report results --pdf results.pdf", "A comparison, a search or a validation."),
            ],
        };
        command.Add(run);
        foreach (
            Option option in new Option[]
            {
                output,
                pdf,
                grid,
                stack,
                layout,
                regions,
                title,
                component,
                template,
                print,
            }
        )
            command.Add(option);
        command.SetAction(parsed =>
        {
            if (parsed.GetValue(print))
            {
                talk.Data.Write(PageTemplate.BuiltInText);
                return ExitCode.Done;
            }
            var job = new ReportJob
            {
                RunPath =
                    parsed.GetValue(run)
                    ?? throw new UserException(
                        "No run is named.",
                        "write ett report RUN; ett report --help shows how."
                    ),
                HtmlPath = parsed.GetValue(output),
                PdfPath = parsed.GetValue(pdf),
                GridPath = parsed.GetValue(grid),
                StackPath = parsed.GetValue(stack),
                LayoutPath = parsed.GetValue(layout),
                Regions = parsed.GetValue(regions),
                Title = parsed.GetValue(title),
                Component = parsed.GetValue(component),
                Template = ReadTemplate(parsed.GetValue(template)),
            };
            job.Run(talk);
            return ExitCode.Done;
        });
        return command;
    }

    private static Option<string?> Text(string name, string description, string help, params string[] aliases) =>
        new(name, aliases) { Description = description, HelpName = help };

    private static PageTemplate? ReadTemplate(string? path)
    {
        if (path is null)
            return null;
        Files.MustExist(path, "template");
        return PageTemplate.Parse(File.ReadAllText(path, Encoding.UTF8), path);
    }
}
