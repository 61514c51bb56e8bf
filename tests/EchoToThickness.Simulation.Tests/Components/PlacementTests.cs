using EchoToThickness.Components;
using EchoToThickness.Pairing;
using EchoToThickness.Procedures;
using EchoToThickness.Simulation.Plans;
using EchoToThickness.Simulation.Rendering;
using EchoToThickness.Simulation.Scenes;
using EchoToThickness.Stacks;
using Xunit;

namespace EchoToThickness.Simulation.Tests.Components;

/// <summary>
/// The inverse of the simulated scan plan, worked out independently; closed forms of the torus (theorem of Pappus): area 2 π r R θ, half around the
/// extrados 1/2 + r / (π R) of it.
/// </summary>
public sealed class PlacementTests
{
    [Theory]
    [InlineData("", "")]
    [InlineData("start = \"mid-bend\"", "straight_ends = \"40 mm\"")]
    [InlineData("encoder_radius = \"centre\"", "straight_ends = \"25 mm\"")]
    [InlineData("direction = \"around\"\nindex_step = \"40 mm\"", "straight_ends = \"30 mm\"")]
    [InlineData("direction = \"around\"\nstart = \"mid-bend\"", "")]
    public void PlaceOf_LinesOfAScene_AreWhereTheScanPlanPutThem(string scan, string component)
    {
        SceneModel model = Elbow(scan, component);
        ComponentSurface surface = SceneLines.Surface(model);
        LineCells[] lines = SceneLines.Of(model);
        int compared = 0;
        for (int line = 0; line < lines.Length; line++)
        {
            var geometry = new LineGeometry(surface, lines[line]);
            for (int s = 0; s < lines[line].Scans; s += 7)
            for (int b = 0; b < lines[line].Beams; b += 5)
            {
                CellPlace truth = model.Geometry.PlaceOf(line, s, b);
                SurfacePlace place = geometry.PlaceOf(s, b);
                // Sums of a few hundred millimetres in double precision.
                Assert.Equal(truth.Point.AlongMetres, place.AlongMetres, 1e-12);
                Assert.Equal(0, surface.WrapDifference(truth.Point.AroundMetres - place.AroundMetres), 1e-12);
                if (!truth.OnComponent)
                    continue;
                Assert.True(geometry.TryLocate(place, out int scanBack, out int beamBack));
                Assert.Equal((s, b), (scanBack, beamBack));
                compared++;
            }
        }
        Assert.True(compared > 500, $"{compared} cells compared");
    }

    [Fact]
    public void Stitch_WholeElbow_MeasuresTheAreaOfTheTorus()
    {
        SceneModel model = Elbow("lines = 0\noverlap = \"3 mm\"", "");
        ComponentSurface surface = SceneLines.Surface(model);
        StitchedMap map = Stitcher.Stitch(surface, SceneLines.Of(model));
        CoverageReport coverage = Coverage.Of(map);
        double torus = 2 * Math.PI * 0.05715 * 0.1524 * Math.PI / 2;
        Assert.Equal(torus, coverage.Whole.RequiredSquareMetres, torus * 1e-9);
        Assert.Equal(torus, coverage.Whole.MeasuredSquareMetres, torus * 1e-3);
        // Quarter around the extrados: θ r (R π/2 + 2 r sin 45 deg).
        double quarter = Math.PI / 2 * 0.05715 * (0.1524 * Math.PI / 2 + 2 * 0.05715 * Math.Sin(Math.PI / 4));
        double found = coverage.Zones.Single(z => z.Zone == SurfaceZone.Extrados).RequiredSquareMetres;
        // Cells belong to a zone whole; the raster has 359 cells around.
        Assert.Equal(quarter, found, quarter * 0.02);
        Assert.Equal(map.AreaSquareMetres.Sum(), surface.AreaSquareMetres, 1e-12);
        Assert.Equal(torus, map.AreaSquareMetres.Sum(), torus * 1e-9);
    }

    [Fact]
    public void AreaOf_CellAcrossTheTangentLine_IsBendPlusStraight()
    {
        ComponentSurface surface = ComponentSurface.Of(
            new ComponentFacts
            {
                Kind = ComponentKind.Elbow,
                OutsideDiameterMetres = 0.1143,
                BendRadiusMetres = 0.1524,
                BendAngleRadians = Math.PI / 2,
                StraightEndsMetres = 0.05,
            }
        );
        double width = surface.WidthMetres;
        Assert.Equal(2 * 0.05 * width + 2 * Math.PI * 0.05715 * surface.LengthMetres, surface.AreaSquareMetres, 1e-12);
        Assert.Equal(0.01 * width + 0.01 * width, surface.AreaOf(-0.01, 0.01, 0, width), 1e-12);
        Assert.Equal(SurfaceZone.StraightEnds, surface.ZoneOf(new SurfacePlace(-0.01, 0)));
        Assert.Equal(SurfaceZone.Intrados, surface.ZoneOf(new SurfacePlace(0.01, width / 2)));
        // In space: 10 mm before the bend at the extrados, on the tangent.
        (double x, double y, double z) = surface.PointAt(new SurfacePlace(-0.01, 0));
        Assert.Equal(0.1524 + 0.05715, x, 1e-12);
        Assert.Equal(-0.01, y, 1e-12);
        Assert.Equal(0, z);
    }

    [Theory]
    [InlineData(4.0)]
    [InlineData(9.0)]
    public void Of_GapBetweenLinesAlong_IsFoundWithItsWidth(double gapMillimetres)
    {
        // 57 beams of 1 mm, and lines further apart than that.
        SceneModel model = Elbow(
            FormattableString.Invariant(
                $"lines = 3\nindex_step = \"{57 + gapMillimetres} mm\"\nfirst_line = \"0 deg\""
            ),
            ""
        );
        StitchedMap map = Stitcher.Stitch(SceneLines.Surface(model), SceneLines.Of(model));
        CoverageGap[] gaps =
        [
            .. Coverage.Of(map).Gaps.Where(g => g.AroundToMetres - g.AroundFromMetres < 0.02 && g.Cells > 200),
        ];
        Assert.Equal(2, gaps.Length);
        foreach (CoverageGap gap in gaps)
        {
            // One cell of about 1 mm.
            Assert.Equal(gapMillimetres * 1e-3, gap.AroundToMetres - gap.AroundFromMetres, 1.05e-3);
            Assert.Equal(gapMillimetres * 1e-3, gap.Disc.DiameterMetres, 1.05e-3);
        }
        // From the edge of the first line's swath to that of the second.
        Assert.InRange(gaps.Min(g => g.AroundFromMetres), 0.0275, 0.0295);
    }

    [Fact]
    public void Of_LinesAround_GapGrowsToTheExtrados()
    {
        // At the intrados lines 60 mm apart on the centre line lie 60 * (1 - r/R) = 37.5 mm apart, at the extrados 82.5 mm; 57 mm are covered.
        SceneModel model = Elbow(
            "direction = \"around\"\nlines = 2\nindex_step = \"60 mm\"\nfirst_line = \"80 mm\"",
            ""
        );
        StitchedMap map = Stitcher.Stitch(SceneLines.Surface(model), SceneLines.Of(model));
        CoverageGap gap = Coverage.Of(map).Gaps.Single(g => g.AlongFromMetres > 0.085 && g.AlongToMetres < 0.135);
        Assert.Equal(0.0825 - 0.057, gap.WidestAlongMetres, 0.003);
        Assert.True(gap.AroundFromMetres < 0 || gap.AroundToMetres > 0.35, "it lies across the extrados");
    }

    /// <summary>A round patch of 16 mm without an echo: 201 mm2 of metal and a disc of 16 mm, wherever on the torus it lies.</summary>
    [Theory]
    [InlineData(0.0)]
    [InlineData(90.0)]
    [InlineData(180.0)]
    public void Of_LostPatch_HasItsAreaItsDiscAndItsPlace(double girthDegrees)
    {
        SceneModel model = Elbow("lines = 0\noverlap = \"3 mm\"", "");
        ComponentSurface surface = SceneLines.Surface(model);
        LineCells[] lines = SceneLines.Of(model);
        const double radius = 8e-3;
        double along = surface.LengthMetres / 2;
        double around = girthDegrees / 360 * surface.WidthMetres;
        foreach (LineCells line in lines)
        {
            var geometry = new LineGeometry(surface, line);
            for (int scan = 0; scan < line.Scans; scan++)
            for (int beam = 0; beam < line.Beams; beam++)
            {
                SurfacePlace place = geometry.PlaceOf(scan, beam);
                double x = (place.AlongMetres - along) * (1 + 57.15 / 152.4 * Math.Cos(place.AroundMetres / 0.05715));
                double y = surface.WrapDifference(place.AroundMetres - around);
                if (x * x + y * y > radius * radius)
                    continue;
                line.Status[scan * line.Beams + beam] = CellStatus.NoBackWallEcho;
                line.ThicknessMetres[scan * line.Beams + beam] = float.NaN;
            }
        }
        CoverageReport report = Coverage.Of(Stitcher.Stitch(surface, lines));
        LostPatch patch = report.Lost[0];
        Assert.Equal(CellStatus.NoBackWallEcho, patch.Cause);
        // Cells of 1 by 0.6 to 1.4 mm on a rim of 50 mm, each in or out by its centre: one in a hundred, and half a cell of the stitching.
        Assert.Equal(Math.PI * radius * radius, patch.AreaSquareMetres, 0.08 * Math.PI * radius * radius);
        // Short by up to a cell of the map on either side, never too large; the patch itself ends at cells of the lines, to half a millimetre on either side.
        double cell = Math.Max(1, 1 + 57.15 / 152.4 * Math.Cos(girthDegrees / 180 * Math.PI)) * 1e-3 + 0.5e-3;
        Assert.InRange(patch.Disc.DiameterMetres, 2 * radius - 2 * cell, 2 * radius);
        Assert.Equal(along, patch.Disc.Centre.AlongMetres, 1.1e-3);
        Assert.Equal(0, surface.WrapDifference(around - patch.Disc.Centre.AroundMetres), 1.1e-3);
        Assert.Equal(patch.Disc, report.LargestDisc);
        Assert.Equal(
            patch.AreaSquareMetres,
            report.Whole.LostSquareMetres[CellStatus.NoBackWallEcho],
            0.02 * patch.AreaSquareMetres
        );
    }

    [Fact]
    public void Of_UnknownDirection_IsRefusedByName()
    {
        SceneModel model = Elbow("", "");
        LineCells line = SceneLines.Of(model)[0] with { Placement = new LinePlacement() };
        var error = Assert.Throws<ComponentException>(() => Stitcher.Stitch(SceneLines.Surface(model), [line]));
        Assert.Contains("line_direction", error.Message, StringComparison.Ordinal);
        Assert.Contains("[placement]", error.Message, StringComparison.Ordinal);
    }

    internal static SceneModel Elbow(string scan, string component, string more = "", int seed = 1) =>
        SceneModel.Compile(
            SceneText
                .Read(
                    $"""
                    [scene]
                    name = "elbow"
                    seed = {seed}
                    [component]
                    kind = "elbow"
                    nps = "4"
                    schedule = "40"
                    {component}
                    [array]
                    elements = 64
                    aperture_elements = 8
                    pitch = "1 mm"
                    [scan]
                    {scan}
                    {more}
                    """,
                    "test"
                )
                .Value
        );
}
