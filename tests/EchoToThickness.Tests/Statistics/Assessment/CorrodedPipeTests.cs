using System.Text.Json;
using EchoToThickness.Statistics;
using EchoToThickness.Statistics.Assessment;
using Xunit;

namespace EchoToThickness.Tests.Statistics.Assessment;

/// <summary>B31G beside NumPy 1.24.2 (05_corrosion.csv, 05_effective_area.json) and the examples of the 1991 edition, which are from memory.</summary>
public sealed class CorrodedPipeTests
{
    private const double Inch = 0.0254;
    private const double Psi = 6894.757293168361;

    private static PipeLoad Pipe(double diameter, double wall, double yield) =>
        new()
        {
            Component = ComponentKind.StraightPipe,
            OutsideDiameterMetres = diameter * 1e-3,
            WallMetres = wall * 1e-3,
            YieldStrengthPascals = yield * 1e6,
        };

    [Theory]
    [InlineData("a", 508, 9.53, 4.0, 120, 358)]
    [InlineData("b", 508, 9.53, 4.0, 400, 358)]
    [InlineData("c", 610, 12.7, 2.54, 60, 358)]
    [InlineData("d", 273, 9.27, 6.5, 300, 241)]
    [InlineData("e", 914, 12.7, 9.5, 800, 448)]
    [InlineData("zero-depth", 508, 9.53, 0, 120, 358)]
    [InlineData("zero-length", 508, 9.53, 4, 0, 358)]
    public void OriginalAndModified_EqualTheFormula(
        string tag,
        double diameter,
        double wall,
        double depth,
        double length,
        double yield
    )
    {
        PipeLoad pipe = Pipe(diameter, wall, yield);
        double original = CorrodedPipe.Original(pipe, depth * 1e-3, length * 1e-3).Value!.FailurePascals * 1e-6;
        FailurePressure modified = CorrodedPipe.Modified(pipe, depth * 1e-3, length * 1e-3).Value!;
        double expected = CheckRows.Expected($"CO-B31Go-{tag}-Pf");
        Assert.Equal(expected, original, expected * 1e-9);
        expected = CheckRows.Expected($"CO-B31Gm-{tag}-Pf");
        Assert.Equal(expected, modified.FailurePascals * 1e-6, expected * 1e-9);
        expected = CheckRows.Expected($"CO-B31Gm-{tag}-M");
        Assert.Equal(expected, modified.BulgingFactor, expected * 1e-10);
    }

    // Examples of B31G-1991 (from memory): safe pressure = design pressure times the remaining share at 1.1 SMYS, not above the design
    // pressure. The printed figures are rounded to 1 psi. D 30 in is example 1.
    [Theory]
    [InlineData(1, 30, 0.438, 52000, 0.72, 0.1, 7.5)]
    [InlineData(2, 20, 0.25, 35000, 0.5, 0.18, 10)]
    [InlineData(5, 24, 0.281, 52000, 0.72, 0.08, 15)]
    public void Original_ExamplesOf1991_GiveTheSafePressure(
        int number,
        double diameter,
        double wall,
        double yield,
        double factor,
        double depth,
        double length
    )
    {
        Assert.True(CheckRows.FromMemory($"CO-B31G91-{number}-Ps-pub"));
        PipeLoad pipe = Pipe(diameter * Inch * 1e3, wall * Inch * 1e3, yield * Psi * 1e-6);
        double failure = CorrodedPipe.Original(pipe, depth * Inch, length * Inch).Value!.FailurePascals / Psi;
        double design = 2 * yield * wall * factor / diameter;
        double safe = Math.Min(design, failure * factor);
        // 1991 writes the bulging factor with A = 0.893 L / sqrt(D t), A^2 = 0.797 z for 0.8 z: below 0.1 %.
        Assert.Equal(CheckRows.Expected($"CO-B31G91-{number}-Ps-pub"), safe, 1.5);
    }

    [Fact]
    public void ModifiedBulging_JumpsAtFiftyAsPublished()
    {
        PipeLoad pipe = Pipe(1000, 10, 300);
        double[] expected = CheckRows.ExpectedList("CO-B31G-jump");
        double length = Math.Sqrt(50 * 1 * 0.01);
        Assert.Equal(expected[0], CorrodedPipe.ModifiedBulging(pipe, length * (1 - 1e-12)), 1e-4);
        Assert.Equal(expected[1], CorrodedPipe.ModifiedBulging(pipe, length * (1 + 1e-12)), 1e-4);
    }

    [Fact]
    public void EffectiveArea_FourProfiles_EqualBruteForce()
    {
        using JsonDocument file = JsonDocument.Parse(
            File.ReadAllText(RepositoryFiles.PathOf("testdata", "checks", "05_effective_area.json"))
        );
        PipeLoad pipe = Pipe(508, 9.53, 358);
        int seen = 0;
        foreach (JsonElement item in file.RootElement.GetProperty("cases").EnumerateArray())
        {
            double[] x = item.GetProperty("x").EnumerateArray().Select(v => v.GetDouble() * 1e-3).ToArray();
            double[] depth = item.GetProperty("depth").EnumerateArray().Select(v => v.GetDouble() * 1e-3).ToArray();
            FailurePressure found = CorrodedPipe.EffectiveArea(pipe, x, depth).Value!;
            double expected = item.GetProperty("failure_pressure_MPa").GetDouble();
            Assert.Equal(expected, found.FailurePascals * 1e-6, expected * 1e-9);
            Assert.Equal(item.GetProperty("start_index").GetInt32(), found.FirstPoint);
            Assert.Equal(item.GetProperty("end_index").GetInt32(), found.LastPoint);
            Assert.Equal(item.GetProperty("effective_area_mm2").GetDouble(), found.AreaSquareMetres * 1e6, 1e-9);
            double modified = item.GetProperty("modified_B31G_MPa").GetDouble();
            Assert.Equal(
                modified,
                CorrodedPipe.Modified(pipe, depth.Max(), x[^1] - x[0]).Value!.FailurePascals * 1e-6,
                modified * 1e-9
            );
            seen++;
        }
        Assert.Equal(4, seen);
    }

    [Theory]
    [InlineData(ComponentKind.Bend, 4, false, true, "straight pipe")]
    [InlineData(ComponentKind.StraightPipe, 8, false, true, "80 %")]
    [InlineData(ComponentKind.StraightPipe, 4, true, true, "other loads")]
    [InlineData(ComponentKind.StraightPipe, 4, false, false, "cracks")]
    public void AllMethods_OutsideTheScope_AreRefused(
        ComponentKind kind,
        double depth,
        bool loads,
        bool blunt,
        string reason
    )
    {
        PipeLoad pipe = Pipe(508, 9.53, 358) with { Component = kind, HasOtherLoads = loads, IsBluntMetalLoss = blunt };
        AssessmentResult<FailurePressure>[] results =
        [
            CorrodedPipe.Original(pipe, depth * 1e-3, 0.1),
            CorrodedPipe.Modified(pipe, depth * 1e-3, 0.1),
            CorrodedPipe.EffectiveArea(pipe, [0, 0.05, 0.1], [0, depth * 1e-3, 0]),
        ];
        Assert.All(
            results,
            r =>
            {
                Assert.True(r.IsRefused);
                Assert.Contains(reason, r.Refusal, StringComparison.Ordinal);
                Assert.Contains("unverified", r.Basis.Statement, StringComparison.Ordinal);
            }
        );
    }

    // The profile of a map: deepest loss at each place, both ways, and its pressure not above that of the sound pipe.
    [Fact]
    public void RiverBottom_OfAMap_FeedsTheEffectiveArea()
    {
        double[] wall = Enumerable.Repeat(9.53e-3, 30 * 20).ToArray();
        for (int i = 10; i < 20; i++)
        {
            wall[i * 20 + 3] = 6e-3;
            wall[i * 20 + 15] = i == 12 ? 4e-3 : 9e-3;
        }
        wall[5 * 20 + 1] = double.NaN;
        var map = new ThicknessMap(MapAxes.Even(30, 20, 5e-3, 5e-3), wall);
        RiverBottom along = RiverBottom.Of(map, 9.53e-3, true);
        RiverBottom around = RiverBottom.Of(map, 9.53e-3, false);
        Assert.Equal(30, along.DepthsMetres.Count);
        Assert.Equal(5.53e-3, along.DepthsMetres[12], 1e-12);
        Assert.Equal(3.53e-3, along.DepthsMetres[15], 1e-12);
        Assert.Equal(0, along.DepthsMetres[5]);
        Assert.Equal(5.53e-3, around.DepthsMetres[15], 1e-12);
        PipeLoad pipe = Pipe(508, 9.53, 358);
        FailurePressure p = CorrodedPipe
            .EffectiveArea(pipe, along.PositionsMetres.ToArray(), along.DepthsMetres.ToArray())
            .Value!;
        Assert.InRange(p.FailurePascals, 1e6, 2 * p.FlowStressPascals * 9.53 / 508);
        // The governing part holds the deepest place.
        Assert.True(p.FirstPoint < 12 && p.LastPoint > 12);
    }

    // Thinning a long profile to 1500 groups keeps the deepest of each: never a higher pressure than by more than the rounding of places.
    [Fact]
    public void EffectiveArea_LongProfile_StaysCautious()
    {
        double[] x = Enumerable.Range(0, 3200).Select(k => k * 1e-4).ToArray();
        double[] depth = x.Select(v => 4e-3 * Math.Exp(-Math.Pow((v - 0.16) / 0.03, 2))).ToArray();
        PipeLoad pipe = Pipe(508, 9.53, 358);
        double thinned = CorrodedPipe.EffectiveArea(pipe, x, depth).Value!.FailurePascals;
        double[] coarseX = x.Where((_, k) => k % 4 == 0).ToArray();
        double[] coarseDepth = depth.Where((_, k) => k % 4 == 0).ToArray();
        double exact = CorrodedPipe.EffectiveArea(pipe, coarseX, coarseDepth).Value!.FailurePascals;
        Assert.Equal(exact, thinned, exact * 2e-3);
        Assert.True(thinned <= exact * (1 + 1e-6));
    }
}
