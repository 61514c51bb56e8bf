using System.CommandLine;
using EchoToThickness.Cli.Terminal;

namespace EchoToThickness.Cli.Commands;

/// <summary><c>ett tune</c>.</summary>
internal static class TuneCommand
{
    public static ToolCommand Create(Talk talk, CancellationToken cancellation)
    {
        var study = new Argument<string?>("STUDY")
        {
            Description = "Study file (TOML); docs/tuning.md explains it.",
            Arity = ArgumentArity.ZeroOrOne,
        };
        var output = new Option<string?>("--output", "-o")
        {
            Description =
                "Folder for results and finished pieces; left out: STUDY without its ending, plus '-results'.",
            HelpName = "FOLDER",
        };
        var threads = Shared.StudyThreads();
        var list = new Option<bool>("--list") { Description = "Print the keys of a procedure that can be varied." };
        var check = Shared.CheckStudy();
        var quiet = Shared.Quiet();
        var command = new ToolCommand("tune", "Search for the procedure that measures stacks with known walls best.")
        {
            Details =
                "A study names a base procedure, the keys that are varied over ranges or lists, stacks whose walls are known (simulated, or reference "
                + "blocks), and what is to be small: wrong, missing, inexact walls. Rule sets are looked for over a grid, a Latin hypercube, by a "
                + "model of what was measured so far, or by dropping bad ones early; stages that rule sets share are worked once.\n"
                + "Out come the chosen procedure (winner.toml, the evidence in its header), a ranked table, what is traded for what, which keys "
                + "matter, which cells flip with small changes, maps of what breaks where, and the A-scans that it measures worst. "
                + "Cross-validation says how much of the gain is fitted to these stacks. With truth = \"none\" rule sets are held against "
                + "self-consistency, which says nothing about accuracy.\n"
                + "Finished pieces stay in the folder: an interrupted search goes on where it stopped. tuning-record.json holds the SHA-256 of the "
                + "stacks used; validation on them would prove nothing.",
            Examples =
            [
                ("ett tune gates.toml", "Run a search, or go on with it."),
                ("ett tune gates.toml --check", "See the space and how many A-scans it measures."),
                ("ett tune gates.toml -o out --threads 2", "Into another folder, on two threads."),
                ("ett tune --list", "Keys of a procedure that can be varied."),
            ],
        };
        command.Add(study);
        command.Add(output);
        command.Add(threads);
        command.Add(list);
        command.Add(check);
        command.Add(quiet);
        command.SetAction(parsed =>
        {
            string? path = parsed.GetValue(study);
            if (parsed.GetValue(list))
            {
                if (path is not null)
                    throw new UserException("--list prints keys and runs no study.", "leave the study out.");
                SweepKeys.Print(talk, "procedure");
                return ExitCode.Done;
            }
            if (path is null)
                throw new UserException("No study is named.", "write 'ett tune STUDY.toml'.");
            Files.MustExist(path, "study");
            new TuneJob
            {
                StudyPath = path,
                OutputFolder =
                    parsed.GetValue(output)
                    ?? Path.Combine(
                        Path.GetDirectoryName(path) ?? "",
                        Path.GetFileNameWithoutExtension(path) + "-results"
                    ),
                Threads = parsed.GetValue(threads),
                CheckOnly = parsed.GetValue(check),
                Quiet = parsed.GetValue(quiet),
            }.Run(talk, cancellation);
            return ExitCode.Done;
        });
        return command;
    }
}
