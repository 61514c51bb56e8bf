using System.CommandLine;
using EchoToThickness.Cli.Terminal;

namespace EchoToThickness.Cli.Commands;

/// <summary><c>ett compare</c>.</summary>
internal static class CompareCommand
{
    public static ToolCommand Create(Talk talk, CancellationToken cancellation)
    {
        var study = new Argument<string?>("STUDY")
        {
            Description = "Study file (TOML); docs/studies.md explains it.",
            Arity = ArgumentArity.ZeroOrOne,
        };
        var output = new Option<string?>("--output", "-o")
        {
            Description =
                "Folder for results and finished pieces; left out: STUDY without its ending, plus '-results'.",
            HelpName = "FOLDER",
        };
        var threads = Shared.StudyThreads();
        var list = new Option<string?>("--list")
        {
            Description =
                "Print the keys that can be swept or set, of a 'plate', a 'scene' or a 'procedure', or of a 'study' file.",
            HelpName = "WHAT",
        };
        var check = Shared.CheckStudy();
        var quiet = Shared.Quiet();
        var command = new ToolCommand("compare", "Compare measuring methods on A-scans with known walls.")
        {
            Details =
                "A study names A-scans (exact plates, simulated scenes, stacks with truth), what is varied, and the procedures that take part; "
                + "every method measures the same A-scans. Out come the rates of gross, doubled, halved and missing walls, bias, spread, RMSE and "
                + "its ratio to the Cramer-Rao bound, each with an interval, paired tests, and the signal-to-noise ratio at which each method "
                + "breaks: results.md, .csv and .json, and figures.\n"
                + "Finished pieces stay in the folder 'units' of the results: an interrupted study goes on where it stopped, a method that is "
                + "added later is measured alone, and a change of [report] measures nothing anew. Pieces of another build of the program are not "
                + "used. Results are the same on any number of threads; run times, which are not, stand in times.csv.",
            Examples =
            [
                ("ett compare picks.toml", "Run a study, or go on with it."),
                ("ett compare picks.toml -o out --threads 2", "The same into another folder."),
                ("ett compare picks.toml --check", "See how many A-scans it would measure."),
                ("ett compare --list plate", "Keys of a plate that can be swept."),
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
            if (parsed.GetValue(list) is { } what)
            {
                if (path is not null)
                    throw new UserException("--list prints keys and runs no study.", "leave the study out.");
                SweepKeys.Print(talk, what);
                return ExitCode.Done;
            }
            if (path is null)
                throw new UserException("No study is named.", "write 'ett compare STUDY.toml'.");
            Files.MustExist(path, "study");
            new CompareJob
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
