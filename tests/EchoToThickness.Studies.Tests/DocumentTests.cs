using EchoToThickness.Simulation.Rendering;
using EchoToThickness.Simulation.Scenes;
using EchoToThickness.Stacks;
using EchoToThickness.Studies.Drawings;
using EchoToThickness.Studies.Running;
using EchoToThickness.Studies.StudyFiles;
using EchoToThickness.Studies.Tune;
using EchoToThickness.Studies.Validate;
using Xunit;

namespace EchoToThickness.Studies.Tests;

/// <summary>What the documents say is what the program reads.</summary>
public sealed class DocumentTests
{
    [Fact]
    public void ReferencePage_IsUpToDate() => Compare("study-reference.md", StudyReference.Page());

    [Fact]
    public void TuningReferencePage_IsUpToDate() => Compare("tuning-reference.md", TuneReference.Page());

    private static void Compare(string name, string page)
    {
        string path = Path.Combine(Docs(), name);
        if (Environment.GetEnvironmentVariable("ETT_WRITE_DOCS") == "1")
            File.WriteAllText(path, page);
        string found = File.ReadAllText(path).ReplaceLineEndings("\n");
        Assert.True(found == page, $"docs/{name} is stale: run the tests with ETT_WRITE_DOCS=1.");
    }

    [Fact]
    public void DrawingReferencePage_IsUpToDate()
    {
        string path = Path.Combine(Docs(), "drawing-reference.md");
        if (Environment.GetEnvironmentVariable("ETT_WRITE_DOCS") == "1")
            File.WriteAllText(path, DrawingFile.ReferenceText());
        Assert.True(
            File.ReadAllText(path).ReplaceLineEndings("\n") == DrawingFile.ReferenceText(),
            "docs/drawing-reference.md is stale: run the tests with ETT_WRITE_DOCS=1."
        );
    }

    [Fact]
    public void ValidationReferencePage_IsUpToDate()
    {
        string path = Path.Combine(Docs(), "validation-reference.md");
        if (Environment.GetEnvironmentVariable("ETT_WRITE_DOCS") == "1")
            File.WriteAllText(path, ValidateReference.Page());
        Assert.True(
            File.ReadAllText(path).ReplaceLineEndings("\n") == ValidateReference.Page(),
            "docs/validation-reference.md is stale: run the tests with ETT_WRITE_DOCS=1."
        );
    }

    [Fact]
    public void ExampleValidation_CanBeRunAndPlanned()
    {
        string path = Path.Combine(Docs(), "validations", "blocks.toml");
        ValidatePlan plan = ValidatePlan.Read(path, null, TestContext.Current.CancellationToken);
        Assert.Equal(11, plan.Scans.Count);
        IReadOnlyList<StatementSection> design = DesignPart.Of(plan.Study);
        // 29 of 29 and 45 of 46 show 90 % with 95 % confidence (binomial; the numbers are common knowledge of the trade).
        StatementSection demonstration = design.Single(s => s.Key == "design_demonstration");
        Assert.Equal(["29", "46"], demonstration.Lines.Take(2).Select(l => l[1]));
    }

    /// <summary>The validation on the full-wave stacks: figures of docs/validating.md, from 120 cells in 17 scan positions.</summary>
    [Fact]
    public void FullWaveValidation_GivesTheFiguresOfThePage()
    {
        string folder = Directory.CreateTempSubdirectory("ett-fullwave").FullName;
        try
        {
            ValidatePlan plan = ValidatePlan.Read(
                Path.Combine(Docs(), "validations", "fullwave.toml"),
                null,
                TestContext.Current.CancellationToken
            );
            var measurer = new ScanMeasurer(
                plan,
                new UnitStore(folder),
                new StudyOptions { Cancellation = TestContext.Current.CancellationToken }
            );
            ValidationStatement statement = ValidateAnalysis.Run(plan, measurer.WithTruth(measurer.Measure()));
            CriterionResult Of(CriterionQuantity quantity) =>
                statement.Criteria.Single(c => c.Criterion.Quantity == quantity);
            Assert.InRange(Math.Abs(Of(CriterionQuantity.Bias).Figure.Value), 0, 2e-6);
            Assert.Equal(17, Of(CriterionQuantity.Bias).Figure.Units);
            Assert.InRange(Of(CriterionQuantity.ToleranceInterval).Decisive, -20e-6, 20e-6);
            // 1 of 120 cells of C5 has no wall; 0 gross of 17 clusters: 1 - 0.025^(1/17) = 19.5 % (Clopper and Pearson 1934).
            Assert.Equal(1.0 / 120, Of(CriterionQuantity.Missing).Figure.Value, 1e-12);
            Assert.Equal(1 - Math.Pow(0.025, 1.0 / 17), Of(CriterionQuantity.Gross).Decisive, 1e-9);
            Assert.Equal(CriterionVerdict.Fail, Of(CriterionQuantity.Gross).Verdict);
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    /// <summary>Shipped drawings show what the shipped scenes hold: the same wall everywhere but within a hair of an edge.</summary>
    [Theory]
    [InlineData("pit-block")]
    [InlineData("step-block")]
    public void ShippedDrawings_ShowTheWallOfTheShippedScene(string name)
    {
        var drawing = new Drawing(DrawingFile.Read(Path.Combine(Docs(), "drawings", name + ".toml")));
        SceneModel scene = SceneModel.Compile(SceneCatalog.Read(name).Value, ".");
        using var line = new SceneSource(scene, 0);
        ScannedCells cells = ScannedCells.Of(line.Info, name);
        var walls = new double[cells.Count];
        ((ITruthSource)line).ReadTruth("thickness", 0, cells.AlongMetres.Length, walls);
        int judged = 0;
        for (int i = 0; i < walls.Length; i++)
        {
            double along = cells.AlongMetres[i / cells.AcrossMetres.Length];
            double across = cells.AcrossMetres[i % cells.AcrossMetres.Length];
            (double smallest, double largest) = drawing.WallsWithin(along, across, 0.05e-3);
            bool atBorder =
                drawing.File.Header.LengthMetres - along < 0.1e-3 || drawing.File.Header.WidthMetres - across < 0.1e-3;
            if (atBorder || !(largest - smallest < 0.2e-3))
                continue;
            judged++;
            Assert.InRange(walls[i], smallest - 1e-6, largest + 1e-6);
        }
        Assert.True(judged > 0.9 * walls.Length);
    }

    [Fact]
    public void ExampleStudies_CanBeRun()
    {
        string[] studies =
        [
            .. Directory
                .GetFiles(Path.Combine(Docs(), "studies"), "*.toml")
                .Where(f => File.ReadAllText(f).Contains("[study]", StringComparison.Ordinal)),
        ];
        Assert.NotEmpty(studies);
        foreach (string study in studies)
        {
            if (File.ReadAllText(study).Contains("[[vary]]", StringComparison.Ordinal))
            {
                TunePlan tune = TunePlan.Read(study, TestContext.Current.CancellationToken);
                Assert.NotEmpty(tune.Points);
                Assert.NotNull(tune.At([.. tune.Axes.Select(_ => 0.0)], RuleSetOrigin.Design));
                continue;
            }
            StudyPlan plan = StudyPlan.Read(study, TestContext.Current.CancellationToken);
            Assert.True(plan.Methods.Count > 1, study);
            Assert.NotEmpty(plan.Points);
        }
    }

    private static string Docs()
    {
        for (string? at = AppContext.BaseDirectory; at is not null; at = Path.GetDirectoryName(at))
            if (Directory.Exists(Path.Combine(at, "docs", "studies")))
                return Path.Combine(at, "docs");
        throw new DirectoryNotFoundException("docs/studies is in no folder above " + AppContext.BaseDirectory);
    }
}
