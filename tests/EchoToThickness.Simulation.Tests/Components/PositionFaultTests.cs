using EchoToThickness.Components;
using EchoToThickness.Simulation.Rendering;
using Xunit;

namespace EchoToThickness.Simulation.Tests.Components;

/// <summary>Faults that the simulation plants, found from the walls alone. Wall: roughness of 0.15 mm over 6 mm; noise of a cell 0.03 mm.</summary>
public sealed class PositionFaultTests
{
    private const string Rough = """
        [[wall.roughness]]
        name = "rough"
        rms = "0.15 mm"
        correlation_along = "6 mm"
        spectrum = "gaussian"
        """;

    private const string Plan =
        "lines = 3\noverlap = \"8 mm\"\nfirst_line = \"20 deg\"\nfrom = \"0 mm\"\nto = \"150 mm\"";

    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    [InlineData(4)]
    [InlineData(5)]
    [InlineData(6)]
    [InlineData(7)]
    [InlineData(8)]
    [InlineData(9)]
    [InlineData(10)]
    public void Find_EncoderSlip_IsFoundToOneCell(int millimetres)
    {
        PositionReport report = Find($"kind = \"encoder slip\"\nlines = [2]\nat = 50 %\nsize = {millimetres} mm");
        PositionFault fault = Assert.Single(report.Faults, f => f.Kind != PositionFaultKind.DroppedPositions);
        Assert.Equal(PositionFaultKind.EncoderSlip, fault.Kind);
        Assert.Equal(1, fault.Line);
        // One step is all that an overlap resolves: which of its two lines slipped shows from two steps on.
        Assert.True(fault.IsAttributed || millimetres == 1);
        // A cell is 1 mm.
        Assert.Equal(millimetres * 1e-3, fault.SizeMetres, 1.001e-3);
    }

    /// <summary>Roughness, its length, seed of the scene, planted slip.</summary>
    [Theory]
    [InlineData("0.1 mm", "3 mm", 2, 1)]
    [InlineData("0.1 mm", "3 mm", 3, 7)]
    [InlineData("0.3 mm", "10 mm", 4, 2)]
    [InlineData("0.3 mm", "10 mm", 5, 10)]
    public void Find_EncoderSlipOnOtherWalls_IsFoundToOneCell(string rms, string length, int seed, int millimetres)
    {
        string rough = Rough
            .Replace("0.15 mm", rms, StringComparison.Ordinal)
            .Replace("\"6 mm", "\"" + length, StringComparison.Ordinal);
        SceneModel model = PlacementTests.Elbow(
            Plan,
            "",
            rough + Entry($"kind = \"encoder slip\"\nlines = [2]\nat = 50 %\nsize = {millimetres} mm"),
            seed
        );
        PositionReport report = PositionFaults.Find(SceneLines.Surface(model), SceneLines.Of(model, 0.03e-3, seed));
        PositionFault fault = Assert.Single(report.Faults, f => f.Kind != PositionFaultKind.DroppedPositions);
        Assert.Equal(PositionFaultKind.EncoderSlip, fault.Kind);
        Assert.Equal(millimetres * 1e-3, fault.SizeMetres, 1.001e-3);
    }

    /// <summary>An encoder that counts too little by a ratio of the length: over 150 mm by 3 to 6 mm; one of a single step could as well be a slip.</summary>
    [Theory]
    [InlineData(0.02)]
    [InlineData(0.04)]
    [InlineData(-0.03)]
    public void Find_WheelOfAnotherSize_IsADriftAndIsPutRight(double ratio)
    {
        SceneModel model = PlacementTests.Elbow(Plan, "", Rough);
        ComponentSurface surface = SceneLines.Surface(model);
        LineCells[] lines = SceneLines.Of(model, 0.03e-3);
        LineCells line = lines[1];
        lines[1] = line with { ScanPositionsMetres = [.. line.ScanPositionsMetres.Select(x => x / (1 + ratio))] };
        PositionReport report = PositionFaults.Find(surface, lines);
        PositionFault fault = Assert.Single(report.Faults);
        Assert.Equal((PositionFaultKind.EncoderDrift, 1, true), (fault.Kind, fault.Line, fault.IsAttributed));
        double whole = ratio * (lines[1].ScanPositionsMetres[^1] - lines[1].ScanPositionsMetres[0]);
        Assert.Equal(whole, fault.SizeMetres, 1.001e-3);
        (IReadOnlyList<LineCells> corrected, IReadOnlyList<string> log) = PositionFaults.Correct(lines, report);
        Assert.StartsWith("corrected: ", Assert.Single(log), StringComparison.Ordinal);
        var right = new LineGeometry(surface, line);
        var put = new LineGeometry(surface, corrected[1]);
        // Anywhere on the line to half a cell, and the rounding of the slope to whole steps over the line.
        for (int k = 0; k < line.Scans; k += 10)
            Assert.Equal(
                surface.TrackOf(right.PlaceOf(k, 0).AlongMetres, right.TrackStretch),
                surface.TrackOf(put.PlaceOf(k, 0).AlongMetres, put.TrackStretch),
                1.001e-3
            );
    }

    /// <summary>What all beams of a row have in common, such as an echo of the couplant on the back wall, is no proof of a shift.</summary>
    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    public void Find_ErrorsCommonToTheBeamsOfARow_AreNoFault(int seed)
    {
        SceneModel model = PlacementTests.Elbow(
            Plan,
            "",
            Rough.Replace("0.15 mm", "0.03 mm", StringComparison.Ordinal)
        );
        LineCells[] lines = SceneLines.Of(model, 0.005e-3, seed);
        var random = new System.Random(seed);
        foreach (LineCells line in lines)
        {
            double common = 0;
            for (int cell = 0; cell < line.ThicknessMetres.Length; cell++)
            {
                // A walk of about 12 um that is forgotten over some five rows.
                if (cell % line.Beams == 0)
                    common = 0.8 * common + 12e-6 * (2 * random.NextDouble() - 1);
                line.ThicknessMetres[cell] += (float)common;
            }
        }
        Assert.Empty(PositionFaults.Find(SceneLines.Surface(model), lines).Faults);
    }

    [Fact]
    public void Find_SoundScan_HasNoFault()
    {
        PositionReport report = Find("");
        Assert.Empty(report.Faults);
        Assert.Empty(report.Untold);
        Assert.Equal(2, report.Matches.Count);
        Assert.All(report.Matches, m => Assert.All(m.ShiftMetres, s => Assert.Equal(0, s)));
    }

    [Fact]
    public void Find_EvenWall_SaysThatItCannotTell()
    {
        PositionReport report = PositionFaultsOf(
            PlacementTests.Elbow(Plan, "", Entry("kind = \"encoder slip\"\nlines = [2]\nsize = 5 mm"))
        );
        Assert.DoesNotContain(report.Faults, f => f.Kind == PositionFaultKind.EncoderSlip);
        Assert.Equal(2, report.Untold.Count);
    }

    [Fact]
    public void Find_EncoderSpin_IsNegative()
    {
        PositionReport report = Find("kind = \"encoder spin\"\nlines = [2]\nat = 40 %\nsize = 6 mm");
        PositionFault fault = Assert.Single(report.Faults);
        Assert.Equal(PositionFaultKind.EncoderSpin, fault.Kind);
        Assert.Equal(1, fault.Line);
        Assert.Equal(-6e-3, fault.SizeMetres, 1.001e-3);
    }

    [Fact]
    public void Find_MissedIndex_IsFoundToOneBeam()
    {
        PositionReport report = Find("kind = \"missed index\"\nlines = [2]\nsize = 4 mm");
        PositionFault fault = Assert.Single(report.Faults);
        Assert.Equal(PositionFaultKind.IndexStep, fault.Kind);
        Assert.Equal(1, fault.Line);
        Assert.Equal(-4e-3, fault.SizeMetres, 1.001e-3);
    }

    [Fact]
    public void Find_DuplicateLine_NamesBothLines()
    {
        PositionReport report = Find("kind = \"duplicate line\"\nlines = [2]");
        PositionFault fault = Assert.Single(report.Faults, f => f.Kind == PositionFaultKind.DuplicateLine);
        Assert.Equal((1, 0), (fault.Line, fault.Against));
    }

    [Fact]
    public void Find_Reversal_LeavesTwiceItsLengthBehind()
    {
        PositionReport report = Find("kind = \"reversal\"\nlines = [2]\nat = 40 %\nsize = 5 mm");
        PositionFault fault = Assert.Single(report.Faults);
        Assert.Equal(1, fault.Line);
        Assert.Equal(PositionFaultKind.Reversal, fault.Kind);
        Assert.Equal(-10e-3, fault.SizeMetres, 1.001e-3);
    }

    [Fact]
    public void Find_ReversedLine_IsFound()
    {
        SceneModel model = PlacementTests.Elbow(Plan, "", Rough);
        LineCells[] lines = SceneLines.Of(model, 0.03e-3);
        LineCells line = lines[1];
        var turned = new float[line.ThicknessMetres.Length];
        for (int s = 0; s < line.Scans; s++)
            line.ThicknessMetres.AsSpan((line.Scans - 1 - s) * line.Beams, line.Beams)
                .CopyTo(turned.AsSpan(s * line.Beams));
        lines[1] = line with { ThicknessMetres = turned };
        PositionReport report = PositionFaults.Find(SceneLines.Surface(model), lines);
        Assert.Contains(report.Faults, f => f.Kind == PositionFaultKind.ReversedLine && f.Line is 1 or 2);
    }

    [Fact]
    public void Find_DroppedScans_AreCounted()
    {
        PositionReport report = Find("kind = \"dropped scans\"\nlines = [2]\nat = 30 %\nsize = 12 mm");
        PositionFault fault = Assert.Single(report.Faults);
        Assert.Equal((PositionFaultKind.DroppedPositions, 1, 12), (fault.Kind, fault.Line, fault.Scans));
    }

    [Fact]
    public void Correct_Slip_BringsRepeatabilityBack()
    {
        SceneModel model = PlacementTests.Elbow(
            Plan,
            "",
            Rough + Entry("kind = \"encoder slip\"\nlines = [2]\nsize = 6 mm")
        );
        ComponentSurface surface = SceneLines.Surface(model);
        LineCells[] lines = SceneLines.Of(model, 0.03e-3);
        double before = Overlaps.Of(Stitcher.Stitch(surface, lines)).RepeatabilityMetres;
        (IReadOnlyList<LineCells> corrected, IReadOnlyList<string> log) = PositionFaults.Correct(
            lines,
            PositionFaults.Find(surface, lines)
        );
        double after = Overlaps.Of(Stitcher.Stitch(surface, corrected)).RepeatabilityMetres;
        Assert.Single(log);
        Assert.True(after < 0.7 * before, $"{before * 1e3:0.000} mm before, {after * 1e3:0.000} mm after");
        // The lines as measured stay as they are.
        Assert.Empty(lines[1].ScanShiftMetres);
    }

    [Fact]
    public void Of_OverlapOfNoise_RepeatabilityAndBiasAreThoseOfTwoNormals()
    {
        // A sound even wall: lines differ by noise alone. Expected smallest of two normals -1/sqrt(pi) = -0.5642 deviations.
        SceneModel model = PlacementTests.Elbow(Plan, "");
        StitchedMap map = Stitcher.Stitch(SceneLines.Surface(model), SceneLines.Of(model, 0.05e-3));
        OverlapReport report = Overlaps.Of(map);
        Assert.True(report.Cells > 2000, $"{report.Cells} cells");
        // 2400 pairs, robust: 2 %; a cell may hold two positions of a line, whose mean is quieter: the expectation is taken from the data.
        Assert.Equal(report.ExpectedBiasMetres, report.SmallestBiasMetres, 0.05 * Math.Abs(report.ExpectedBiasMetres));
        Assert.InRange(report.RepeatabilityMetres, 0.040e-3, 0.052e-3);
    }

    private static PositionReport Find(string fault) =>
        PositionFaultsOf(PlacementTests.Elbow(Plan, "", Rough + (fault.Length == 0 ? "" : Entry(fault))));

    private static PositionReport PositionFaultsOf(SceneModel model) =>
        PositionFaults.Find(SceneLines.Surface(model), SceneLines.Of(model, 0.03e-3));

    /// <summary>A fault as a section; quantities get their quotes here.</summary>
    private static string Entry(string fault) =>
        "\n[[fault]]\n" + System.Text.RegularExpressions.Regex.Replace(fault, @"= ([0-9.]+ (mm|%))", "= \"$1\"");
}
