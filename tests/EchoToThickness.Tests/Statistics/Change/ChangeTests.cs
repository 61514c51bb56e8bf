using EchoToThickness.Statistics;
using EchoToThickness.Statistics.Change;
using Xunit;

namespace EchoToThickness.Tests.Statistics.Change;

public sealed class ChangeTests
{
    private const double U = 20e-6;

    /// <summary>A smooth wall with pits, defined everywhere, so that any displacement is exact.</summary>
    private static double Surface(double along, double around) =>
        8e-3
        + 0.2e-3 * Math.Sin(along / 7e-3)
        + 0.15e-3 * Math.Cos(2 * Math.PI * around / 0.08 * 3)
        - 1.5e-3 * Math.Exp(-(Math.Pow(along - 0.03, 2) + Math.Pow(around - 0.02, 2)) / 2e-5)
        - 1e-3 * Math.Exp(-(Math.Pow(along - 0.07, 2) + Math.Pow(around - 0.055, 2)) / 1e-5);

    private static ThicknessMap Map(Func<double, double, double> wall, int seed, bool wraps = false)
    {
        MapAxes axes = MapAxes.Even(100, 80, 1e-3, 1e-3, wraps);
        double[] z = StatisticsData.Normals(8000, seed);
        var values = new double[8000];
        for (int k = 0; k < values.Length; k++)
            values[k] = wall(axes.AlongMetres[k / 80], axes.AroundMetres[k % 80]) + U * z[k];
        return new ThicknessMap(axes, values, default, Enumerable.Repeat(U, 8000).ToArray());
    }

    // The later survey sees the feature of x at x (1 + s) + a: planted and found within a tenth of a cell in the middle and a seventh at
    // the ends (0.3 % of 50 mm): strips of 25 cells hold few features each. What is left belongs into the registration uncertainty.
    [Theory]
    [InlineData(3e-3, -2e-3, 0)]
    [InlineData(-1.4e-3, 0.6e-3, 0)]
    [InlineData(2e-3, 1e-3, 0.01)]
    public void Find_ShiftRotationStretch_AreRecovered(double along, double around, double stretch)
    {
        ThicknessMap earlier = Map(Surface, 1);
        const double centre = 0.05;
        ThicknessMap later = Map(
            (x, y) => Surface(centre + (x - along - centre) / (1 + stretch), y - around) - 0.1e-3,
            2
        );
        Registration found = SurveyRegistration.Find(
            earlier,
            later,
            new RegistrationSettings { LargestAlongMetres = 5e-3, LargestAroundMetres = 4e-3 }
        );
        Assert.True(found.IsReliable, found.Note);
        Assert.Equal(along, found.AlongMetres, 0.1e-3);
        Assert.Equal(around, found.AroundMetres, 0.1e-3);
        Assert.Equal(stretch, found.Stretch, 3e-3);
        Assert.True(found.Correlation > found.CorrelationUnmoved);
        ThicknessMap moved = SurveyRegistration.Resample(earlier, later, found);
        double sum = 0;
        int cells = 0;
        for (int k = 0; k < moved.Count; k++)
            if (moved.IsMeasured(k))
            {
                sum += earlier.ThicknessMetres[k] - moved.ThicknessMetres[k];
                cells++;
            }
        // The common loss of 0.1 mm comes out; the mean of 6,000 cells has no noise to speak of, the curvature of pits little.
        Assert.Equal(0.1e-3, sum / cells, 3e-6);
    }

    [Fact]
    public void Find_RotationOnAClosedGirth_WrapsAround()
    {
        static double Ring(double x, double y) => Surface(x, (y % 0.08 + 0.08) % 0.08);
        ThicknessMap earlier = Map(Ring, 3, true);
        ThicknessMap later = Map((x, y) => Ring(x, y - 0.033), 4, true);
        Registration found = SurveyRegistration.Find(
            earlier,
            later,
            new RegistrationSettings
            {
                LargestAlongMetres = 1e-3,
                LargestAroundMetres = 0.04,
                LargestStretch = 0,
            }
        );
        Assert.True(found.IsReliable, found.Note);
        Assert.Equal(0.033, found.AroundMetres, 0.05e-3);
        Assert.Equal(8000, SurveyRegistration.Resample(earlier, later, found with { AlongMetres = 0 }).MeasuredCount);
    }

    [Fact]
    public void Find_UnrelatedSurveys_SaysSo()
    {
        ThicknessMap a = Map((_, _) => 8e-3, 5);
        ThicknessMap b = Map((_, _) => 8e-3, 6);
        Registration found = SurveyRegistration.Find(
            a,
            b,
            new RegistrationSettings { LargestAlongMetres = 2e-3, LargestAroundMetres = 2e-3 }
        );
        Assert.False(found.IsReliable);
    }

    // Benjamini and Hochberg 1995, their example of 15 p-values at 0.05: the four smallest are rejected.
    [Fact]
    public void Reject_ExampleOf1995_RejectsFour()
    {
        double[] p =
        [
            0.0001,
            0.0004,
            0.0019,
            0.0095,
            0.0201,
            0.0278,
            0.0298,
            0.0344,
            0.0459,
            0.3240,
            0.4262,
            0.5719,
            0.6528,
            0.7590,
            1.0,
        ];
        Assert.Equal(4, FalseDiscovery.Reject(p, 0.05).Count(r => r));
        Assert.All(FalseDiscovery.Reject(p, 0.05).Take(4), Assert.True);
    }

    // A patch of 20 by 20 cells lost 0.12 mm (4.2 uncertainties of the difference): most of it found, and of the cells called changed no
    // more than 5 % are false but for three standard errors. Without change nothing is called.
    [Fact]
    public void Compare_PatchOfLoss_IsFoundAtTheFalseDiscoveryRate()
    {
        ThicknessMap earlier = Map((_, _) => 8e-3, 7);
        ThicknessMap later = Map((x, y) => x < 0.02 && y < 0.02 ? 8e-3 - 0.12e-3 : 8e-3, 8);
        ThicknessChange change = ChangeAnalyser.Compare(earlier, later, new ChangeSettings { Years = 4 });
        int inside = 0;
        int outside = 0;
        for (int k = 0; k < 8000; k++)
            if (change.IsSignificant[k])
                _ = k / 80 < 20 && k % 80 < 20 ? inside++ : outside++;
        Assert.InRange(inside, 320, 400);
        Assert.InRange((double)outside / (inside + outside), 0, 0.05 + 3 * Math.Sqrt(0.05 * 0.95 / 400));
        Assert.Equal(0.03e-3 * 400 / 8000, change.Rate.Mean, 1e-6);
        // A patch of 5 % with 0.03 mm a year: deviation 0.03 sqrt(0.05 * 0.95).
        Assert.Equal(0.03e-3 * Math.Sqrt(0.05 * 0.95), change.TrueRateDeviationMetresPerYear, 0.5e-6);
        Assert.Equal(change.SignificantCells * 1e-6, change.SignificantAreaSquareMetres, 1e-12);
        ThicknessChange none = ChangeAnalyser.Compare(
            earlier,
            Map((_, _) => 8e-3, 9),
            new ChangeSettings { Years = 4 }
        );
        Assert.InRange(none.SignificantCells, 0, 3);
        Assert.Equal(0.5, none.GrowingFraction, 0.02);
    }

    [Fact]
    public void Compare_NoUncertaintyOrOtherShape_IsRefused()
    {
        MapAxes axes = MapAxes.Even(2, 2, 1e-3, 1e-3);
        var plain = new ThicknessMap(axes, [8, 8, 8, 8]);
        Assert.Throws<StatisticsException>(() =>
            ChangeAnalyser.Compare(plain, plain, new ChangeSettings { Years = 1 })
        );
        var other = new ThicknessMap(MapAxes.Even(1, 2, 1e-3, 1e-3), [8, 8]);
        Assert.Throws<StatisticsException>(() =>
            ChangeAnalyser.Compare(plain, other, new ChangeSettings { Years = 1 })
        );
        ThicknessChange change = ChangeAnalyser.Compare(
            plain,
            new ThicknessMap(axes, [7, 8, double.NaN, 8]),
            new ChangeSettings { Years = 2, RegistrationUncertaintyMetres = 0.1 }
        );
        Assert.Equal(0.5, change.RateMetresPerYear[0]);
        Assert.True(double.IsNaN(change.RateMetresPerYear[2]));
        Assert.Equal(3, change.Cells);
        Assert.Equal([true, false, false, false], change.IsSignificant);
    }
}
