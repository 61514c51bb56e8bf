using System.Text;
using EchoToThickness.Pairing;
using EchoToThickness.Procedures;
using EchoToThickness.Studies.Drawings;
using EchoToThickness.Studies.Running;
using EchoToThickness.Studies.Validate;
using EchoToThickness.Validation;
using Xunit;

namespace EchoToThickness.Studies.Tests;

/// <summary>Whole small validations: planted faults of a procedure come out with their size, and nothing is said that the data cannot carry.</summary>
public sealed class ValidateTests : IDisposable
{
    private const string Scene = """
        [scene]
        name = "small block"
        seed = 3
        [component]
        kind = "plate"
        nominal_wall = "10 mm"
        length = "60 mm"
        width = "24 mm"
        [[wall.step]]
        name = "thin"
        along = "15 mm"
        length = "30 mm"
        wall = "6 mm"
        [coupling]
        thickness = "5 mm"
        [array]
        elements = 16
        pitch = "1 mm"
        elevation = "6 mm"
        aperture_elements = 8
        frequency = "7 MHz"
        bandwidth = "60 %"
        [scan]
        direction = "along"
        lines = 1
        pitch = "1.5 mm"
        [instrument]
        sample_rate = "100 MHz"
        bits = 14
        gain = "70 %"
        noise = "0.2 %"
        """;

    private const string Block = """
        [block]
        name = "small block"
        length = "60 mm"
        width = "24 mm"
        wall = "10 mm"
        footprint = "5 mm"
        position_tolerance = "1.5 mm"
        [[step]]
        name = "thin"
        along = "15 mm"
        across = "12 mm"
        length = "30 mm"
        width = "24 mm"
        wall = "6 mm"
        [registration]
        search_along = "4 mm"
        search_across = "2 mm"
        """;

    private const string Study = """
        [study]
        name = "small"
        [procedure]
        file = "p.toml"
        [[factor]]
        name = "operator"
        [[scan]]
        name = "A"
        scene = "s.scene.toml"
        drawing = "b.toml"
        repeats = 2
        conditions = ["operator = A"]
        [[scan]]
        name = "B"
        scene = "s.scene.toml"
        drawing = "b.toml"
        repeats = 2
        set = ["coupling.thickness = 5.4 mm"]
        conditions = ["operator = B"]
        [[criterion]]
        quantity = "bias"
        at_most = "0.05 mm"
        [[criterion]]
        quantity = "missing"
        at_most_share = "50 %"
        [[criterion]]
        quantity = "a90/95"
        at_most = "5 mm"
        [report]
        figures = []
        """;

    private readonly string _folder = Directory.CreateTempSubdirectory("ett-validate").FullName;

    public ValidateTests()
    {
        Write("s.scene.toml", Scene);
        Write("b.toml", Block);
        Write("p.toml", "");
        Write("study.toml", Study);
    }

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Fact]
    public void Run_RightVelocity_PassesOnBiasAndSaysWhatItCannotSay()
    {
        ValidationStatement statement = Run();

        // Two features in four scans: eight clusters, whatever the number of cells.
        Estimate bias = statement.Criteria[0].Figure;
        Assert.Equal(8, bias.Units);
        Assert.True(bias.Observations > 100);
        // The simulated beam's bias is below 25 um (docs/validation.md); the claim is 50.
        Assert.InRange(Math.Abs(bias.Value), 0, 25e-6);
        Assert.Equal(CriterionVerdict.Pass, statement.Criteria[0].Verdict);
        // There is no pit, so nothing is known of detection, and the study as a whole does not pass.
        Assert.Equal(CriterionVerdict.NotEnoughData, statement.Criteria[2].Verdict);
        Assert.Equal(CriterionVerdict.NotEnoughData, statement.Verdict);
        Assert.Contains(statement.Warnings, w => w.Contains("not frozen", StringComparison.Ordinal));
        Assert.Contains(statement.Warnings, w => w.Contains("simulated", StringComparison.Ordinal));
    }

    [Fact]
    public void Run_VelocityOnePercentHigh_FailsWithTheBiasThatFollowsFromIt()
    {
        ValidationStatement right = Run();
        // 5920 m/s is the scene's; 1 % of walls of 6 and 10 mm is 60 and 100 um, 80 um over both features alike.
        Write("p.toml", "[velocity]\nvalue = \"5979.2 m/s\"\n");
        ValidationStatement wrong = Run();

        Assert.Equal(80e-6, wrong.Criteria[0].Figure.Value - right.Criteria[0].Figure.Value, 1e-6);
        Assert.Equal(CriterionVerdict.Fail, wrong.Criteria[0].Verdict);
        StatementRow slope = Row(wrong, "linearity", "slope of measured on certified wall");
        StatementRow before = Row(right, "linearity", "slope of measured on certified wall");
        Assert.Equal(0.01, slope.Figure.Value - before.Figure.Value, 2e-4);
        // A bias in proportion to the wall is a component of the feature, not of operator or repeat.
        double between = Row(wrong, "variance", "between levels of feature").Figure.Value;
        Assert.InRange(between, 0.8 * 40e-6 / Math.Sqrt(2), 2 * 40e-6);
        Assert.True(Row(wrong, "variance", "between levels of operator").Figure.Value < 5e-6);
    }

    [Fact]
    public void Run_IsTheSameOnAnyNumberOfThreads()
    {
        byte[] one = StatementJson.Write(Run("one", threads: 1));
        byte[] three = StatementJson.Write(Run("three", threads: 3));
        Assert.Equal(one, three);
    }

    [Fact]
    public void Run_Again_FindsWhatWasMeasured()
    {
        Run("a");
        string[] before = [.. Directory.GetFiles(Path.Combine(_folder, "a")).Order(StringComparer.Ordinal)];
        DateTime[] written = [.. before.Select(File.GetLastWriteTimeUtc)];
        Run("a");
        Assert.Equal(4, before.Count(f => f.EndsWith(".unit", StringComparison.Ordinal)));
        Assert.Equal(written, before.Select(File.GetLastWriteTimeUtc));
    }

    [Fact]
    public void Run_SceneWithoutDrawing_IsJudgedByItsOwnTruth()
    {
        Write("study.toml", Study.Replace("drawing = \"b.toml\"", "resample = \"scan\"", StringComparison.Ordinal));
        ValidationStatement statement = Run();
        // A scene knows the smallest wall under the beam and not the largest: beside the edge, on its thin side, the thick wall may be read.
        // Elsewhere the walls are right.
        double[] errors = [.. statement.Readings.Select(r => r.MeanErrorMetres).Where(double.IsFinite).Order()];
        Assert.InRange(Math.Abs(errors[errors.Length / 2]), 0, 25e-6);
        Assert.InRange(errors[0], -25e-6, 0);
        // One cluster for each scan position with an even wall in each of the four scans: 41 positions 1.5 mm apart, some at the edge.
        Assert.InRange(statement.Criteria[0].Figure.Units, 4 * 30, 4 * 41);
        Assert.Empty(statement.Indications);
    }

    [Fact]
    public void Read_OtherProcedureThanTheFrozenOne_IsRefused()
    {
        string hash = ValidatePlan
            .Read(Path.Combine(_folder, "study.toml"), null, TestContext.Current.CancellationToken)
            .ProcedureSha256;
        Write(
            "study.toml",
            Study.Replace("file = \"p.toml\"", $"file = \"p.toml\"\nsha256 = \"{hash}\"", StringComparison.Ordinal)
        );
        Assert.DoesNotContain(Run().Warnings, w => w.Contains("not frozen", StringComparison.Ordinal));
        Write("p.toml", "[velocity]\nvalue = \"5921 m/s\"\n");
        ProcedureException error = Assert.Throws<ProcedureException>(() => Run());
        Assert.Contains("not the one that was frozen", error.Message, StringComparison.Ordinal);
        Assert.Contains("study.toml(", error.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Read_ScanThatTuningHasSeen_IsRefusedUnlessAllowedAndThenSaidAtTheHead()
    {
        ValidatePlan plan = ValidatePlan.Read(
            Path.Combine(_folder, "study.toml"),
            null,
            TestContext.Current.CancellationToken
        );
        Write("tuning-record.json", $$"""{"stacks": [{"name": "x", "sha256": "{{plan.Scans[1].Sha256}}"}]}""");
        Write("study.toml", Study + "\n[tuning]\nrecords = [\"tuning-record.json\"]\n");
        ProcedureException error = Assert.Throws<ProcedureException>(() => Run());
        Assert.Contains("Tuning has seen A: 2", error.Message, StringComparison.Ordinal);

        Write("study.toml", Study + "\n[tuning]\nrecords = [\"tuning-record.json\"]\nallow = true\n");
        ValidationStatement statement = Run();
        Assert.Contains(statement.Warnings, w => w.StartsWith("Tuning has seen A: 2", StringComparison.Ordinal));
        Assert.Contains(
            "> Warning: Tuning has seen A: 2",
            StatementMarkdown.Write(statement),
            StringComparison.Ordinal
        );
    }

    [Fact]
    public void Blind_EventsInOrder_AreShown_AndAnyOtherOrderIsSaid()
    {
        DateTimeOffset sealedAt = new(2030, 1, 2, 3, 4, 5, TimeSpan.Zero);
        SealedDrawing seal = SealedDrawing.Seal(Block, "b.toml", "a long passphrase", sealedAt);
        Write("b.sealed", seal.Write());
        Write("study.toml", Study.Replace("\"b.toml\"", "\"b.sealed\"", StringComparison.Ordinal));
        string path = Path.Combine(_folder, "study.toml");
        CancellationToken cancellation = TestContext.Current.CancellationToken;

        ValidatePlan closed = ValidatePlan.Read(path, null, cancellation);
        Assert.True(closed.IsSealed);
        // Everything can be measured without the truth.
        string hash = ScanMeasurer.HashOf(Measurer(closed, "u", 2).Measure());
        BlindSubmission submission = BlindSubmission.Of(closed, hash, sealedAt.AddHours(1));

        ValidatePlan open = ValidatePlan.Read(path, "a long passphrase", cancellation);
        Assert.False(open.IsSealed);
        string again = ScanMeasurer.HashOf(Measurer(open, "u", 1).Measure());
        (StatementSection section, IReadOnlyList<string> warnings) = BlindSubmission.Describe(
            open,
            BlindSubmission.Read(submission.Write(), "submission.json"),
            again,
            sealedAt.AddHours(2)
        );
        Assert.Empty(warnings);
        Assert.Equal(
            ["drawing of small block sealed", "results submitted", "seals opened"],
            section.Lines.Select(l => l[1])
        );
        Assert.Contains(seal.Commitment, section.Lines[0][2], StringComparison.Ordinal);

        Assert.Contains("not blind", Single(null, again), StringComparison.Ordinal);
        Assert.Contains(
            "not what was submitted",
            Single(submission with { ResultsSha256 = new string('0', 64) }, again),
            StringComparison.Ordinal
        );
        Assert.Contains(
            "not those that were sealed",
            Single(
                submission with
                {
                    Commitments = new Dictionary<string, string> { ["small block"] = new string('1', 64) },
                },
                again
            ),
            StringComparison.Ordinal
        );
        Assert.Contains(
            "sealed after results",
            Single(submission with { SubmittedAt = sealedAt.AddHours(-1) }, again),
            StringComparison.Ordinal
        );

        string Single(BlindSubmission? given, string results) =>
            Assert.Single(BlindSubmission.Describe(open, given, results, sealedAt.AddHours(2)).Warnings);
    }

    [Fact]
    public void Seal_OpensWithItsPassphraseOnly_AndShowsEveryChange()
    {
        SealedDrawing seal = SealedDrawing.Seal(Block, "b.toml", "a long passphrase", DateTimeOffset.UnixEpoch);
        Assert.Equal(Block, SealedDrawing.Read(seal.Write(), "b.sealed")!.Open("a long passphrase", "b.sealed"));
        Assert.DoesNotContain("6 mm", seal.Write(), StringComparison.Ordinal);
        // Two seals of one drawing have nothing in common, so equal blocks cannot be told from their files.
        SealedDrawing other = SealedDrawing.Seal(Block, "b.toml", "a long passphrase", DateTimeOffset.UnixEpoch);
        Assert.NotEqual(seal.Commitment, other.Commitment);

        Assert.Throws<ProcedureException>(() => seal.Open("a wrong passphrase", "b.sealed"));
        byte[] content = Convert.FromBase64String(seal.Content);
        content[40] ^= 1;
        Assert.Throws<ProcedureException>(() =>
            (seal with { Content = Convert.ToBase64String(content) }).Open("a long passphrase", "b.sealed")
        );
        Assert.Throws<ProcedureException>(() =>
            (seal with { Commitment = new string('0', 64) }).Open("a long passphrase", "b.sealed")
        );
        Assert.Throws<ProcedureException>(() => SealedDrawing.Seal(Block, "b.toml", "short", DateTimeOffset.UnixEpoch));
        Assert.Null(SealedDrawing.Read(Block, "b.toml"));
    }

    [Theory]
    [InlineData("conditions = [\"operator = A\"]", "conditions = [\"operater = A\"]", "did you mean 'operator'")]
    [InlineData("conditions = [\"operator = A\"]", "conditions = []", "states no level of 'operator'")]
    [InlineData("at_most = \"0.05 mm\"", "at_most_share = \"5 %\"", "limited by at_most")]
    [InlineData(
        "repeats = 2\nconditions = [\"operator = A\"]",
        "repeats = 0\nconditions = [\"operator = A\"]",
        "repeats"
    )]
    [InlineData("quantity = \"bias\"", "quantity = \"bais\"", "bias")]
    [InlineData("drawing = \"b.toml\"", "drawing = \"c.toml\"", "no drawing c.toml")]
    public void Faults_AreNamedWithPlaceAndRemedy(string right, string wrong, string text)
    {
        Write("study.toml", Study.Replace(right, wrong, StringComparison.Ordinal));
        ProcedureException error = Assert.Throws<ProcedureException>(() => Run());
        Assert.Contains("study.toml(", error.Message, StringComparison.Ordinal);
        Assert.Contains(text, error.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Detections_CountFeaturesAndFalseCalls()
    {
        (IReadOnlyList<Indication> looks, IReadOnlyList<BlankMetal> blank) = ReadingMaker.Detections(
            [Holes()],
            new DetectionSettings()
        );
        Assert.Equal(["large", "small"], looks.Select(l => l.Drawn.Name));
        Indication large = looks[0];
        // 21 cells lie within 2.6 mm of (20, 20) on a lattice of 1 mm; they read 6.1 mm but the one at the centre, 6.0.
        Assert.True(large.Found);
        Assert.Equal(6.0e-3, large.WallMetres, 1e-9);
        Assert.Equal(21e-6, large.AreaSquareMetres, 1e-12);
        Assert.Equal(Math.Sqrt(4 * 21 / Math.PI) * 1e-3, large.MeasuredDiameterMetres, 1e-12);
        Assert.Equal(0, large.OffAlongMetres, 1e-9);
        Assert.Equal(4.0e-3, large.SignalMetres, 1e-9);
        Assert.False(looks[1].Found);
        Assert.Equal(0, looks[1].SignalMetres, 1e-9);
        // Three cells at (45, 35) are a false call, the single one at (50, 5) is none.
        BlankMetal metal = Assert.Single(blank);
        Assert.Equal(1, metal.FalseCalls);
        Assert.InRange(metal.AreaSquareMetres, 1.5e-3, 61 * 41 * 1e-6);
    }

    [Fact]
    public void Readings_LeaveOutCellsWhoseWallIsNotEven()
    {
        Reading block = ReadingMaker.Readings([Holes()]).Single(r => r.Kind == "block");
        // The three cells of the false call and the single one read 1 mm thin: gross, and they stay in.
        Assert.Equal(4, block.Gross);
        Assert.Equal(0, block.Missing);
        Assert.Equal(4, block.ErrorsMetres.Count(e => Math.Abs(e + 1e-3) < 1e-8));
        Assert.All(block.ErrorsMetres, e => Assert.True(Math.Abs(e) < 1e-8 || Math.Abs(e + 1e-3) < 1e-8));
    }

    /// <summary>A plate of 10 mm with a hole of 5 mm that is read, one of 3 mm that is not, and two places that read thin.</summary>
    private static ScanCells Holes()
    {
        var drawing = new Drawing(
            DrawingFile.Parse(
                """
                [block]
                name = "plate"
                length = "60 mm"
                width = "40 mm"
                wall = "10 mm"
                footprint = "4 mm"
                [[hole]]
                name = "large"
                along = "20 mm"
                across = "20 mm"
                diameter = "5.2 mm"
                wall = "6 mm"
                [[hole]]
                name = "small"
                along = "35 mm"
                across = "12 mm"
                diameter = "3 mm"
                wall = "6 mm"
                """,
                "plate.toml"
            )
        );
        var cells = new ScannedCells(
            [.. Enumerable.Range(0, 61).Select(i => i * 1e-3)],
            [.. Enumerable.Range(0, 41).Select(i => i * 1e-3)]
        );
        var walls = new float[cells.Count];
        for (int i = 0; i < walls.Length; i++)
        {
            (int x, int y) = (i / 41, i % 41);
            int r2 = (x - 20) * (x - 20) + (y - 20) * (y - 20);
            walls[i] =
                r2 == 0 ? 6.0e-3f
                : r2 <= 6.76 ? 6.1e-3f
                : (x, y) is (45, 35) or (46, 35) or (46, 36) or (50, 5) ? 9e-3f
                : 10e-3f;
        }
        var registration = new DrawingRegistration
        {
            CentreAlongMetres = cells.CentreAlongMetres,
            CentreAcrossMetres = cells.CentreAcrossMetres,
            Note = "",
        };
        DrawnTruth drawn = DrawnTruth.Of(drawing, cells, registration);
        var scan = new PlacedScan
        {
            Name = "s",
            Settings = new ScanSettings { Name = "s", Drawing = "plate.toml" },
            Block = "plate",
            Levels = [],
            Sha256 = "",
            Lines = [],
            Drawing = drawing,
        };
        float[] small = [.. walls.Select(_ => 10e-6f)];
        return new ScanCells
        {
            Scan = scan,
            Line = "",
            Scans = 61,
            Beams = 41,
            Result = new MethodResult(walls, small, small, small, [.. walls.Select(_ => (byte)CellStatus.Measured)]),
            TruthMetres = [.. drawn.ThicknessMetres.Select((t, i) => drawn.IsEven[i] ? t : double.NaN)],
            TruthUncertaintyMetres = drawn.StandardUncertaintyMetres,
            Group = drawn.Feature,
            GroupNames = [.. drawing.Features.Select(f => f.Name)],
            Drawn = drawn,
            Cells = cells,
            Registration = registration,
        };
    }

    private static StatementRow Row(ValidationStatement statement, string section, string label) =>
        statement.Sections.Single(s => s.Key == section).Rows.Single(r => r.Label == label);

    private ValidationStatement Run(string store = "units", int threads = 2)
    {
        ValidatePlan plan = ValidatePlan.Read(
            Path.Combine(_folder, "study.toml"),
            null,
            TestContext.Current.CancellationToken
        );
        ScanMeasurer measurer = Measurer(plan, store, threads);
        return ValidateAnalysis.Run(plan, measurer.WithTruth(measurer.Measure()));
    }

    private ScanMeasurer Measurer(ValidatePlan plan, string store, int threads) =>
        new(
            plan,
            new UnitStore(Path.Combine(_folder, store)),
            new StudyOptions { Threads = threads, Cancellation = TestContext.Current.CancellationToken }
        );

    private void Write(string name, string text) => File.WriteAllText(Path.Combine(_folder, name), text, Encoding.UTF8);
}
