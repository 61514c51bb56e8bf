using System.Globalization;
using EchoToThickness.Geometry;
using Xunit;

namespace EchoToThickness.Tests.Geometry;

/// <summary>Rows PG-arc, -area, -frac, -vol, -dA, -xyz of testdata/checks/04_pipe_geometry.csv (mpmath, 30 digits, 12 printed).</summary>
public sealed class ElbowTorusTests
{
    private const double Degree = Math.PI / 180;

    public static TheoryData<string, double, double, double, double> Elbows =>
        new()
        {
            { "6LR", 0.1683, 0.2286, 90, 7.11e-3 },
            { "6SR", 0.1683, 0.1524, 90, 7.11e-3 },
            { "10LR45", 0.2730, 0.381, 45, 9.27e-3 },
        };

    [Theory]
    [MemberData(nameof(Elbows))]
    public void ArcsAreasVolume_OfElbow_AreTheClosedForms(
        string name,
        double outside,
        double bend,
        double degrees,
        double wall
    )
    {
        var torus = new ElbowTorus(outside / 2, bend, degrees * Degree);
        Same($"PG-arc-ext-{name}", torus.ArcMetres(0) * 1000);
        Same($"PG-arc-int-{name}", torus.ArcMetres(Math.PI) * 1000);
        Same($"PG-arc-cl-{name}", torus.ArcMetres(Math.PI / 2) * 1000);
        Same($"PG-area-{name}", torus.TotalAreaSquareMetres);
        Same($"PG-area-exthalf-{name}", torus.AreaSquareMetres(-Math.PI / 2, Math.PI / 2, torus.BendAngleRadians));
        Same($"PG-area-inthalf-{name}", torus.AreaSquareMetres(Math.PI / 2, 1.5 * Math.PI, torus.BendAngleRadians));
        Same($"PG-frac-ext-{name}", torus.ExtradosFraction);
        Same($"PG-vol-{name}", torus.MetalVolumeCubicMetres(wall) * 1e6);
    }

    [Theory]
    [MemberData(nameof(Elbows))]
    public void AreaSquareMetres_OneDegreeCell_IsTheMidpointRule(
        string name,
        double outside,
        double bend,
        double degrees,
        double wall
    )
    {
        var torus = new ElbowTorus(outside / 2, bend, degrees * Degree);
        Assert.True(wall < torus.OutsideRadiusMetres);
        foreach (double phi in (double[])[0, 60, 90, 180])
        {
            double area = torus.AreaSquareMetres((phi - 0.5) * Degree, (phi + 0.5) * Degree, Degree) * 1e6;
            // The row holds the midpoint rule; its own tolerance is 1e-4.
            string row = string.Create(CultureInfo.InvariantCulture, $"PG-dA-{name}-{phi}");
            Assert.Equal(CheckRows.Expected(row), area, 1e-4 * area);
        }
    }

    [Theory]
    [InlineData("6LR", 0.1683, 0.2286)]
    [InlineData("6SR", 0.1683, 0.1524)]
    [InlineData("10LR45", 0.2730, 0.381)]
    public void PointAt_ThirtyByFortyDegrees_IsTheRow(string name, double outside, double bend)
    {
        (double x, double y, double z) = new ElbowTorus(outside / 2, bend, 1).PointAt(40 * Degree, 30 * Degree);
        double[] expected = CheckRows.ExpectedList($"PG-xyz-{name}");
        Assert.Equal(expected[0], x * 1000, 1e-8);
        Assert.Equal(expected[1], y * 1000, 1e-8);
        Assert.Equal(expected[2], z * 1000, 1e-8);
    }

    [Fact]
    public void Areas_OfManyCells_AddUpToTheTotal()
    {
        var torus = new ElbowTorus(0.08415, 0.2286, Math.PI / 2);
        double sum = 0;
        for (int cell = 0; cell < 360; cell++)
            sum += torus.AreaSquareMetres(cell * Degree, (cell + 1) * Degree, torus.BendAngleRadians);
        Assert.Equal(torus.TotalAreaSquareMetres, sum, 1e-12);
    }

    [Fact]
    public void AlongCurvature_AgainstThreePointsInSpace_IsThatOfTheNormalSection()
    {
        // Slow and obvious: second difference of the parallel circle, projected on the outward normal (Meusnier).
        var torus = new ElbowTorus(0.05, 0.2, 1.5);
        foreach (double phi in (double[])[0, 0.4, 1.2, 2.5, Math.PI])
        {
            const double step = 1e-4;
            (double xa, double ya, _) = torus.PointAt(0.7 - step, phi);
            (double x, double y, _) = torus.PointAt(0.7, phi);
            (double xb, double yb, _) = torus.PointAt(0.7 + step, phi);
            double ds = step * torus.AxisDistanceMetres(phi);
            (double ax, double ay) = ((xa - 2 * x + xb) / (ds * ds), (ya - 2 * y + yb) / (ds * ds));
            double normalX = Math.Cos(phi) * Math.Cos(0.7);
            double normalY = Math.Cos(phi) * Math.Sin(0.7);
            // Truncation step²/12 and rounding 1e-16/ds² both stay below 1e-6 of 1/m.
            Assert.Equal(-(ax * normalX + ay * normalY), torus.AlongCurvaturePerMetre(phi), 1e-5);
        }
        Assert.Equal(0.25, torus.AlongRadiusMetres(0), 12);
        Assert.Equal(-0.15, torus.AlongRadiusMetres(Math.PI), 12);
        Assert.Equal(double.PositiveInfinity, torus.AlongRadiusMetres(Math.PI / 2));
    }

    [Fact]
    public void Constructor_ImpossibleBends_AreRefusedByName()
    {
        Assert.Equal(
            "bendRadiusMetres",
            Assert.Throws<ArgumentOutOfRangeException>(() => new ElbowTorus(0.1, 0.1, 1)).ParamName
        );
        Assert.Equal(
            "outsideRadiusMetres",
            Assert.Throws<ArgumentOutOfRangeException>(() => new ElbowTorus(double.NaN, 0.1, 1)).ParamName
        );
        Assert.Equal(
            "bendAngleRadians",
            Assert.Throws<ArgumentOutOfRangeException>(() => new ElbowTorus(0.05, 0.1, 6.3)).ParamName
        );
    }

    private static void Same(string row, double value) =>
        Assert.Equal(CheckRows.Expected(row), value, CheckRows.Tolerance(row));
}
