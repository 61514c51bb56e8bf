using System.Globalization;
using EchoToThickness.Cli.Terminal;
using EchoToThickness.Procedures;
using EchoToThickness.Reporting.Figures;
using EchoToThickness.Storage.Files;
using EchoToThickness.Studies.Compare;
using EchoToThickness.Studies.Running;
using EchoToThickness.Studies.StudyFiles;

namespace EchoToThickness.Cli.Commands;

/// <summary>One run of a comparison: study in, a folder of results out.</summary>
internal sealed record CompareJob
{
    public required string StudyPath { get; init; }
    public required string OutputFolder { get; init; }
    public int Threads { get; init; }
    public bool CheckOnly { get; init; }
    public bool Quiet { get; init; }

    public void Run(Talk talk, CancellationToken cancellation)
    {
        StudyPlan plan = StudyPlan.Read(StudyPath, cancellation);
        if (CheckOnly)
        {
            talk.Data.Write(Summary(plan));
            return;
        }
        MakeFolder();
        var store = new UnitStore(Path.Combine(OutputFolder, "units"));
        DateTimeOffset started = TimeProvider.System.GetUtcNow();
        TimeSpan took;
        long measured;
        using (var progress = new ProgressLine(talk, "comparing"))
        {
            measured = StudyRunner.Run(
                plan,
                store,
                new StudyOptions
                {
                    Threads = Threads,
                    Progress = Quiet ? null : progress.Report,
                    Cancellation = cancellation,
                }
            );
            took = progress.Elapsed;
        }
        CompareReport report = CompareAnalysis.Run(plan, store, cancellation);
        IReadOnlyList<MethodTime> times = MethodTime.Of(plan, store);
        int figures = Write(report, times);
        RunLog.Write(
            Path.Combine(OutputFolder, "results.json"),
            started,
            took.TotalSeconds,
            Threads > 0 ? Threads : Environment.ProcessorCount,
            [
                new("program", $"{CommandLineProgram.Name} {VersionCommand.Version}"),
                new("study", StudyPath),
                new("study_sha256", plan.StudySha256),
                new("ascans_measured", measured.ToString(CultureInfo.InvariantCulture)),
                new("ascans_found_finished", (plan.Cells - measured).ToString(CultureInfo.InvariantCulture)),
            ]
        );
        talk.Data.Write(CompareMarkdown.Headline(report));
        if (!Quiet)
            Say(talk, plan, times, measured, figures, took);
    }

    private int Write(CompareReport report, IReadOnlyList<MethodTime> times)
    {
        string In(string name) => Path.Combine(OutputFolder, name);
        Files.WriteText(In("results.md"), CompareMarkdown.Write(report));
        Files.WriteText(In("results.csv"), CompareCsv.Figures(report));
        Files.WriteText(In("paired.csv"), CompareCsv.Paired(report));
        Files.WriteText(In("thresholds.csv"), CompareCsv.Thresholds(report));
        Files.WriteText(In("reliability.csv"), CompareCsv.Reliability(report));
        Files.WriteText(In("times.csv"), CompareCsv.Times(times));
        Files.WriteText(In("results.json"), System.Text.Encoding.UTF8.GetString(CompareJson.Write(report)));
        return CompareFigureSet.Save(report, OutputFolder);
    }

    private void Say(
        Talk talk,
        StudyPlan plan,
        IReadOnlyList<MethodTime> times,
        long measured,
        int figures,
        TimeSpan took
    )
    {
        CultureInfo culture = CultureInfo.InvariantCulture;
        string found = plan.Cells > measured ? $", {StatusWords.Count(plan.Cells - measured)} found finished" : "";
        talk.Say(
            $"{OutputFolder}: {StatusWords.Count(measured)} A-scans measured{found}, in {ProgressLine.Duration(took.TotalSeconds)}; "
                + $"results.md, .csv, .json and {figures} figures."
        );
        foreach (MethodTime time in times.Where(t => t.AScans > 0))
            talk.Say(
                string.Create(culture, $"  {time.Method}: {time.SecondsPerAScan * 1e6:0.#} us per A-scan on one thread")
            );
    }

    private static string Summary(StudyPlan plan)
    {
        CompareStudy study = plan.Study;
        var rows = new List<(string, string)>
        {
            ("study", $"{study.Header.Name}, seed {study.Header.Seed.ToString(CultureInfo.InvariantCulture)}"),
            ("methods", string.Join(", ", plan.Methods.Select(m => m.Name))),
            ("reference", plan.Methods[plan.Reference].Name),
        };
        foreach (var source in plan.Points.GroupBy(p => p.Source))
            rows.Add(
                (
                    source.Key,
                    $"{StatusWords.Count(source.Count())} points, {StatusWords.Count(source.Sum(p => Enumerable.Range(0, p.Blocks).Sum(b => p.InfoOf(b).Shape.Cells)))} A-scans"
                )
            );
        rows.Add(("in all", $"{StatusWords.Count(plan.Cells)} A-scans to measure"));
        return TextLayout.List(rows, Talk.Columns);
    }

    private void MakeFolder()
    {
        if (File.Exists(OutputFolder))
            throw new UserException($"{OutputFolder} is a file.", "name a folder for the results.");
        Directory.CreateDirectory(OutputFolder);
    }
}
