using EchoToThickness.Grids;
using EchoToThickness.Measurement;
using EchoToThickness.Procedures;
using EchoToThickness.Simulation;
using EchoToThickness.Stacks;
using EchoToThickness.Storage.Foreign;
using EchoToThickness.Studies.Running;
using EchoToThickness.Studies.Sources;
using EchoToThickness.Studies.Tune;
using Xunit;

namespace EchoToThickness.Studies.Tests;

/// <summary>Whole small searches on stacks whose best rule set is known.</summary>
public sealed class TuneTests : IDisposable
{
    private const string Gates = """
        [conditioning]
        signal = "rf"
        [interface]
        level = "50 % of strongest"
        pick = "peak"
        [[gate]]
        name = "one"
        start = "0.6 us"
        width = "2.6 us"
        level = "4 x noise"
        [[gate]]
        name = "two"
        follows = "one"
        start = "0.6 us"
        width = "2.6 us"
        level = "4 x noise"
        [pairing]
        rule = "difference"
        from = "one"
        to = "two"
        minimum_snr = "0 dB"
        [velocity]
        value = "5800 m/s"
        """;

    private const string Velocity = """
        [study]
        name = "which velocity"
        seed = 3
        [base]
        procedure = "gates.toml"
        [[stack]]
        files = ["a.h5", "b.h5", "c.h5"]
        [[vary]]
        key = "velocity.value"
        from = "5600 m/s"
        to = "6200 m/s"
        [[vary]]
        name = "without effect"
        key = "wall.maximum"
        from = "30 mm"
        to = "60 mm"
        [[objective]]
        figure = "rmse"
        per = "10 um"
        [[objective]]
        figure = "gross"
        per = "1 %"
        [search]
        method = "model"
        rule_sets = 20
        batch = 4
        [choice]
        best = 2
        [report]
        figures = []
        worst = 3
        """;

    private readonly string _folder = Directory.CreateTempSubdirectory("ett-tune").FullName;

    public TuneTests()
    {
        File.WriteAllText(Path.Combine(_folder, "gates.toml"), Gates);
        ulong seed = 1;
        foreach (string name in new[] { "a", "b", "c" })
            EchoTrainStack.Write(
                new EchoTrainSource(
                    new EchoTrainScene
                    {
                        Name = name,
                        Seed = seed++,
                        Scans = 20,
                        Beams = 6,
                        Samples = 800,
                        Wall = new WallMap
                        {
                            NominalMetres = 7e-3,
                            Thinnings = [new Thinning(0.010, 0.003, 0.008, 0.008, 1.5e-3)],
                        },
                        Couplant = new CouplantPath(3.3e-3, 0.1e-3, 0.04, 1.5e-3, 0.02e-3),
                        NoiseFraction = 0.002,
                        DropOutFraction = 0.02,
                    }
                ),
                Path.Combine(_folder, name + ".h5"),
                cancellation: TestContext.Current.CancellationToken
            );
    }

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Fact]
    public void Run_WrongVelocity_FindsTheTrueOneAndTheKeyWithoutEffect()
    {
        TuneReport report = Run(Velocity, "a");

        // The scene's metal has 5920 m/s; a wall of 7 mm read with 1 % more is 70 um off, 0.1 % are 7 um.
        Assert.Equal(5920, report.Winner.RuleSet.Procedure.Velocity.ValueMetresPerSecond!.Value, 12.0);
        Assert.True(report.Winner.Value[0] < 12e-6, $"{report.Winner.Value[0]}");
        // 2 % of 7 mm: the base is 140 um off.
        Assert.InRange(report.Base.Value[0], 100e-6, 180e-6);
        // A key without effect has no share, the other all of it.
        Assert.True(report.Sensitivity!.LeaveOneOut > 0.9);
        Assert.Equal(1, report.Sensitivity.Shares.First[0], 0.05);
        Assert.Equal(0, report.Sensitivity.Shares.Total[1], 0.02);
        // Small changes of it flip nothing; those of the velocity move no echo.
        Assert.All(report.Flips, f => Assert.Equal(0, f.Changed));
        // Three stacks: one is left out in turn, and the search has little to fit.
        Assert.Equal("one stack", report.Validation!.LeftOut);
        Assert.Equal(3, report.Validation.Rows.Count);
        Assert.True(report.Validation.Optimism < 0.5 * report.Validation.SeenLoss + 0.1);
    }

    [Fact]
    public void Run_AnyThreadsAndAfterAnInterruption_SameBytes()
    {
        string whole = Pages(Run(Velocity, "one", threads: 1));
        Assert.Equal(whole, Pages(Run(Velocity, "three", threads: 3)));

        using (var stop = new CancellationTokenSource())
        {
            long calls = 0;
            Assert.Throws<OperationCanceledException>(() =>
                Search(
                    Velocity,
                    "stopped",
                    new StudyOptions
                    {
                        Progress = (done, _) =>
                        {
                            if (done > 0 && Interlocked.Increment(ref calls) == 12)
                                stop.Cancel();
                        },
                        Cancellation = stop.Token,
                    }
                )
            );
        }
        TuneReport gone = Run(Velocity, "stopped");
        Assert.Equal(whole, Pages(gone));
        Assert.True(gone.Work.Found > 0);
        // Now everything is there.
        Assert.Equal(0, Run(Velocity, "stopped").Work.Measured);
    }

    [Fact]
    public void Run_TheWinnerMeasuredByItself_HasTheFiguresThatTheSearchReports()
    {
        TuneReport report = Run(Velocity, "a");
        string text = WinnerFile.Write(report);
        Procedure procedure = ProcedureText.Parse(text, "winner.toml");
        Assert.Equal(TuningRecord.Of(report).ProcedureSha256, ProcedureText.Sha256(procedure));
        Assert.Equal("which velocity, tuned", procedure.Header.Name);
        Assert.StartsWith("# Found by 'ett tune': which velocity.", text, StringComparison.Ordinal);

        for (int stack = 0; stack < 3; stack++)
        {
            using IAScanSource source = StackOpener.Open(Path.Combine(_folder, "abc"[stack] + ".h5"))[0].Source;
            MeasurementPlan plan = MeasurementPlan.Compile(
                procedure with
                {
                    Output = new OutputSettings { Layers = MethodResult.Layers },
                },
                source.Info
            );
            var sink = new ResultSink();
            MeasurementEngine.Run(source, plan, plan.CreateHeader(""), sink, new MeasurementOptions { Threads = 1 });
            var truth = new double[source.Info.Shape.Cells];
            ((ITruthSource)source).ReadTruth("thickness", 0, source.Info.Shape.Scans, truth);
            AccuracyScore score = AccuracyScore.Of(
                sink.Result.ThicknessMetres,
                sink.Result.Status,
                truth,
                [],
                AccuracyRules.For(5920, 7e6)
            );
            WindowScore found = report.Winner.Scores[stack];
            Assert.Equal(score.Cells, found[ScoreCount.Cells]);
            Assert.Equal(score.Measured, found[ScoreCount.Measured]);
            Assert.Equal(score.Gross, found[ScoreCount.GrossThick] + found[ScoreCount.GrossThin]);
            // The search keeps errors in single precision: 1e-10 m of a wall.
            Assert.Equal(score.RmseMetres, found.Of(TuneFigure.Rmse), 1e-9);
            Assert.Equal(score.MissingFraction, found.Of(TuneFigure.Missing), 1e-12);
            // The quantile comes from bins of 1 %, and between order statistics either rule may choose.
            Assert.InRange(found.Of(TuneFigure.P95), score.P95Metres * 0.9, score.P95Metres * 1.1);
        }
    }

    [Fact]
    public void Run_Halving_FindsTheSameWithFewerMeasurements()
    {
        string study = Velocity
            .Replace("method = \"model\"", "method = \"halving\"", StringComparison.Ordinal)
            .Replace("rule_sets = 20", "rule_sets = 27", StringComparison.Ordinal);
        TuneReport report = Run(study, "h");
        Assert.Equal(24, report.Dropped);
        Assert.True(report.Winner.Loss < 0.5 * report.Base.Loss);
        // 27 x 1/9 + 9 x (1/3 - 1/9) + 3 x (1 - 1/3), the base, and up to 2 x 4 small changes: far under 27 whole ones and these.
        Assert.True(report.Work.Measured < (3 + 2 + 2 + 1 + 8 + 1) * report.Plan.Cells);
    }

    [Fact]
    public void Run_Grid_MeasuresEveryCombination()
    {
        string study = Velocity
            .Replace("method = \"model\"", "method = \"grid\"", StringComparison.Ordinal)
            .Replace("to = \"6200 m/s\"", "to = \"6200 m/s\"\nsteps = 7", StringComparison.Ordinal)
            .Replace("to = \"60 mm\"", "to = \"60 mm\"\nsteps = 2", StringComparison.Ordinal);
        TuneReport report = Run(study, "g");
        // 7 x 2 and the base; small changes are steps of the grid, so nothing new.
        Assert.Equal(15, report.Ranked.Count);
        Assert.Equal("5900 m/s", report.Winner.RuleSet.Texts[0]);
        // The neighbours of 5900 m/s are 5800 and 6000.
        Assert.Equal(
            ["5800 m/s", "6000 m/s"],
            report.Best[0].Neighbours.Where(n => n.Axis == 0).Select(n => n.Text).Order()
        );
    }

    [Fact]
    public void Run_WithoutTruth_SaysSoEverywhere()
    {
        string study = Velocity
            .Replace("[search]", "[judge]\ntruth = \"none\"\n[search]", StringComparison.Ordinal)
            .Replace("figure = \"rmse\"\nper = \"10 um\"", "figure = \"disagreement\"", StringComparison.Ordinal)
            .Replace("figure = \"gross\"\nper = \"1 %\"", "figure = \"repeatability\"", StringComparison.Ordinal)
            .Replace(
                "[[vary]]\nkey = \"velocity.value\"",
                "[[repeat]]\nfirst = \"a.h5\"\nsecond = \"b.h5\"\n[[vary]]\nkey = \"velocity.value\"",
                StringComparison.Ordinal
            )
            .Replace("rule_sets = 20", "rule_sets = 8", StringComparison.Ordinal);
        TuneReport report = Run(study, "n");
        Assert.Contains("nothing on this page is accuracy", TuneMarkdown.Write(report), StringComparison.Ordinal);
        Assert.Contains("self-consistency, not accuracy", TuneMarkdown.Headline(report), StringComparison.Ordinal);
        Assert.Contains("NOT HELD AGAINST ANY KNOWN WALL", WinnerFile.Write(report), StringComparison.Ordinal);
        Assert.Contains("not accuracy", TuneJson.Write(report), StringComparison.Ordinal);
        Assert.False(TuningRecord.Of(report).KnewTruth);
        Assert.DoesNotContain("rmse", TuneMarkdown.Write(report), StringComparison.Ordinal);
        // a and b are one wall with different noise and coupling: they repeat, and the two spacings agree but for the pick of the interface.
        Assert.InRange(report.Winner.Scores[0].Of(TuneFigure.Repeatability), 0, 0.05);
        Assert.Equal(0, report.Winner.Scores[1][ScoreCount.Repeats]);
    }

    [Fact]
    public void Record_WrittenAndRead_HoldsTheHashesOfTheFiles()
    {
        TuneReport report = Run(Velocity, "a");
        string path = Path.Combine(_folder, TuningRecord.FileName);
        File.WriteAllText(path, TuningRecord.Of(report).ToJson());
        TuningRecord record = TuningRecord.Read(path);
        string hash = Convert.ToHexStringLower(
            System.Security.Cryptography.SHA256.HashData(File.ReadAllBytes(Path.Combine(_folder, "b.h5")))
        );
        Assert.True(record.Holds(hash));
        Assert.False(record.Holds(new string('0', 64)));
        Assert.True(record.KnewTruth);
        File.WriteAllText(path, "{\"format\": \"something\"}");
        Assert.Contains(
            "tuning record",
            Assert.Throws<StackFormatException>(() => TuningRecord.Read(path)).Message,
            StringComparison.Ordinal
        );
    }

    [Theory]
    [InlineData("key = \"velocity.value\"", "key = \"velocity.valu\"", "study.toml(10", "did you mean 'value'")]
    [InlineData("to = \"6200 m/s\"", "to = \"6200\"", "study.toml(11", "different units")]
    [InlineData("to = \"6200 m/s\"", "to = \"5000 m/s\"", "study.toml(11", "not above")]
    [InlineData("to = \"6200 m/s\"", "to = \"6200 m/s\"\nvalues = [\"1 m/s\"]", "study.toml(8", "exclude each other")]
    [InlineData("from = \"30 mm\"\nto = \"60 mm\"", "values = [\"30 mm\", \"60\"]", "study.toml(15", "unit")]
    [InlineData(
        "from = \"30 mm\"\nto = \"60 mm\"",
        "from = \"-30 mm\"\nto = \"60 mm\"\nscale = \"log\"",
        "study.toml(17",
        "no logarithm"
    )]
    [InlineData("per = \"10 um\"", "per = \"10 %\"", "study.toml(19", "length")]
    [InlineData("figure = \"gross\"", "figure = \"pits-missed\"", "study.toml(21", "wall_limit")]
    [InlineData("figure = \"gross\"", "figure = \"rmse\"", "study.toml(21", "twice")]
    [InlineData("figure = \"gross\"", "figure = \"grass\"", "study.toml(21", "did you mean \"gross\"")]
    [InlineData("[search]", "[judge]\ntruth = \"none\"\n[search]", "study.toml(18", "needs the true wall")]
    [InlineData("files = [\"a.h5\", \"b.h5\", \"c.h5\"]", "files = []", "study.toml(7", "No file")]
    [InlineData("procedure = \"gates.toml\"", "procedure = \"gate.toml\"", "study.toml(5", "no procedure gate.toml")]
    [InlineData("from = \"30 mm\"\nto = \"60 mm\"", "steps = 3", "study.toml(12", "Nothing is said")]
    public void Read_FaultyStudy_SaysFileLineAndFix(string good, string bad, string place, string words)
    {
        string study = Write(Velocity.Replace(good, bad, StringComparison.Ordinal));
        ProcedureException error = Assert.Throws<ProcedureException>(() =>
            TunePlan.Read(study, TestContext.Current.CancellationToken)
        );
        Assert.Contains(place, error.Message, StringComparison.Ordinal);
        Assert.Contains(words, error.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Read_GridTooLarge_SaysHowLarge()
    {
        string study = Write(
            Velocity
                .Replace("method = \"model\"", "method = \"grid\"", StringComparison.Ordinal)
                .Replace("to = \"6200 m/s\"", "to = \"6200 m/s\"\nsteps = 40", StringComparison.Ordinal)
        );
        ProcedureException error = Assert.Throws<ProcedureException>(() =>
            TunePlan.Read(study, TestContext.Current.CancellationToken)
        );
        Assert.Contains("200 rule sets (40 x 5)", error.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Run_CombinationsThatTheProcedureRefuses_AreCountedNotMeasured()
    {
        string study = Velocity
            .Replace(
                "name = \"without effect\"\nkey = \"wall.maximum\"\nfrom = \"30 mm\"\nto = \"60 mm\"",
                "name = \"rule\"\noptions = [\"wall to wall:\", \"nobody: pairing.to = three\"]",
                StringComparison.Ordinal
            )
            .Replace("method = \"model\"", "method = \"latin-hypercube\"", StringComparison.Ordinal)
            .Replace("rule_sets = 20", "rule_sets = 8", StringComparison.Ordinal);
        TuneReport report = Run(study, "r");
        (string reason, int count) = Assert.Single(report.Plan.Refusals);
        Assert.Contains("three", reason, StringComparison.Ordinal);
        Assert.True(count >= 4);
        Assert.All(
            report.Ranked.Where(r => r.RuleSet.Point.Length > 0),
            r => Assert.Equal("wall to wall", r.RuleSet.Texts[1])
        );
    }

    private TuneReport Run(string study, string results, int threads = 2) =>
        Search(study, results, new StudyOptions { Threads = threads });

    private TuneReport Search(string study, string results, StudyOptions options)
    {
        TunePlan plan = TunePlan.Read(Write(study), TestContext.Current.CancellationToken);
        string folder = Path.Combine(_folder, results);
        Directory.CreateDirectory(folder);
        using var journal = new ScoreJournal(Path.Combine(folder, "scores.bin"));
        using var runner = new TuneRunner(plan, journal, options);
        return TuneAnalysis.Run(plan, runner);
    }

    private string Write(string study)
    {
        string path = Path.Combine(_folder, "study.toml");
        File.WriteAllText(path, study);
        return path;
    }

    private static string Pages(TuneReport report) =>
        TuneMarkdown.Write(report)
        + TuneCsv.RuleSets(report)
        + TuneCsv.Flips(report)
        + TuneCsv.Sensitivity(report)
        + TuneJson.Write(report)
        + WinnerFile.Write(report)
        + TuningRecord.Of(report).ToJson();
}
