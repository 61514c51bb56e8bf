using EchoToThickness.Geometry;
using EchoToThickness.Procedures;
using EchoToThickness.Simulation.Plans;
using EchoToThickness.Simulation.Scenes;
using Xunit;

namespace EchoToThickness.Simulation.Tests.Plans;

/// <summary>Expected values: arcs of the torus, θ (R + r cos φ), worked by hand for NPS 4 (R 152.4 mm, r 57.15 mm): 149.6, 239.4, 329.2 mm.</summary>
public sealed class ScanGeometryTests
{
    private static readonly ComponentSection Elbow4 = new()
    {
        Shape = SceneShape.Elbow,
        NominalPipeSize = "4",
        Schedule = "40",
    };

    [Fact]
    public void ShapeOf_LinesAlongAnElbow_AreAsLongAsTheirOwnArc()
    {
        ScanGeometry plan = Plan(
            Elbow4,
            new ScanSection
            {
                Lines = 2,
                FirstLine = Degrees(0),
                IndexStepMetres = Math.PI * 0.05715,
            }
        );
        Assert.Equal(330, plan.ShapeOf(0).Scans);
        Assert.Equal(150, plan.ShapeOf(1).Scans);
        // The encoder counts a millimetre a step; on the centre line that is less at the extrados, more at the intrados.
        Assert.Equal(0.100, plan.ScanPositionsMetres(0)[100], 12);
        Assert.Equal(0.100 * 152.4 / 209.55, plan.PlaceOf(0, 100, 0).Point.AlongMetres, 12);
        Assert.Equal(0.100 * 152.4 / 95.25, plan.PlaceOf(1, 100, 0).Point.AlongMetres, 12);
        Assert.Equal(Math.PI * 0.05715, plan.PlaceOf(1, 0, 0).Point.AroundMetres, 12);
    }

    [Fact]
    public void PlaceOf_Elbow_KnowsItsRadiiOfCurvature()
    {
        ScanGeometry plan = Plan(
            Elbow4,
            new ScanSection
            {
                Lines = 2,
                FirstLine = Degrees(0),
                IndexStepMetres = Math.PI * 0.05715,
            }
        );
        Assert.Equal(0.20955, plan.PlaceOf(0, 5, 0).RadiusAlongMetres, 12);
        Assert.Equal(-0.09525, plan.PlaceOf(1, 5, 0).RadiusAlongMetres, 12);
        Assert.Equal(0.05715, plan.PlaceOf(1, 5, 0).RadiusAroundMetres, 12);
    }

    [Fact]
    public void ScanPositions_FromMidBend_HaveBothSignsAndMeetTheMiddle()
    {
        ScanGeometry plan = Plan(Elbow4, new ScanSection { FirstLine = Degrees(180), Start = ScanStart.MidBend });
        IReadOnlyList<double> positions = plan.ScanPositionsMetres(0);
        Assert.Equal(149, positions.Count);
        Assert.Equal(-0.074, positions[0], 12);
        Assert.Equal(0, positions[74]);
        Assert.Equal(Math.PI / 4 * 0.1524, plan.PlaceOf(0, 74, 0).Point.AlongMetres, 12);
        Assert.All(Enumerable.Range(0, 149), k => Assert.True(plan.PlaceOf(0, k, 0).OnComponent));
    }

    [Fact]
    public void ScanPositions_EncoderOnTheCentreLine_AreTheSameOnAllLines()
    {
        ScanGeometry plan = Plan(
            Elbow4,
            new ScanSection
            {
                Lines = 2,
                FirstLine = Degrees(0),
                IndexStepMetres = Math.PI * 0.05715,
                Encoder = EncoderPath.Centre,
            }
        );
        Assert.Equal(240, plan.ShapeOf(0).Scans);
        Assert.Equal(240, plan.ShapeOf(1).Scans);
        Assert.Equal(0.1, plan.PlaceOf(1, 100, 0).Point.AlongMetres, 12);
    }

    [Fact]
    public void Lines_ToCoverTheGirth_AreEightPassesOfFiftyMillimetres()
    {
        // 359 mm of girth, passes of 50 mm with 5 mm overlap: 359/45 = 7.98.
        ScanGeometry plan = Plan(Elbow4, new ScanSection { Lines = 0, OverlapMetres = 5e-3 }, beams: 50);
        Assert.Equal(8, plan.Lines);
        Assert.Equal("line-08", plan.LineName(7));
        Assert.Equal(0.0005, plan.IndexPositionsMetres(0)[0], 12);
        Assert.Equal(0.0455, plan.IndexPositionsMetres(1)[0], 12);
        // The last line runs over the seam; its beams lie on the girth again.
        double girth = 2 * Math.PI * 0.05715;
        Assert.Equal(0.315 + 0.0495 - girth, plan.PlaceOf(7, 0, 49).Point.AroundMetres, 12);
        Assert.Equal(0.315 + 0.0495, plan.PlaceOf(7, 0, 49).IndexMetres, 12);
    }

    [Fact]
    public void Cells_OfManyLines_AddUpToTheAreaOfTheTorus()
    {
        // One beam a line, 360 lines: area = sum of pitch x index step; a line loses at most one pitch of its arc by rounding down.
        var scan = new ScanSection
        {
            Lines = 360,
            FirstLine = Degrees(0),
            IndexStepMetres = 2 * Math.PI * 0.05715 / 360,
            PitchMetres = 1e-4,
        };
        ScanGeometry plan = Plan(Elbow4, scan);
        double area = 0;
        for (int line = 0; line < plan.Lines; line++)
            area += (plan.ShapeOf(line).Scans - 1) * 1e-4 * scan.IndexStepMetres.Value;
        double torus = new ElbowTorus(0.05715, 0.1524, Math.PI / 2).TotalAreaSquareMetres;
        Assert.InRange(area, torus * (1 - 1e-3), torus);
    }

    [Fact]
    public void LinesAround_Elbow_KeepTheBeamsTrueDistanceAndCloseOnce()
    {
        ScanGeometry plan = Plan(
            Elbow4,
            new ScanSection { Direction = ScanDirection.Around, FirstLine = Degrees(45) },
            beams: 11
        );
        Assert.Equal(360, plan.ShapeOf(0).Scans);
        foreach (int scan in (int[])[0, 90, 180, 300])
        {
            CellPlace first = plan.PlaceOf(0, scan, 0);
            CellPlace last = plan.PlaceOf(0, scan, 10);
            double distance = (last.Point.AlongMetres - first.Point.AlongMetres) * plan.Shape.Stretch(first.Point);
            Assert.Equal(0.010, distance, 12);
        }
    }

    [Fact]
    public void LinesAround_ToCover_LeaveNoGapOnTheExtrados()
    {
        ScanGeometry plan = Plan(Elbow4, new ScanSection { Direction = ScanDirection.Around, Lines = 0 }, beams: 50);
        // 329.2 mm of extrados, 50 mm a line.
        Assert.Equal(7, plan.Lines);
        double step = plan.StartOf(1).AlongMetres - plan.StartOf(0).AlongMetres;
        Assert.Equal(0.050, step * plan.Shape.Stretch(0), 12);
    }

    [Fact]
    public void StraightEnds_OfAnElbow_AreTrueLengthOnEveryLine()
    {
        ScanGeometry plan = Plan(
            Elbow4 with
            {
                StraightEndsMetres = 0.05,
            },
            new ScanSection
            {
                Lines = 2,
                FirstLine = Degrees(0),
                IndexStepMetres = Math.PI * 0.05715,
            }
        );
        Assert.Equal(430, plan.ShapeOf(0).Scans);
        Assert.Equal(250, plan.ShapeOf(1).Scans);
        Assert.Equal(-0.05, plan.PlaceOf(1, 0, 0).Point.AlongMetres, 12);
        Assert.Equal(0, plan.PlaceOf(1, 50, 0).Point.AlongMetres, 12);
        Assert.Equal(double.PositiveInfinity, plan.PlaceOf(0, 10, 0).RadiusAlongMetres);
        double end = plan.PlaceOf(0, 429, 0).Point.AlongMetres;
        Assert.InRange(end, Math.PI / 2 * 0.1524 + 0.049, Math.PI / 2 * 0.1524 + 0.05);
    }

    [Fact]
    public void PlaceOf_Plate_IsOnTheComponentUpToItsEdges()
    {
        var plate = new ComponentSection
        {
            NominalWallMetres = 10e-3,
            LengthMetres = 0.1,
            WidthMetres = 0.05,
        };
        ScanGeometry plan = Plan(plate, new ScanSection { FirstLine = SceneLength.FromMetres(0.03) }, beams: 41);
        Assert.Equal(101, plan.ShapeOf(0).Scans);
        Assert.True(plan.PlaceOf(0, 100, 40).OnComponent);
        Assert.Equal(0.05, plan.PlaceOf(0, 100, 40).Point.AroundMetres, 12);
        ScanGeometry beyond = Plan(plate, new ScanSection { FirstLine = SceneLength.FromMetres(0.0301) }, beams: 41);
        Assert.False(beyond.PlaceOf(0, 0, 40).OnComponent);
        Assert.Equal(double.PositiveInfinity, plan.PlaceOf(0, 0, 0).RadiusAroundMetres);
    }

    [Theory]
    [InlineData(60e-3, 1e-3, 0, 1, "scan.overlap")]
    [InlineData(0, 1, 0, 1, "scan.to")]
    [InlineData(0, 1e-3, 2, 1, "scan.to")]
    public void Compile_PlansThatDoNotFit_NameTheKey(double overlap, double pitch, double from, double to, string key)
    {
        var scan = new ScanSection
        {
            OverlapMetres = overlap,
            PitchMetres = pitch,
            From = SceneLength.FromFraction(from + (pitch == 1 ? 0.3 : 0)),
            To = SceneLength.FromFraction(pitch == 1 ? 0.2 : to),
        };
        ProcedureException error = Assert.Throws<ProcedureException>(() => Plan(Elbow4, scan, beams: 50));
        Assert.Equal(key, error.Findings[0].Key);
    }

    private static SceneLength Degrees(double degrees) => SceneLength.FromRadians(degrees * Math.PI / 180);

    private static ScanGeometry Plan(ComponentSection component, ScanSection scan, int beams = 1) =>
        ScanGeometry.Compile(ComponentShape.Of(component), scan, beams, 1e-3, 1000);
}
