using System.Globalization;
using System.Text.Json;
using EchoToThickness.Cli.Terminal;
using EchoToThickness.Reporting.Inspection;
using EchoToThickness.Statistics;
using EchoToThickness.Statistics.Describe;
using EchoToThickness.Statistics.Extremes;
using EchoToThickness.Statistics.Regions;
using EchoToThickness.Storage.Grids;
using Xunit;

namespace EchoToThickness.Cli.Tests;

/// <summary>'ett statistics' from a grid file to its JSON and page, against the library on the same map and against formulas written out here.</summary>
public sealed class StatisticsCommandTests : IDisposable
{
    private const string Limits = """
        thresholds = ["7.4 mm", "7.2 mm"]
        [regions]
        below = "7.2 mm"
        [extremes]
        self_test_fields = 6
        """;

    private const string Screening = """
        [design]
        pressure = "9 MPa"
        allowable_stress = "138 MPa"
        required_wall_uncertainty = "0.05 mm"
        [strength]
        yield_strength = "241 MPa"
        [averaging]
        on = true
        [life]
        on = true
        rate = "0.11 mm/year"
        rate_uncertainty = "0.02 mm/year"
        class_limit_years = 5
        """;

    private readonly string _folder = Directory.CreateTempSubdirectory("ett-statistics").FullName;

    public void Dispose() => Directory.Delete(_folder, true);

    [Fact]
    public void Statistics_JsonNumbers_AreThoseOfTheLibraryOnTheSameMap()
    {
        double[] walls = GridMaker.Noisy(GridMaker.Walls(3), 1);
        string grid = In("grid.h5");
        GridMaker.Write(grid, walls, GridMaker.Pipe);
        JsonElement json = Analyse(grid, Limits, out string page);
        // The least of the walls that were written, as stored in single precision.
        JsonElement minimum = json.GetProperty("description").GetProperty("minimum");
        Assert.Equal((double)(float)walls.Min(), minimum.GetProperty("measured_metres").GetDouble());

        StatisticsPlan plan = StatisticsPlan.Read(Limits, "plan");
        using GridFile file = GridFile.Open(grid);
        ThicknessMap map = StatisticsRun.Map(file, plan).ToThicknessMap();
        MapDescription description = MapDescriber.Describe(
            map,
            new DescribeSettings { ThresholdsMetres = plan.ThresholdsMetres }
        );
        JsonElement described = json.GetProperty("description");
        Assert.Equal(description.MeanMetres, described.GetProperty("mean_metres").GetDouble());
        Assert.Equal(
            description.StandardDeviationMetres,
            described.GetProperty("standard_deviation_metres").GetDouble()
        );
        Assert.Equal(
            description.Thresholds.Select(t => t.AreaBelowSquareMetres),
            described
                .GetProperty("thresholds")
                .EnumerateArray()
                .Select(t => t.GetProperty("area_below_square_metres").GetDouble())
        );
        // A cell of the pipe has one area: counting walls gives the area too.
        double cell = map.AreaSquareMetres[map.AroundCount + 1];
        Assert.Equal(
            walls.Count(t => (float)t < 7.4e-3) * cell,
            description.Thresholds[0].AreaBelowSquareMetres,
            1e-9 * cell * walls.Length
        );

        RegionMap regions = RegionFinder.Find(
            map,
            new RegionSettings
            {
                SeedThresholdMetres = 7.2e-3,
                GrowThresholdMetres = 7.2e-3,
                ReferenceWallMetres = 8e-3,
                MinimumCells = 3,
            }
        );
        JsonElement[] listed = [.. json.GetProperty("regions").EnumerateArray()];
        Assert.NotEmpty(listed);
        Assert.Equal(
            regions.Regions.Select(r => (r.SmallestWallMetres, r.LengthMetres)),
            listed.Select(r =>
                (r.GetProperty("smallest_wall_metres").GetDouble(), r.GetProperty("length_metres").GetDouble())
            )
        );

        ExtremeAnalysis extremes = ExtremeAnalyser.Analyse(
            map,
            new ExtremeSettings
            {
                ReferenceWallMetres = 8e-3,
                TargetAreaSquareMetres = description.TotalAreaSquareMetres - description.MeasuredAreaSquareMetres,
                SelfTestTrials = 6,
            }
        );
        JsonElement found = json.GetProperty("extremes");
        Assert.Equal(
            extremes.Statements.Select(s => (s.Label, s.LowerBoundMetres)),
            found
                .GetProperty("statements")
                .EnumerateArray()
                .Select(s => (s.GetProperty("label").GetString()!, s.GetProperty("lower_bound_metres").GetDouble()))
        );
        // With and without weighing by the probability of a wrong echo, and the thinner one is quoted.
        Assert.Contains(extremes.Statements, s => s.IsWeighed);
        Assert.Contains(extremes.Statements, s => !s.IsWeighed && s.DeconvolvedBoundMetres > s.LowerBoundMetres);
        Assert.Equal(
            extremes.Headline?.LowerBoundMetres,
            Number(json.GetProperty("unmeasured_headline").GetProperty("lower_bound_metres"))
        );
        Assert.Equal(
            extremes.Headline is null ? null : extremes.Statements.Min(s => s.LowerBoundMetres),
            extremes.Headline?.LowerBoundMetres
        );
        foreach (
            string title in (string[])
                ["## Cautions", "## Wall", "## Coverage", "## Regions", "## Unmeasured metal", "## Provenance"]
        )
            Assert.Contains(title, page, StringComparison.Ordinal);
        Assert.DoesNotContain("NaN", page, StringComparison.Ordinal);
        Assert.Contains("weighed by wrong-echo probability", page, StringComparison.Ordinal);
    }

    [Fact]
    public void Statistics_Screening_IsTheFormulasOnMeasuredWalls()
    {
        // Cut at 7 mm, a dozen cells are the thinnest but for noise: the minimum has a bias.
        double[] walls = GridMaker.Noisy([.. GridMaker.Walls(3).Select(t => Math.Max(t, 7e-3))], 1);
        string grid = In("grid.h5");
        GridMaker.Write(grid, walls, GridMaker.Pipe);
        JsonElement json = Analyse(grid, Limits + "\n" + Screening, out string page);
        JsonElement assessment = json.GetProperty("assessment");
        // B31.3-2016 (3a): t = P D / (2 (S + P Y)).
        double required = 9.0 * 114.3e-3 / (2 * (138 + 9 * 0.4));
        JsonElement zone = Assert.Single(assessment.GetProperty("zones").EnumerateArray());
        Assert.Equal(required, zone.GetProperty("required_metres").GetDouble(), 1e-12);
        // The measured minimum feeds it, not the bias-corrected one, which is another number here.
        JsonElement minimum = json.GetProperty("description").GetProperty("minimum");
        double measured = minimum.GetProperty("measured_metres").GetDouble();
        Assert.True(minimum.GetProperty("bias_corrected_metres").GetDouble() > measured + 0.2 * GridMaker.Noise);
        Assert.Equal(measured, zone.GetProperty("smallest_metres").GetDouble());
        JsonElement life = Assert.Single(assessment.GetProperty("lives").EnumerateArray());
        Assert.Equal(measured, life.GetProperty("wall_metres").GetDouble());
        JsonElement years = life.GetProperty("life").GetProperty("value");
        double expected = (measured - required) / 0.11e-3;
        Assert.Equal(expected, years.GetProperty("years").GetDouble(), 1e-9);
        Assert.Equal(5, years.GetProperty("next_inspection_years").GetDouble());
        // Of the three normal draws the rate (18 %) decides: its 97.5 % point gives the lower end to within 5 %.
        Assert.Equal(
            expected / (1 + 1.96 * 0.02 / 0.11),
            years.GetProperty("lower_years").GetDouble(),
            0.05 * expected
        );

        JsonElement[] strengths = [.. assessment.GetProperty("regions").EnumerateArray()];
        Assert.NotEmpty(strengths);
        foreach (JsonElement s in strengths)
        {
            double depth = s.GetProperty("depth_metres").GetDouble() / 8e-3;
            double length = s.GetProperty("length_metres").GetDouble();
            double z = length * length / (114.3e-3 * 8e-3);
            double m = Math.Sqrt(1 + 0.8 * z);
            Assert.Equal(
                2 * 8e-3 / 114.3e-3 * 1.1 * 241e6 * (1 - 2.0 / 3 * depth) / (1 - 2.0 / 3 * depth / m),
                s.GetProperty("original").GetProperty("value").GetProperty("failure_pascals").GetDouble(),
                1
            );
            double modified = Math.Sqrt(1 + 0.6275 * z - 0.003375 * z * z);
            Assert.Equal(
                2 * 8e-3 / 114.3e-3 * (241e6 + 69e6) * (1 - 0.85 * depth) / (1 - 0.85 * depth / modified),
                s.GetProperty("modified").GetProperty("value").GetProperty("failure_pascals").GetDouble(),
                1
            );
            // Of a region's own profile less is lost than a box of its deepest point.
            double box = 2 * 8e-3 / 114.3e-3 * (241e6 + 69e6) * (1 - depth) / (1 - depth / modified);
            Assert.True(
                s.GetProperty("effective_area").GetProperty("value").GetProperty("failure_pascals").GetDouble()
                    >= box - 1
            );
            Assert.True(s.GetProperty("reaches_design_pressure").GetBoolean());
        }
        JsonElement[] profiles = [.. assessment.GetProperty("profiles").EnumerateArray()];
        Assert.Equal("along", profiles[0].GetProperty("direction").GetString());
        Assert.Equal(
            walls.Min(),
            8e-3
                - profiles[0]
                    .GetProperty("profile")
                    .GetProperty("depths_metres")
                    .EnumerateArray()
                    .Max(d => d.GetDouble()),
            1e-9
        );
        Assert.Equal(
            GridMaker.Beams,
            profiles[1].GetProperty("profile").GetProperty("positions_metres").GetArrayLength()
        );
        Assert.Contains(
            "longitudinal profile",
            profiles[1].GetProperty("effective_area").GetProperty("refusal").GetString(),
            StringComparison.Ordinal
        );
        JsonElement[] averages = [.. assessment.GetProperty("averages").EnumerateArray()];
        Assert.All(
            averages,
            a =>
            {
                Assert.True(a.GetProperty("average").GetProperty("value").GetProperty("passes_average").GetBoolean());
                Assert.Contains("unverified", Statement(a.GetProperty("average")), StringComparison.Ordinal);
            }
        );
        Assert.Contains(
            "screening; needs a competent person",
            Statement(life.GetProperty("life")),
            StringComparison.Ordinal
        );
        Assert.DoesNotContain("unverified", Statement(life.GetProperty("life")), StringComparison.Ordinal);
        Assert.Contains("## Assessment", page, StringComparison.Ordinal);
        Assert.DoesNotContain("NaN", page, StringComparison.Ordinal);
    }

    // Three surveys of one pipe: 0.02 mm a year for three years, then 0.08. The last scan began 4 mm (two cells) late.
    [Fact]
    public void Statistics_ThreeSurveys_GiveLongAndShortTermRates()
    {
        double[] first = GridMaker.Walls(5);
        double[] Lost(double loss, int seed) => GridMaker.Noisy([.. first.Select(t => t - loss)], seed);
        GridMaker.Write(In("a.h5"), Lost(0, 1), GridMaker.Pipe);
        GridMaker.Write(In("b.h5"), Lost(0.06e-3, 2), GridMaker.Pipe);
        double[] last = Lost(0.30e-3, 3);
        // Row k of the pipe is reported two rows further on.
        double[] moved =
        [
            .. Enumerable
                .Range(0, last.Length)
                .Select(k => k < 2 * GridMaker.Beams ? double.NaN : last[k - 2 * GridMaker.Beams]),
        ];
        string grid = In("c.h5");
        GridMaker.Write(grid, moved, GridMaker.Pipe);
        const string plan = """
            [extremes]
            on = false
            [design]
            required_wall = "4 mm"
            [life]
            on = true
            [change]
            date = "2026-05-01"
            largest_shift_along = "10 mm"
            largest_shift_around = "6 mm"
            [[change.earlier]]
            grid = "b.h5"
            date = "2023-05-01"
            [[change.earlier]]
            grid = "a.h5"
            date = "2020-05-01"
            """;
        JsonElement json = Analyse(grid, plan, out string page);
        JsonElement[] changes = [.. json.GetProperty("changes").EnumerateArray()];
        Assert.Equal(["long-term", "short-term"], changes.Select(c => c.GetProperty("term").GetString()));
        double[] expected = [0.30e-3 / 2191 * 365.25, 0.24e-3 / 1096 * 365.25];
        for (int k = 0; k < 2; k++)
        {
            JsonElement registration = changes[k].GetProperty("registration");
            Assert.True(changes[k].GetProperty("is_registered").GetBoolean());
            // A tenth of a cell, as the method promises.
            Assert.Equal(
                2 * GridMaker.Pitch,
                registration.GetProperty("along_metres").GetDouble(),
                0.1 * GridMaker.Pitch
            );
            Assert.Equal(0, registration.GetProperty("around_metres").GetDouble(), 0.1 * GridMaker.Pitch);
            JsonElement whole = changes[k].GetProperty("zones").EnumerateArray().Last();
            int cells = whole.GetProperty("cells").GetInt32();
            Assert.Equal((GridMaker.Scans - 2) * GridMaker.Beams, cells, 4.0 * GridMaker.Beams);
            // Mean of 14,000 cells: noise below a micrometre over the years.
            Assert.Equal(expected[k], whole.GetProperty("mean_metres_per_year").GetDouble(), 1e-6);
            // Loss of 5 and more uncertainties everywhere: nearly all cells are called changed.
            Assert.True(changes[k].GetProperty("significant_cells").GetInt32() > 0.9 * cells);
        }
        JsonElement life = Assert.Single(json.GetProperty("assessment").GetProperty("lives").EnumerateArray());
        Assert.StartsWith(
            "short-term, since 2023-05-01",
            life.GetProperty("rate_source").GetString(),
            StringComparison.Ordinal
        );
        double rate = life.GetProperty("rate_metres_per_year").GetDouble();
        // The loss is the same everywhere: what noise does not explain of its spread is nearly nothing.
        Assert.InRange(rate, expected[1] - 1e-6, expected[1] + 4e-6);
        Assert.Equal(
            (last.Take(last.Length - 2 * GridMaker.Beams).Min() - 4e-3) / rate,
            life.GetProperty("life").GetProperty("value").GetProperty("years").GetDouble(),
            1e-3
        );
        string[] rows = File.ReadAllLines(In("out-since-2023-05-01.csv"));
        Assert.Equal(changes[1].GetProperty("cells").GetInt32(), rows.Length - 1);
        double[] losses = [.. rows.Skip(1).Select(r => double.Parse(r.Split(',')[3], CultureInfo.InvariantCulture))];
        Assert.Equal(0.24, losses.Average(), 0.003);
        Assert.Contains("## Change between surveys", page, StringComparison.Ordinal);
        Assert.DoesNotContain("NaN", page, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("[stich]\nrule = \"smallest\"", "stitch")]
    [InlineData("thresholds = [6]", "6 mm")]
    [InlineData("[stitch]\nrule = \"mean\"", "smallest")]
    [InlineData("[extremes]\nconfidence = 1.5", "0.999")]
    [InlineData("[design]\npressure = \"5 mm\"", "pressure")]
    [InlineData("[design]\npressure = \"5 MPa\"", "allowable_stress")]
    [InlineData("[life]\non = true\nrate = \"0.1 mm/year\"", "required wall")]
    [InlineData("[life]\non = true\n[design]\nrequired_wall = \"4 mm\"", "needs a rate")]
    [InlineData("[averaging]\non = true", "required wall")]
    [InlineData("[regions]\nbelow = \"6 mm\"\ngrow_to = \"5 mm\"", "thinner wall")]
    [InlineData("[[change.earlier]]\ngrid = \"a.h5\"\ndate = \"2020-05-01\"", "day of this survey")]
    [InlineData("[change]\ndate = \"2026-05-01\"\n[[change.earlier]]\ngrid = \"a.h5\"", "date")]
    [InlineData("[change]\ndate = \"2026-05-01\"\n[[change.earlier]]\ngrid = \"a.h5\"\ndate = \"1 May\"", "is no day")]
    [InlineData(
        "[change]\ndate = \"2020-05-01\"\n[[change.earlier]]\ngrid = \"a.h5\"\ndate = \"2020-05-01\"",
        "does not lie before"
    )]
    [InlineData(
        "[change]\ndate = \"2026-05-01\"\n[[change.earlier]]\ngrid = \"no.h5\"\ndate = \"2020-05-01\"",
        "There is no grid"
    )]
    [InlineData("[[extremes.overrule]]\nuse = \"x\"\nreason = \" \"\nby = \"x\"", "needs a reason")]
    [InlineData("[[extremes.overrule]]\nzone = \"top\"\nuse = \"x\"\nreason = \"y\"\nby = \"x\"", "is no zone")]
    [InlineData("[component]\nkind = \"elbow\"", "bend radius")]
    public void Statistics_BadPlan_SaysWhatAndHowToFix(string plan, string expected)
    {
        string grid = In("grid.h5");
        GridMaker.Write(grid, Small(), GridMaker.Pipe, 12, 10);
        File.WriteAllText(In("plan.toml"), plan);
        Run run = Run.Of("statistics", grid, "--plan", In("plan.toml"), "-o", In("out.json"));
        Assert.Equal(ExitCode.CouldNotRun, run.Code);
        Assert.Contains(expected, run.Words, StringComparison.Ordinal);
        Assert.Contains("To fix:", run.Words, StringComparison.Ordinal);
        Assert.False(File.Exists(In("out.json")));
        CommandLineTests.NoTrace(run);
    }

    [Fact]
    public void Statistics_MachineOnly_IsTheResultWithoutAnyDecision()
    {
        string grid = In("grid.h5");
        GridMaker.Write(grid, GridMaker.Noisy(GridMaker.Walls(3), 1), GridMaker.Pipe);
        const string plan = "[extremes]\nself_test_fields = 0\n";
        JsonElement plain = Analyse(grid, plan, out _);
        string bytes = File.ReadAllText(In("out.json"));
        JsonElement[] statements = [.. plain.GetProperty("extremes").GetProperty("statements").EnumerateArray()];
        Assert.NotEqual(JsonValueKind.Null, plain.GetProperty("extremes").GetProperty("headline").ValueKind);
        string thicker = statements[^1].GetProperty("label").GetString()!;
        string decided =
            plan + $"[[extremes.overrule]]\nuse = \"{thicker}\"\nreason = \"second technique\"\nby = \"reviewer 1\"\n";
        File.WriteAllText(
            In("review.toml"),
            "[[overrule]]\nkind = \"exclude\"\nfirst_scan = 0\nscans = 40\nfirst_beam = 0\nbeams = 96\nreason = \"weld cap\"\nby = \"reviewer 1\"\ntime = \"2026-03-01T14:30Z\"\n"
        );
        JsonElement reviewed = Analyse(grid, decided, out string page, "--overrules", In("review.toml"));
        Assert.Equal(40 * 96, reviewed.GetProperty("overrule_effect").GetProperty("cells").GetInt32());
        Assert.Contains("weld cap", page, StringComparison.Ordinal);
        _ = Analyse(grid, decided, out _, "--overrules", In("review.toml"), "--machine-only");
        Assert.Equal(bytes, File.ReadAllText(In("out.json")));
        // The choice alone: quoted instead of the thinnest, and said first.
        JsonElement chosen = Analyse(grid, decided, out page);
        JsonElement headline = chosen.GetProperty("unmeasured_headline");
        Assert.Equal(
            statements[^1].GetProperty("lower_bound_metres").GetDouble(),
            headline.GetProperty("lower_bound_metres").GetDouble()
        );
        Assert.Contains("chosen by reviewer 1: second technique", page, StringComparison.Ordinal);
        Assert.Equal(plain.GetProperty("description").GetRawText(), chosen.GetProperty("description").GetRawText());
    }

    [Fact]
    public async Task Statistics_AnyNumberOfThreads_GivesTheSameBytes()
    {
        string grid = In("grid.h5");
        GridMaker.Write(grid, GridMaker.Noisy(GridMaker.Walls(3), 1), GridMaker.Pipe);
        StatisticsPlan plan = StatisticsPlan.Read(Limits + "\n" + Screening, "plan");
        string Once() => StatisticsJson.Write(StatisticsRun.Run(grid, plan, null, "test"));
        string many = Once();
        // Parallel loops take the scheduler of the task they run in: this one has a single thread.
        var single = new ConcurrentExclusiveSchedulerPair(TaskScheduler.Default, 1);
        string one = await Task.Factory.StartNew(
            Once,
            TestContext.Current.CancellationToken,
            TaskCreationOptions.None,
            single.ExclusiveScheduler
        );
        Assert.Equal(many, one);
    }

    private static double[] Small() => [.. Enumerable.Range(0, 120).Select(k => 7e-3 + 1e-5 * (k % 7))];

    private static double? Number(JsonElement value) =>
        value.ValueKind == JsonValueKind.Null ? null : value.GetDouble();

    private static string Statement(JsonElement result) =>
        result.GetProperty("basis").GetProperty("statement").GetString()!;

    private string In(string name) => Path.Combine(_folder, name);

    private JsonElement Analyse(string grid, string plan, out string page, params string[] more)
    {
        File.WriteAllText(In("plan.toml"), plan);
        Run run = Run.Of(["statistics", grid, "--plan", In("plan.toml"), "-o", In("out.json"), .. more]);
        Assert.True(run.Code == ExitCode.Done, run.Words);
        page = File.ReadAllText(In("out.md"));
        using JsonDocument schema = JsonDocument.Parse(StatisticsJson.Schema());
        using JsonDocument document = JsonDocument.Parse(File.ReadAllText(In("out.json")));
        var check = new SchemaCheck(schema.RootElement);
        check.Check(document.RootElement);
        Assert.True(check.Faults.Count == 0, string.Join("\n", check.Faults.Distinct().Take(20)));
        Assert.True(check.Checked > 200);
        return document.RootElement.Clone();
    }
}
