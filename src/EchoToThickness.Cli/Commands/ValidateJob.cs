using System.Globalization;
using EchoToThickness.Cli.Terminal;
using EchoToThickness.Reporting.Figures;
using EchoToThickness.Storage.Files;
using EchoToThickness.Studies.Running;
using EchoToThickness.Studies.Validate;

namespace EchoToThickness.Cli.Commands;

/// <summary>One run of a validation: study in, a folder with the statement out.</summary>
internal sealed record ValidateJob
{
    private const string SubmissionName = "submission.json";

    public required string StudyPath { get; init; }
    public required string OutputFolder { get; init; }
    public int Threads { get; init; }
    public bool CheckOnly { get; init; }
    public bool DesignOnly { get; init; }
    public bool SubmitOnly { get; init; }
    public string? Passphrase { get; init; }
    public bool Quiet { get; init; }

    private string SubmissionPath => Path.Combine(OutputFolder, SubmissionName);

    public int Run(Talk talk, CancellationToken cancellation)
    {
        if (DesignOnly)
        {
            talk.Data.Write(StatementMarkdown.Write(DesignPart.Of(ValidatePlan.ReadStudy(StudyPath))));
            return ExitCode.Done;
        }
        ValidatePlan plan = ValidatePlan.Read(StudyPath, Passphrase, cancellation);
        if (CheckOnly)
        {
            talk.Data.Write(Summary(plan));
            return ExitCode.Done;
        }
        if (plan.Scans.Count == 0)
            throw new UserException(
                "The study has no scans.",
                "add a [[scan]], or give --design to see how much must be scanned."
            );
        MakeFolder();
        DateTimeOffset started = TimeProvider.System.GetUtcNow();
        var store = new UnitStore(Path.Combine(OutputFolder, "units"));
        TimeSpan took;
        IReadOnlyList<IReadOnlyList<MethodResult>> results;
        IReadOnlyList<ScanCells> lines = [];
        using (var progress = new ProgressLine(talk, "measuring"))
        {
            var measurer = new ScanMeasurer(
                plan,
                store,
                new StudyOptions
                {
                    Threads = Threads,
                    Progress = Quiet ? null : progress.Report,
                    Cancellation = cancellation,
                }
            );
            results = measurer.Measure();
            if (!plan.IsSealed && !SubmitOnly)
                lines = measurer.WithTruth(results);
            took = progress.Elapsed;
        }
        string hash = ScanMeasurer.HashOf(results);
        if (SubmitOnly)
            return Submit(talk, plan, hash);
        if (plan.IsSealed)
            throw new UserException(
                "A drawing is sealed.",
                File.Exists(SubmissionPath)
                    ? $"give --passphrase-file when the keeper of the block has {SubmissionPath}."
                    : "write the submission with --submit, give it to the keeper of the block, then give --passphrase-file."
            );
        ValidationStatement statement = ValidateAnalysis.Run(plan, lines, Events(plan, hash));
        int figures = Write(statement);
        RunLog.Write(
            Path.Combine(OutputFolder, "statement.json"),
            started,
            took.TotalSeconds,
            Threads > 0 ? Threads : Environment.ProcessorCount,
            [
                new("program", $"{CommandLineProgram.Name} {VersionCommand.Version}"),
                new("study", StudyPath),
                new("study_sha256", plan.StudySha256),
                new("procedure_sha256", plan.ProcedureSha256),
                new("results_sha256", hash),
                new("ascans", plan.Cells.ToString(CultureInfo.InvariantCulture)),
            ]
        );
        talk.Data.WriteLine(StatementMarkdown.Summary(statement));
        talk.Data.Write(CriteriaTable(statement));
        if (!Quiet)
        {
            foreach (string warning in statement.Warnings)
                talk.Say("Warning: " + warning);
            talk.Say(
                $"{OutputFolder}: {StatusWords.Count(plan.Cells)} A-scans of {plan.Scans.Count} scans in {ProgressLine.Duration(took.TotalSeconds)}; statement.md and .json, readings.csv, indications.csv and {figures} figures."
            );
        }
        return statement.Verdict == CriterionVerdict.Pass || statement.Criteria.Count == 0
            ? ExitCode.Done
            : ExitCode.CheckFailed;
    }

    private int Submit(Talk talk, ValidatePlan plan, string hash)
    {
        if (!plan.Scans.Any(s => s.Sealed is not null))
            throw new UserException(
                "No drawing is sealed, so there is nothing to be blind to.",
                "name sealed drawings in the study, or leave --submit out."
            );
        if (Passphrase is not null)
            throw new UserException(
                "A submission is made while the drawings are sealed.",
                "leave --passphrase-file out."
            );
        if (File.Exists(SubmissionPath))
            throw new UserException(
                $"{SubmissionPath} is there already; a second one would not be blind.",
                "begin anew in another folder (-o), and say so to the keeper of the block."
            );
        BlindSubmission submission = BlindSubmission.Of(plan, hash, TimeProvider.System.GetUtcNow());
        Files.WriteText(SubmissionPath, submission.Write());
        talk.Data.WriteLine($"{SubmissionPath}: results {hash}");
        talk.Say("Give this file to the keeper of the block; the passphrase comes back in exchange.");
        return ExitCode.Done;
    }

    private (StatementSection Section, IReadOnlyList<string> Warnings)? Events(ValidatePlan plan, string hash)
    {
        if (!plan.Scans.Any(s => s.Sealed is not null))
            return null;
        BlindSubmission? submission = File.Exists(SubmissionPath)
            ? BlindSubmission.Read(File.ReadAllText(SubmissionPath), SubmissionPath)
            : null;
        return BlindSubmission.Describe(plan, submission, hash, OpenedAt());
    }

    /// <summary>The first opening counts: it is kept beside the submission.</summary>
    private DateTimeOffset OpenedAt()
    {
        string path = Path.Combine(OutputFolder, "opened.txt");
        if (
            File.Exists(path)
            && DateTimeOffset.TryParse(
                File.ReadAllText(path),
                CultureInfo.InvariantCulture,
                DateTimeStyles.AssumeUniversal,
                out DateTimeOffset before
            )
        )
            return before;
        DateTimeOffset now = TimeProvider.System.GetUtcNow();
        Files.WriteText(path, now.ToString("O", CultureInfo.InvariantCulture) + "\n");
        return now;
    }

    private int Write(ValidationStatement statement)
    {
        string In(string name) => Path.Combine(OutputFolder, name);
        Files.WriteText(In("statement.md"), StatementMarkdown.Write(statement));
        Files.WriteText(In("statement.json"), System.Text.Encoding.UTF8.GetString(StatementJson.Write(statement)));
        Files.WriteText(In("readings.csv"), StatementCsv.Readings(statement));
        Files.WriteText(In("indications.csv"), StatementCsv.Indications(statement));
        return ValidationFigureSet.Save(statement, OutputFolder);
    }

    private static string CriteriaTable(ValidationStatement statement)
    {
        var rows = statement.Criteria.Select(c => (VerdictWords.Of(c.Verdict), StatementMarkdown.OneLine(c)));
        return TextLayout.List(rows, Talk.Columns);
    }

    private static string Summary(ValidatePlan plan)
    {
        var rows = new List<(string, string)>
        {
            ("study", plan.Study.Header.Name),
            ("procedure", $"{plan.Study.Procedure.File ?? "the default procedure"}, SHA-256 {plan.ProcedureSha256}"),
            ("frozen", plan.WasFrozen ? "yes" : "no: [procedure] sha256 is not given"),
            ("scans", plan.Scans.Count.ToString(CultureInfo.InvariantCulture)),
            ("blocks", string.Join(", ", plan.Scans.Select(s => s.Block).Distinct())),
            ("A-scans", StatusWords.Count(plan.Cells)),
            ("criteria", plan.Study.Criteria.Count.ToString(CultureInfo.InvariantCulture)),
        };
        if (plan.IsSealed)
            rows.Add(("sealed", string.Join(", ", plan.Scans.Where(s => !s.HasTruth).Select(s => s.Block).Distinct())));
        if (plan.SeenByTuning.Count > 0)
            rows.Add(("seen by tuning", string.Join(", ", plan.SeenByTuning)));
        return TextLayout.List(rows, Talk.Columns);
    }

    private void MakeFolder()
    {
        if (File.Exists(OutputFolder))
            throw new UserException($"{OutputFolder} is a file.", "give a folder with -o.");
        Directory.CreateDirectory(OutputFolder);
    }
}
