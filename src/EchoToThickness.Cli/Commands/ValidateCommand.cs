using System.CommandLine;
using EchoToThickness.Cli.Terminal;

namespace EchoToThickness.Cli.Commands;

/// <summary><c>ett validate</c>.</summary>
internal static class ValidateCommand
{
    public static ToolCommand Create(Talk talk, CancellationToken cancellation)
    {
        var study = new Argument<string>("STUDY")
        {
            Description = "Study file (TOML); docs/validating.md explains it. With --seal: a drawing.",
        };
        var output = new Option<string?>("--output", "-o")
        {
            Description =
                "Folder for the statement and finished pieces; left out: STUDY without its ending, plus '-validation'. With --seal: the sealed file.",
            HelpName = "FOLDER",
        };
        var threads = Shared.StudyThreads();
        var check = Shared.CheckStudy();
        var design = new Option<bool>("--design")
        {
            Description =
                "Say how many features, scans and repeats the claim needs, from [design]; nothing is scanned.",
        };
        var seal = new Option<bool>("--seal") { Description = "Seal a drawing under a passphrase, for a blind study." };
        var submit = new Option<bool>("--submit")
        {
            Description = "Measure a blind study and write submission.json, without any truth.",
        };
        var passphrase = new Option<string?>("--passphrase-file")
        {
            Description = "File whose first line is the passphrase of sealed drawings.",
            HelpName = "FILE",
        };
        var quiet = Shared.Quiet();
        var command = new ToolCommand("validate", "Show what a frozen procedure does on reference blocks.")
        {
            Details =
                "A study names a frozen procedure, scans of blocks whose walls are certified, the conditions of each scan, and criteria. Out comes a "
                + "statement that a reviewer can sign or reject: bias, tolerance interval, linearity, repeatability and reproducibility, detection and "
                + "sizing of pits, missing cells, effects of settings, uncertainty, and a verdict for each criterion with the interval that decides it. Cells "
                + "of one feature are not independent: n counts features and scans, and what the data cannot carry is refused.\n"
                + "Stacks that tuning has seen are refused unless the study allows them. A blind study: the keeper of a block seals its drawing (--seal), the "
                + "scans are measured (--submit), and the statement is made when the keeper gives the passphrase in exchange for submission.json.\n"
                + "The exit code is 0 when every criterion passed, 1 when not.",
            Examples =
            [
                ("ett validate block.toml", "Measure, and write the statement."),
                ("ett validate block.toml --design", "How much has to be scanned for the claim."),
                ("ett validate b7.toml --seal --passphrase-file p -o b7.sealed", "Seal a drawing."),
                ("ett validate blind.toml --submit", "Measure while the drawing is sealed."),
                ("ett validate blind.toml --passphrase-file p", "Open the seals, and judge."),
            ],
        };
        command.Add(study);
        command.Add(output);
        command.Add(threads);
        command.Add(check);
        command.Add(design);
        command.Add(seal);
        command.Add(submit);
        command.Add(passphrase);
        command.Add(quiet);
        command.SetAction(parsed =>
        {
            string path = parsed.GetRequiredValue(study);
            Files.MustExist(path, parsed.GetValue(seal) ? "drawing" : "study");
            string? secret = parsed.GetValue(passphrase) is { } file ? ReadPassphrase(file) : null;
            bool[] ways =
            [
                parsed.GetValue(seal),
                parsed.GetValue(submit),
                parsed.GetValue(design),
                parsed.GetValue(check),
            ];
            if (ways.Count(w => w) > 1)
                throw new UserException(
                    "--seal, --submit, --design and --check are different things to do.",
                    "give one of them."
                );
            if (parsed.GetValue(seal))
            {
                SealJob.Run(talk, path, parsed.GetValue(output), secret);
                return ExitCode.Done;
            }
            return new ValidateJob
            {
                StudyPath = path,
                OutputFolder =
                    parsed.GetValue(output)
                    ?? Path.Combine(
                        Path.GetDirectoryName(path) ?? "",
                        Path.GetFileNameWithoutExtension(path) + "-validation"
                    ),
                Threads = parsed.GetValue(threads),
                CheckOnly = parsed.GetValue(check),
                DesignOnly = parsed.GetValue(design),
                SubmitOnly = parsed.GetValue(submit),
                Passphrase = secret,
                Quiet = parsed.GetValue(quiet),
            }.Run(talk, cancellation);
        });
        return command;
    }

    private static string ReadPassphrase(string file)
    {
        Files.MustExist(file, "passphrase file");
        string first = File.ReadLines(file).FirstOrDefault("").Trim();
        return first.Length > 0
            ? first
            : throw new UserException($"{file} holds no passphrase.", "write it into the first line of the file.");
    }
}
