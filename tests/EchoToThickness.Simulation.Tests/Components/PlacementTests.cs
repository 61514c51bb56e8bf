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
            // Two rows of centres a gap and a beam apart, up to 1 mm * (1 + r/R) / (1 + r/R cos 30 deg) along: a disc between three of them is at least as
            // wide as the rows are apart, and at most as the diagonal. Its cells end half a beam inside.
            double apart = (gapMillimetres + 1) * 1e-3;
            double pitch = 1.04e-3;
            Assert.InRange(gap.Disc.DiameterMetres, apart, Math.Sqrt(apart * apart + pitch * pitch));
            Assert.InRange(
                gap.Disc.FreeOfCellsMetres,
                Math.Sqrt(apart * apart - pitch * pitch) - 1e-3,
                gapMillimetres * 1e-3 + 1e-6
            );
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

    /// <summary>
    /// A round spot of 16 mm without an echo, by distance in space: wherever on the torus it lies, its disc is never smaller, and larger by at most two
    /// diagonals of a cell. For an empty disc of radius ρ, a way d from the spot of radius r, holds beside the spot an empty disc of diameter ρ + d - r, and
    /// cells of pitches a and b leave none of more than their diagonal: ρ + d ≤ r + √(a² + b²).
    /// </summary>
    [Theory]
    [InlineData(0.0, 0.5)]
    [InlineData(37.0, 0.31)]
    [InlineData(90.0, 0.5)]
    [InlineData(143.3, 0.77)]
    [InlineData(180.0, 0.5)]
    [InlineData(251.9, 0.24)]
    [InlineData(359.4, 0.6)]
    public void Of_LostPatch_HasItsAreaItsDiscAndItsPlace(double girthDegrees, double fractionAlong)
    {
        SceneModel model = Elbow("lines = 0\noverlap = \"3 mm\"", "");
        ComponentSurface surface = SceneLines.Surface(model);
        LineCells[] lines = SceneLines.Of(model);
        const double radius = 8e-3;
        double along = surface.LengthMetres * fractionAlong;
        double around = girthDegrees / 360 * surface.WidthMetres;
        (double x0, double y0, double z0) = surface.PointAt(new SurfacePlace(along, around));
        foreach (LineCells line in lines)
        {
            var geometry = new LineGeometry(surface, line);
            for (int scan = 0; scan < line.Scans; scan++)
            for (int beam = 0; beam < line.Beams; beam++)
            {
                (double x, double y, double z) = surface.PointAt(geometry.PlaceOf(scan, beam));
                double chord = Math.Sqrt((x - x0) * (x - x0) + (y - y0) * (y - y0) + (z - z0) * (z - z0));
                if (chord > radius)
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
        // Beams 1 mm apart; along 1 mm on the line's own arc, so up to r/R sin 29 deg / (1 - r/R) more on its outer beams: 1.3 mm. Chords of 8 mm on a radius of 57 mm are
        // 0.08 % short of the way on the surface, and the stretch halfway is good to 0.1 %.
        double diagonal = Math.Sqrt(1 + 1.3 * 1.3) * 1e-3;
        Assert.InRange(patch.Disc.DiameterMetres, 2 * radius * 0.998, 2 * (radius * 1.002 + diagonal));
        // Free of cells: a disc within the spot and half a diagonal of a cell inside the centres.
        Assert.InRange(
            patch.Disc.FreeOfCellsMetres,
            patch.Disc.DiameterMetres - diagonal - 1e-6,
            patch.Disc.DiameterMetres - 0.5e-3
        );
        double away = Math.Sqrt(
            Math.Pow((patch.Disc.Centre.AlongMetres - along) * surface.Stretch(around), 2)
                + Math.Pow(surface.WrapDifference(around - patch.Disc.Centre.AroundMetres), 2)
        );
        Assert.InRange(away, 0, radius * 1.004 + diagonal - patch.Disc.DiameterMetres / 2);
        Assert.Equal(patch.Disc, report.LargestDisc);
        Assert.Equal(
            patch.AreaSquareMetres,
            report.Whole.LostSquareMetres[CellStatus.NoBackWallEcho],
            0.02 * patch.AreaSquareMetres
        );
    }

    /// <summary>Closed forms on a square lattice of pitch a: one cell lost, the radius is a; two by one, √1.25 a; two by two, √2.5 a; four by four, √6.5 a; five by five, 3 a.</summary>
    [Theory]
    [InlineData(1, 1, 1.0)]
    [InlineData(2, 2, 1.5811388300841898)]
    [InlineData(2, 1, 1.118033988749895)]
    [InlineData(5, 5, 3.0)]
    [InlineData(4, 4, 2.5495097567963922)]
    public void Of_LostCellsOfAPlate_HaveTheLargestEmptyCircle(int scans, int beams, double radiusInCells)
    {
        const double pitch = 1e-3;
        ComponentSurface surface = ComponentSurface.Of(
            new ComponentFacts
            {
                Kind = ComponentKind.Plate,
                LengthMetres = 0.03,
                WidthMetres = 0.03,
            }
        );
        var wall = new float[30 * 30];
        var status = new CellStatus[30 * 30];
        Array.Fill(wall, 6e-3f);
        Array.Fill(status, CellStatus.Measured);
        for (int i = 11; i < 11 + scans; i++)
        for (int j = 17; j < 17 + beams; j++)
            (wall[i * 30 + j], status[i * 30 + j]) = (float.NaN, CellStatus.NoBackWallEcho);
        var line = new LineCells
        {
            Name = "plate",
            Scans = 30,
            Beams = 30,
            ScanPositionsMetres = [.. Enumerable.Range(0, 30).Select(k => (k + 0.5) * pitch)],
            IndexPositionsMetres = [.. Enumerable.Range(0, 30).Select(k => (k + 0.5) * pitch)],
            Placement = new LinePlacement { Direction = LineDirection.Along },
            ThicknessMetres = wall,
            Status = status,
        };
        CoverageReport report = Coverage.Of(Stitcher.Stitch(surface, [line]));
        // The search ends within a micrometre of the radius.
        Assert.Equal(2 * radiusInCells * pitch, report.LargestDisc!.DiameterMetres, 2e-6);
        Assert.Equal(scans * beams >= 3 ? 1 : 0, report.Lost.Count);
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
