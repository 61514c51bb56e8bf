using System.Security.Cryptography;
using EchoToThickness.Procedures;
using EchoToThickness.Studies.Compare;
using EchoToThickness.Studies.Running;
using EchoToThickness.Studies.Sources;
using EchoToThickness.Studies.StudyFiles;
using Xunit;

namespace EchoToThickness.Studies.Tests;

/// <summary>Whole small studies: planted faults are found with their size, and running has no part in the result.</summary>
public sealed class CompareTests : IDisposable
{
    private const string Study = """
        [study]
        name = "planted"
        repeats = 60
        [[plate]]
        name = "plate"
        wall = "8 mm"
        [[sweep]]
        key = "snr"
        values = ["10 dB", "20 dB", "40 dB"]
        [[method]]
        name = "right"
        [[method]]
        name = "one percent thick"
        set = ["velocity.value = 5979.2 m/s"]
        [report]
        bootstrap = 300
        """;

    private readonly string _folder = Directory.CreateTempSubdirectory("ett-compare").FullName;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Fact]
    public void Run_WrongVelocity_IsFoundBiasedByOnePercent()
    {
        CompareReport report = Run(Study, "a", new StudyOptions { Threads = 2 });

        CompareRow right = Row(report, GroupKind.Point, "snr 40 dB", "right");
        CompareRow wrong = Row(report, GroupKind.Point, "snr 40 dB", "one percent thick");
        // Walls 7.9 to 8.1 mm, mean 8 mm within 8 um at 60 records: 1 % of it is 80 um. The bound at 40 dB is 0.06 um.
        Assert.Equal(0, right[CompareFigure.Bias].Value, 0.1e-6);
        Assert.Equal(80e-6, wrong[CompareFigure.Bias].Value, 0.3e-6);
        Assert.InRange(
            80e-6,
            wrong[CompareFigure.Bias].Interval.Low - 0.3e-6,
            wrong[CompareFigure.Bias].Interval.High + 0.3e-6
        );
        Assert.Equal(0, wrong[CompareFigure.Gross].Value);
        // RMSE² = bias² + spread², by their definitions with n and n - 1.
        double n = wrong.Measured;
        Assert.Equal(
            wrong[CompareFigure.Rmse].Value,
            Math.Sqrt(
                Math.Pow(wrong[CompareFigure.Bias].Value, 2)
                    + (n - 1) / n * Math.Pow(wrong[CompareFigure.Deviation].Value, 2)
            ),
            1e-12
        );
        PairedRow pair = report.Paired.Single(p => p.Group.Kind == GroupKind.Source);
        Assert.Equal("one percent thick", pair.Method);
        Assert.True(pair.RmseRatio.Interval.Low > 5);
        Assert.True(pair.WilcoxonAdjusted < 1e-6);
        Assert.Equal((0, 0), (pair.MoreGross, pair.FewerGross));
    }

    [Fact]
    public void Run_GoodMethod_SitsOnTheBoundAndTheBiasedOneBreaksFirst()
    {
        CompareReport report = Run(Study, "a", new StudyOptions { Threads = 1 });
        FigureValue ratio = Row(report, GroupKind.Point, "snr 20 dB", "right")[CompareFigure.BoundRatio];
        // 60 records know a ratio of spreads to 9 %: within four of these of 1.
        Assert.InRange(ratio.Value, 0.64, 1.36);
        ThresholdRow[] thresholds = [.. report.Thresholds];
        Assert.Equal(["right", "one percent thick"], thresholds.Select(t => t.Method));
        Assert.True(double.IsNegativeInfinity(thresholds[0].Decibels.Value));
        // A bias of 80 um over a bound of 0.06 um is far above 3 dB at the top of the sweep already.
        Assert.True(double.IsPositiveInfinity(thresholds[1].Decibels.Value));
    }

    [Fact]
    public void Run_AnyThreadsInterruptedOrNot_GivesTheSameBytes()
    {
        CompareReport straight = Run(Study, "one", new StudyOptions { Threads = 1 });
        CompareReport threaded = Run(Study, "two", new StudyOptions { Threads = 3 });
        using var stop = new CancellationTokenSource();
        Assert.ThrowsAny<OperationCanceledException>(() =>
            Run(
                Study,
                "three",
                new StudyOptions
                {
                    Threads = 1,
                    Cancellation = stop.Token,
                    Progress = (done, _) =>
                    {
                        if (done >= 120)
                            stop.Cancel();
                    },
                }
            )
        );
        int kept = Directory.GetFiles(Path.Combine(_folder, "three"), "*.unit").Length;
        Assert.InRange(kept, 2, 8);
        // A piece cut short by a crash of the machine counts as not there.
        string cut = Directory.GetFiles(Path.Combine(_folder, "three"), "*.unit").Order(StringComparer.Ordinal).First();
        File.WriteAllBytes(cut, File.ReadAllBytes(cut)[..100]);
        CompareReport resumed = Run(Study, "three", new StudyOptions { Threads = 2 });

        Assert.Equal(CompareJson.Write(straight), CompareJson.Write(threaded));
        Assert.Equal(CompareJson.Write(straight), CompareJson.Write(resumed));
        Assert.Equal(CompareMarkdown.Write(straight), CompareMarkdown.Write(resumed));
        Assert.Equal(CompareCsv.Figures(straight), CompareCsv.Figures(resumed));
        Assert.Equal(Units("one"), Units("two"));
        Assert.Equal(Units("one"), Units("three"));
    }

    [Fact]
    public void Run_Again_MeasuresOnlyWhatIsNew()
    {
        StudyPlan plan = Plan(Study);
        var store = new UnitStore(Path.Combine(_folder, "units"));
        Assert.Equal(2 * 180, StudyRunner.Run(plan, store, new StudyOptions()));
        Assert.Equal(0, StudyRunner.Run(plan, store, new StudyOptions()));
        StudyPlan more = Plan(Study + "\n[[method]]\nname = \"third\"\nset = [\"train.weakest_ratio = 6\"]\n");
        Assert.Equal(180, StudyRunner.Run(more, store, new StudyOptions()));
        // Another level of intervals is no other measurement.
        StudyPlan judged = Plan(
            Study.Replace("bootstrap = 300", "bootstrap = 300\nlevel = \"90 %\"", StringComparison.Ordinal)
        );
        Assert.Equal(0, StudyRunner.Run(judged, store, new StudyOptions()));
    }

    [Fact]
    public void Run_DoubledWalls_AreCountedApart()
    {
        // Velocity doubled: every wall reads double, gross and thick.
        string study = Study.Replace("5979.2 m/s", "11840 m/s", StringComparison.Ordinal);
        CompareRow row = Row(Run(study, "a", new StudyOptions()), GroupKind.Source, "all", "one percent thick");
        Assert.Equal(row[CompareFigure.Gross].Value, row[CompareFigure.Doubled].Value);
        Assert.Equal(1 - row[CompareFigure.Missing].Value, row[CompareFigure.Doubled].Value, 12);
        Assert.Equal(0, row[CompareFigure.Halved].Value);
        Assert.Equal(row[CompareFigure.Gross].Value, row[CompareFigure.GrossThick].Value);
    }

    [Fact]
    public void Run_MethodWithItsOwnBound_IsHeldAgainstIt()
    {
        string study = Study.Replace(
            "set = [\"velocity.value = 5979.2 m/s\"]",
            "bound = \"interface-wall\"",
            StringComparison.Ordinal
        );
        CompareReport report = Run(study, "a", new StudyOptions());
        CompareRow record = Row(report, GroupKind.Point, "snr 20 dB", "right");
        CompareRow pair = Row(report, GroupKind.Point, "snr 20 dB", "one percent thick");
        Assert.Equal(record[CompareFigure.Rmse].Value, pair[CompareFigure.Rmse].Value);
        // 8 mm of steel, interface and back wall 1 alone, by the library's own bound of a delay (PlateTests has the formula).
        var model = new PlateModel(
            new PlateSettings
            {
                WallMetres = 8e-3,
                SnrDecibels = 20,
                Bound = BoundChoice.InterfaceWall,
            }
        );
        Assert.Equal(model.BoundMetres(8e-3), pair.BoundMetres, 1e-12);
        Assert.True(record.BoundMetres < 0.5 * pair.BoundMetres);
        Assert.Equal(pair[CompareFigure.Rmse].Value / pair.BoundMetres, pair[CompareFigure.BoundRatio].Value, 1e-9);
    }

    [Theory]
    [InlineData("key = \"snr\"", "key = \"snrr\"", "did you mean 'snr'")]
    [InlineData("\"10 dB\"", "\"10 mm\"", "is a length, not a level in decibels")]
    [InlineData("name = \"right\"", "name = \"one percent thick\"", "stands for 2 things")]
    [InlineData("velocity.value = 5979.2 m/s", "velocity.valu = 5979.2 m/s", "did you mean 'value'")]
    [InlineData("velocity.value = 5979.2 m/s", "velocity.value", "sets nothing")]
    [InlineData("wall = \"8 mm\"", "wall = \"80 mm\"", "ends before back-wall echo 1")]
    [InlineData("bootstrap = 300", "reference = \"rigth\"", "did you mean 'right'")]
    [InlineData("repeats = 60", "repeat = 60", "did you mean 'repeats'")]
    [InlineData("set = [\"velocity", "procedure = \"none.toml\"\nset = [\"velocity", "There is no procedure none.toml")]
    public void Read_Faults_NameFileKeyAndFix(string right, string wrong, string words)
    {
        var error = Assert.Throws<ProcedureException>(() =>
            Plan(Study.Replace(right, wrong, StringComparison.Ordinal))
        );
        Assert.Contains(words, error.Message, StringComparison.Ordinal);
        Assert.Contains("study.toml(", error.Message, StringComparison.Ordinal);
        Assert.Contains("To fix:", error.Message, StringComparison.Ordinal);
    }

    private string[] Units(string folder) =>
        [
            .. Directory
                .GetFiles(Path.Combine(_folder, folder), "*.unit")
                .Order(StringComparer.Ordinal)
                .Select(f => Path.GetFileName(f) + Convert.ToHexString(SHA256.HashData(File.ReadAllBytes(f)))),
        ];

    private StudyPlan Plan(string study)
    {
        string path = Path.Combine(_folder, "study.toml");
        File.WriteAllText(path, study);
        return StudyPlan.Read(path, TestContext.Current.CancellationToken);
    }

    private CompareReport Run(string study, string folder, StudyOptions options)
    {
        StudyPlan plan = Plan(study);
        var store = new UnitStore(Path.Combine(_folder, folder));
        StudyRunner.Run(plan, store, options);
        return CompareAnalysis.Run(plan, store, TestContext.Current.CancellationToken);
    }

    private static CompareRow Row(CompareReport report, GroupKind kind, string words, string method) =>
        report.Rows.Single(r => r.Group.Kind == kind && r.Group.Words == words && r.Method == method);
}
