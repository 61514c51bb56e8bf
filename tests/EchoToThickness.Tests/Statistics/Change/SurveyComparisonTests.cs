using EchoToThickness.Statistics;
using EchoToThickness.Statistics.Assessment;
using EchoToThickness.Statistics.Change;
using Xunit;

namespace EchoToThickness.Tests.Statistics.Change;

public sealed class SurveyComparisonTests
{
    private const double U = 15e-6;

    private static ThicknessMap Map(Func<int, int, double> wall, int seed, int rows = 60, int columns = 50)
    {
        double[] z = StatisticsData.Normals(rows * columns, seed);
        double[] walls = [.. z.Select((v, k) => wall(k / columns, k % columns) + U * v)];
        return new ThicknessMap(
            MapAxes.Even(rows, columns, 1e-3, 1e-3),
            walls,
            default,
            Enumerable.Repeat(U, walls.Length).ToArray()
        );
    }

    // Slope of 0.5 mm a millimetre along and 0.2 around: half a millimetre of displacement is 0.5 * hypot(0.5, 0.2) of wall.
    [Fact]
    public void WithPlacementUncertainty_Slope_IsDisplacementTimesSlope()
    {
        MapAxes axes = MapAxes.Even(5, 6, 1e-3, 1e-3);
        double[] walls = [.. Enumerable.Range(0, 30).Select(k => 8e-3 + 0.5e-3 * (k / 6) + 0.2e-3 * (k % 6))];
        walls[14] = double.NaN;
        var map = new ThicknessMap(axes, walls, default, Enumerable.Repeat(3e-5, 30).ToArray());
        ThicknessMap wide = SurveyRegistration.WithPlacementUncertainty(map, 0.5e-3);
        double expected = double.Hypot(3e-5, 0.5e-3 * double.Hypot(0.5, 0.2));
        // Also at edges and beside the cell that was not measured: one-sided differences of a plane are the same.
        for (int k = 0; k < 30; k++)
            if (k != 14)
                Assert.Equal(expected, wide.StandardUncertaintyMetres[k], 1e-15);
        Assert.False(wide.IsMeasured(14));
        Assert.Equal(walls[0], wide.ThicknessMetres[0]);
    }

    // A pit of 3 mm with steep flanks, unchanged, scanned 0.4 cells off by an encoder, not registered: its flanks move by up to 0.3 mm, twenty
    // uncertainties of the walls. With the displacement in the uncertainty no cell is called changed.
    [Fact]
    public void Of_UnchangedPitOffByPartOfACell_IsNoChange()
    {
        static double Pit(double i, double j) =>
            8e-3 - 3e-3 * Math.Exp(-(Math.Pow(i - 30, 2) + Math.Pow(j - 25, 2)) / 30);
        ThicknessMap earlier = Map((i, j) => Pit(i, j), 1);
        ThicknessMap later = Map((i, j) => Pit(i - 0.4, j), 2);
        var settings = new ChangeSettings { Years = 1 };
        SurveyComparison blind = SurveyComparison.Of(earlier, later, null, settings, 0);
        SurveyComparison aware = SurveyComparison.Of(earlier, later, null, settings, 0.4e-3);
        Assert.True(blind.Change.SignificantCells > 50);
        Assert.InRange(aware.Change.SignificantCells, 0, 2);
        Assert.False(aware.IsRegistered);
    }

    [Fact]
    public void Of_UnrelatedSurveys_UsesTheDatumAndACellOfPlacement()
    {
        ThicknessMap earlier = Map((_, _) => 8e-3, 3);
        ThicknessMap later = Map((_, _) => 7.9e-3, 4);
        SurveyComparison comparison = SurveyComparison.Of(
            earlier,
            later,
            new RegistrationSettings { LargestAlongMetres = 2e-3, LargestAroundMetres = 2e-3 },
            new ChangeSettings { Years = 2 }
        );
        Assert.False(comparison.IsRegistered);
        Assert.Equal(1e-3, comparison.PlacementUncertaintyMetres);
        Assert.Equal(3000, comparison.Change.Cells);
        Assert.Equal(0.05e-3, comparison.Change.Rate.Mean, 1e-6);
    }

    // Two halves with rates of 0.02 and 0.10 mm a year: summaries of the halves have no spread of their own, that of the whole has.
    [Fact]
    public void RateSummary_TwoHalves_AreToldApart()
    {
        ThicknessMap earlier = Map((_, _) => 8e-3, 5);
        ThicknessMap later = Map((i, _) => 8e-3 - (i < 30 ? 0.1e-3 : 0.5e-3), 6);
        ThicknessChange change = ChangeAnalyser.Compare(earlier, later, new ChangeSettings { Years = 5 });
        RateSummary first = RateSummary.Of("first", change, earlier, k => k / 50 < 30)!;
        RateSummary second = RateSummary.Of("second", change, earlier, k => k / 50 >= 30)!;
        RateSummary whole = RateSummary.Of("whole", change, earlier, _ => true)!;
        Assert.Equal(1500, first.Cells);
        Assert.Equal(0.02e-3, first.MeanMetresPerYear, 0.5e-6);
        Assert.Equal(0.10e-3, second.MeanMetresPerYear, 0.5e-6);
        Assert.InRange(first.TrueDeviationMetresPerYear, 0, 1e-6);
        Assert.Equal(0.04e-3, whole.TrueDeviationMetresPerYear, 0.5e-6);
        Assert.Equal(
            whole.MeanMetresPerYear + 1.6449 * whole.TrueDeviationMetresPerYear,
            whole.UpperMetresPerYear,
            1e-8
        );
        Assert.Equal(Math.Sqrt(2) * U / 5, whole.UncertaintyMetresPerYear, 1e-12);
        Assert.Null(RateSummary.Of("none", change, earlier, _ => false));
    }

    [Fact]
    public void RiverBottom_OfPart_RunsFromEdgeToEdgeAcrossTheSeam()
    {
        double[] walls = Enumerable.Repeat(8e-3, 60).ToArray();
        walls[2 * 10 + 9] = 5e-3;
        walls[3 * 10 + 0] = 6e-3;
        walls[3 * 10 + 5] = 2e-3;
        var map = new ThicknessMap(MapAxes.Even(6, 10, 1e-3, 1e-3, true), walls);
        RiverBottom profile = RiverBottom.OfPart(map, 8e-3, 2, 3, 9, 11);
        Assert.Equal([2e-3, 2.5e-3, 3.5e-3, 4e-3], profile.PositionsMetres.Select(x => Math.Round(x, 9)));
        Assert.Equal([3e-3, 3e-3, 2e-3, 2e-3], profile.DepthsMetres.Select(x => Math.Round(x, 9)));
        Assert.Equal(0, profile.MissingPlaces);
    }
}
