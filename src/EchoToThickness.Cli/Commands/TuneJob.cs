using System.Globalization;
using EchoToThickness.Cli.Terminal;
using EchoToThickness.Measurement;
using EchoToThickness.Procedures;
using EchoToThickness.Reporting.Figures;
using EchoToThickness.Storage.Files;
using EchoToThickness.Studies.Running;
using EchoToThickness.Studies.Searching;
using EchoToThickness.Studies.Sources;
using EchoToThickness.Studies.Tune;

namespace EchoToThickness.Cli.Commands;

/// <summary>One run of a search: study in, a folder of results out.</summary>
internal sealed record TuneJob
{
    private const string JournalName = "scores.bin";

    public required string StudyPath { get; init; }
    public required string OutputFolder { get; init; }
    public int Threads { get; init; }
    public bool CheckOnly { get; init; }
    public bool Quiet { get; init; }

    public void Run(Talk talk, CancellationToken cancellation)
    {
        TunePlan plan = TunePlan.Read(StudyPath, cancellation);
        if (CheckOnly)
        {
            talk.Data.Write(Summary(plan));
            return;
        }
        if (File.Exists(OutputFolder))
            throw new UserException($"{OutputFolder} is a file.", "name a folder for the results.");
        Directory.CreateDirectory(OutputFolder);
        using ScoreJournal journal = Open(Path.Combine(OutputFolder, JournalName));
        DateTimeOffset started = TimeProvider.System.GetUtcNow();
        TimeSpan took;
        TuneReport report;
        using (var progress = new ProgressLine(talk, "tuning"))
        {
            using var runner = new TuneRunner(
                plan,
                journal,
                new StudyOptions
                {
                    Threads = Threads,
                    Progress = Quiet ? null : progress.Report,
                    Cancellation = cancellation,
                }
            );
            report = TuneAnalysis.Run(plan, runner);
            took = progress.Elapsed;
        }
        int figures = Write(report, cancellation);
        RunLog.Write(
            Path.Combine(OutputFolder, "results.json"),
            started,
            took.TotalSeconds,
            Threads > 0 ? Threads : Environment.ProcessorCount,
            [
                new("program", $"{CommandLineProgram.Name} {VersionCommand.Version}"),
                new("study", StudyPath),
                new("study_sha256", plan.StudySha256),
                new("ascans_measured", report.Work.Measured.ToString(CultureInfo.InvariantCulture)),
                new("ascans_found_finished", report.Work.Found.ToString(CultureInfo.InvariantCulture)),
            ]
        );
        talk.Data.Write(TuneMarkdown.Headline(report));
        if (!Quiet)
            Say(talk, report, figures, took);
    }

    private static ScoreJournal Open(string path)
    {
        try
        {
            return new ScoreJournal(path);
        }
        catch (IOException) when (File.Exists(path))
        {
            throw new UserException(
                $"{path} is held by another program.",
                "wait for the other 'ett tune' on this folder, or name another folder with -o."
            );
        }
    }

    private int Write(TuneReport report, CancellationToken cancellation)
    {
        string In(string name) => Path.Combine(OutputFolder, name);
        Files.WriteText(In("winner.toml"), WinnerFile.Write(report));
        Files.WriteText(In(TuningRecord.FileName), TuningRecord.Of(report).ToJson());
        Files.WriteText(In("results.md"), TuneMarkdown.Write(report));
        Files.WriteText(In("rule-sets.csv"), TuneCsv.RuleSets(report));
        Files.WriteText(In("flips.csv"), TuneCsv.Flips(report));
        Files.WriteText(In("sensitivity.csv"), TuneCsv.Sensitivity(report));
        Files.WriteText(In("results.json"), TuneJson.Write(report));
        int figures = TuneFigureSet.Save(report, OutputFolder).Count;
        if (report.Plan.Study.Report.Figures.Count > 0)
            figures += Explain(report, cancellation);
        return figures;
    }

    /// <summary>Draws the A-scans that the chosen procedure measures worst, as 'explain' does.</summary>
    private int Explain(TuneReport report, CancellationToken cancellation)
    {
        Procedure procedure = WinnerFile.ProcedureOf(report);
        int drawn = 0;
        foreach (
            var line in report
                .Worst.Select((cell, i) => (Cell: cell, Number: i + 1))
                .GroupBy(w => (w.Cell.Point, w.Cell.Block))
        )
        {
            using StudyBlock block = report.Plan.Points[line.Key.Point].Load(line.Key.Block, cancellation);
            MeasurementPlan plan = MeasurementPlan.Compile(procedure, block.Source.Info);
            foreach ((WorstCell cell, int number) in line)
            foreach (string form in report.Plan.Study.Report.Figures)
            {
                ExplainCommand.Draw(
                    block.Source,
                    plan,
                    ExplainCommand.Trace(block.Source, plan, cell.Scan, cell.Beam),
                    Path.Combine(OutputFolder, string.Create(CultureInfo.InvariantCulture, $"worst-{number:00}.{form}"))
                );
                drawn++;
            }
        }
        return drawn;
    }

    private void Say(Talk talk, TuneReport report, int figures, TimeSpan took)
    {
        CultureInfo culture = CultureInfo.InvariantCulture;
        (long measured, long found) = report.Work;
        string again = found > 0 ? $", {StatusWords.Count(found)} found finished" : "";
        talk.Say(
            $"{OutputFolder}: {report.Ranked.Count} rule sets, {StatusWords.Count(measured)} A-scans measured{again}, in "
                + $"{ProgressLine.Duration(took.TotalSeconds)}; winner.toml, results.md, .json, rule-sets.csv and {figures} figures."
        );
        for (int i = 0; i < report.Plan.Axes.Count; i++)
            talk.Say($"  {report.Plan.Axes[i].Name} = {report.Winner.RuleSet.Texts[i]}");
        if (report.KeysAtEnds.Count > 0)
            talk.Say(
                $"At the end of its range: {string.Join(", ", report.KeysAtEnds)}; a better value may lie beyond."
            );
        if (report.Validation is { } validation)
            talk.Say(
                string.Create(
                    culture,
                    $"Cross-validated loss {validation.Loss:0.###} against {validation.SeenLoss:0.###} as the search sees it."
                )
            );
        if (!report.KnowsTruth)
            talk.Say("No wall was known: these figures are self-consistency and say nothing about accuracy.");
    }

    private static string Summary(TunePlan plan)
    {
        TuneStudy study = plan.Study;
        CultureInfo culture = CultureInfo.InvariantCulture;
        var rows = new List<(string, string)>
        {
            ("study", $"{study.Header.Name}, seed {study.Header.Seed.ToString(culture)}"),
            ("base", study.Base.Procedure ?? "the default procedure"),
        };
        foreach (VaryAxis axis in plan.Axes)
            rows.Add(
                (
                    "varied",
                    axis.Axis.IsChoice || (axis.Axis.Levels > 0 && axis.Settings.Values.Count > 0)
                        ? $"{axis.Name}: {string.Join(" | ", Enumerable.Range(0, axis.Axis.Places).Select(i => axis.TextAt(axis.Axis.LevelAt(i))))}"
                        : $"{axis.Name}: {axis.TextAt(0)} to {axis.TextAt(1)}{(axis.Axis.Levels > 0 ? $", {axis.Axis.Levels} values" : "")}"
                )
            );
        rows.Add(("objectives", string.Join(", ", plan.Objectives.Select(o => TuneFigures.WordOf(o.Figure)))));
        if (!plan.KnowsTruth)
            rows.Add(("truth", "none: self-consistency only, which says nothing about accuracy"));
        foreach (var source in plan.Points.GroupBy(p => p.Source))
            rows.Add(
                (
                    source.Key,
                    $"{StatusWords.Count(source.Count())} stacks, {StatusWords.Count(source.Sum(p => Enumerable.Range(0, p.Blocks).Sum(b => p.InfoOf(b).Shape.Cells)))} A-scans"
                )
            );
        double grid = SearchDesign.GridSize(plan.Space);
        int ruleSets = study.Search.Method == SearchMethod.Grid ? (int)grid : study.Search.RuleSets;
        int neighbours = 2 * plan.Axes.Count(a => a.Ordered) * study.Choice.Best;
        rows.Add(
            (
                "search",
                $"{KeyDescription.ChoicesOf(typeof(SearchMethod)).First(c => c.Value.Equals(study.Search.Method)).Choice.Word}, {StatusWords.Count(ruleSets)} rule sets and up to {neighbours} small changes"
            )
        );
        rows.Add(
            (
                "in all",
                $"{StatusWords.Count(plan.Cells)} A-scans, up to {StatusWords.Count(plan.Cells * (ruleSets + neighbours + 1L))} measurements"
            )
        );
        return TextLayout.List(rows, Talk.Columns);
    }
}
