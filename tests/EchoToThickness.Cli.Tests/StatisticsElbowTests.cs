using System.Text.Json;
using EchoToThickness.Cli.Terminal;
using EchoToThickness.Stacks;
using Xunit;

namespace EchoToThickness.Cli.Tests;

/// <summary>'ett statistics' on an elbow: zones, walls of a bend, refusals of methods written for straight pipe.</summary>
public sealed class StatisticsElbowTests : IDisposable
{
    private const int Scans = 150;
    private const int Beams = 180;
    private const double Diameter = 114.3e-3;
    private const double Radius = 152.4e-3;

    private static readonly ComponentFacts Elbow = new()
    {
        Kind = ComponentKind.Elbow,
        OutsideDiameterMetres = Diameter,
        NominalWallMetres = 8e-3,
        BendRadiusMetres = Radius,
        BendAngleRadians = Math.PI / 2,
        StraightEndsMetres = 30e-3,
    };

    private readonly string _folder = Directory.CreateTempSubdirectory("ett-elbow").FullName;

    public void Dispose() => Directory.Delete(_folder, true);

    [Fact]
    public void Statistics_Elbow_HasZonesAndRefusesStraightPipeMethods()
    {
        double[] walls = GridMaker.Noisy(GridMaker.Walls(8, Scans, Beams), 4);
        // A tenth of the cells has no echo: unmeasured metal in every zone.
        for (int k = 0; k < walls.Length; k++)
            if (k % 11 == 3)
                walls[k] = double.NaN;
        // A groove over the bend and one on the first straight end.
        for (int scan = 70; scan < 76; scan++)
        for (int beam = 88; beam < 93; beam++)
            walls[scan * Beams + beam] = 4e-3;
        for (int scan = 4; scan < 9; scan++)
        for (int beam = 40; beam < 44; beam++)
            walls[scan * Beams + beam] = 4.5e-3;
        string grid = Path.Combine(_folder, "elbow.h5");
        GridMaker.Write(grid, walls, Elbow, Scans, Beams, 1e-3);
        string plan = Path.Combine(_folder, "plan.toml");
        File.WriteAllText(
            plan,
            """
            [regions]
            below = "5 mm"
            [extremes]
            self_test_fields = 0
            [design]
            pressure = "6 MPa"
            allowable_stress = "138 MPa"
            [strength]
            yield_strength = "241 MPa"
            [averaging]
            on = true
            [life]
            on = true
            rate = "0.1 mm/year"
            """
        );
        string output = Path.Combine(_folder, "out.json");
        Run run = Run.Of("statistics", grid, "--plan", plan, "-o", output);
        Assert.True(run.Code == ExitCode.Done, run.Words);
        using JsonDocument document = JsonDocument.Parse(File.ReadAllText(output));
        JsonElement json = document.RootElement;
        JsonElement assessment = json.GetProperty("assessment");

        // B31.3-2016 (3c) to (3e).
        double ratio = Radius / Diameter;
        double Bend(double index) => 6 * Diameter / (2 * (138 / index + 6 * 0.4));
        double intrados = Bend((4 * ratio - 1) / (4 * ratio - 2));
        double extrados = Bend((4 * ratio + 1) / (4 * ratio + 2));
        Dictionary<string, JsonElement> zones = assessment
            .GetProperty("zones")
            .EnumerateArray()
            .ToDictionary(z => z.GetProperty("zone").GetString()!);
        Assert.Equal(["extrados", "cheek clockwise", "intrados", "cheek anticlockwise", "straight ends"], zones.Keys);
        Assert.Equal(intrados, zones["intrados"].GetProperty("required_metres").GetDouble(), 1e-12);
        Assert.Equal(extrados, zones["extrados"].GetProperty("required_metres").GetDouble(), 1e-12);
        Assert.Equal(Bend(1), zones["cheek clockwise"].GetProperty("required_metres").GetDouble(), 1e-12);
        Assert.Equal(Bend(1), zones["straight ends"].GetProperty("required_metres").GetDouble(), 1e-12);
        // The groove of the bend lies at beams 88 to 92, half a girth from the extrados.
        Assert.Equal(4e-3, zones["intrados"].GetProperty("smallest_metres").GetDouble(), 1e-9);
        Assert.Equal(4.5e-3, zones["straight ends"].GetProperty("smallest_metres").GetDouble(), 1e-9);
        Assert.Equal(
            (4e-3 - intrados) / 0.1e-3,
            Life(assessment, "intrados").GetProperty("value").GetProperty("years").GetDouble(),
            // Walls are stored in single precision: 2e-10 m over the rate.
            1e-5
        );

        JsonElement[] regions = [.. assessment.GetProperty("regions").EnumerateArray()];
        Assert.Equal(["bend", "straight pipe"], regions.Select(r => r.GetProperty("place").GetString()));
        foreach (string method in (string[])["original", "modified", "effective_area"])
        {
            Assert.Contains(
                "written for straight pipe",
                regions[0].GetProperty(method).GetProperty("refusal").GetString(),
                StringComparison.Ordinal
            );
            Assert.Equal(JsonValueKind.Null, regions[0].GetProperty(method).GetProperty("value").ValueKind);
            Assert.Equal(JsonValueKind.Object, regions[1].GetProperty(method).GetProperty("value").ValueKind);
        }
        Assert.Equal(JsonValueKind.Null, regions[0].GetProperty("reaches_design_pressure").ValueKind);
        foreach (JsonElement average in assessment.GetProperty("averages").EnumerateArray())
            Assert.Contains(
                "not Bend",
                average.GetProperty("average").GetProperty("refusal").GetString(),
                StringComparison.Ordinal
            );
        foreach (JsonElement profile in assessment.GetProperty("profiles").EnumerateArray())
            Assert.NotEqual("", profile.GetProperty("effective_area").GetProperty("refusal").GetString());

        JsonElement[] extremes = [.. json.GetProperty("zone_extremes").EnumerateArray()];
        Assert.Equal(5, extremes.Length);
        double target = 0;
        foreach (JsonElement zone in extremes)
        {
            target += zone.GetProperty("target_square_metres").GetDouble();
            if (zone.GetProperty("analysis") is { ValueKind: JsonValueKind.Object } analysis)
                Assert.Equal(
                    1 - 0.05 / 5,
                    analysis.GetProperty("settings").GetProperty("confidence").GetDouble(),
                    1e-12
                );
        }
        JsonElement coverage = json.GetProperty("coverage").GetProperty("zones").EnumerateArray().Last();
        Assert.Equal(
            coverage.GetProperty("required_square_metres").GetDouble()
                - coverage.GetProperty("measured_square_metres").GetDouble(),
            target,
            1e-9
        );
        // The groove of the intrados is no tail of the rest: no bound for it, hence none for all of the metal.
        JsonElement headline = json.GetProperty("unmeasured_headline");
        string[] without = [.. headline.GetProperty("without_bound").EnumerateArray().Select(w => w.GetString()!)];
        JsonElement[] supported =
        [
            .. extremes.Where(z =>
                z.GetProperty("analysis") is { ValueKind: JsonValueKind.Object } a
                && a.GetProperty("headline").ValueKind == JsonValueKind.Object
            ),
        ];
        if (json.GetProperty("extremes").GetProperty("headline").ValueKind == JsonValueKind.Null)
        {
            Assert.Equal(5 - supported.Length, without.Length);
            Assert.Equal(
                without.Length > 0,
                headline.GetProperty("lower_bound_metres").ValueKind == JsonValueKind.Null
            );
        }
        Assert.NotEmpty(supported);
        string page = File.ReadAllText(Path.ChangeExtension(output, ".md"));
        Assert.Contains("### Intrados", page, StringComparison.Ordinal);
        Assert.Contains("### Straight ends", page, StringComparison.Ordinal);
        Assert.DoesNotContain("NaN", page, StringComparison.Ordinal);
    }

    private static JsonElement Life(JsonElement assessment, string zone) =>
        assessment
            .GetProperty("lives")
            .EnumerateArray()
            .First(l => l.GetProperty("zone").GetString() == zone)
            .GetProperty("life");
}
