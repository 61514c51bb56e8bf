using EchoToThickness.Statistics;
using EchoToThickness.Statistics.Spatial;
using Xunit;

namespace EchoToThickness.Tests.Statistics.Spatial;

public sealed class SpatialTests
{
    private static IReadOnlyList<VariogramBin> Meuse(out double width)
    {
        double[] x = StatisticsData.Column("meuse_zinc");
        double[] y = StatisticsData.Column("meuse_zinc", 1);
        double[] z = StatisticsData.Column("meuse_zinc", 2).Select(v => Math.Log(v)).ToArray();
        double cutoff = Math.Sqrt(Math.Pow(x.Max() - x.Min(), 2) + Math.Pow(y.Max() - y.Min(), 2)) / 3;
        width = cutoff / 15;
        return EmpiricalVariogram.OfPoints(x, y, z, cutoff, width);
    }

    // R gstat 2.1.0 on the meuse data: 15 bins to a third of the diagonal.
    [Fact]
    public void OfPoints_Meuse_EqualsGstat()
    {
        IReadOnlyList<VariogramBin> bins = Meuse(out _);
        Assert.Equal(15, bins.Count);
        for (int k = 0; k < 15; k++)
        {
            Assert.Equal(CheckRows.Expected($"VAR-meuse-n{k + 1}"), bins[k].Pairs);
            double lag = CheckRows.Expected($"VAR-meuse-h{k + 1}");
            double gamma = CheckRows.Expected($"VAR-meuse-g{k + 1}");
            Assert.Equal(lag, bins[k].LagMetres, lag * 1e-8);
            Assert.Equal(gamma, bins[k].Semivariance, gamma * 1e-8);
        }
    }

    [Fact]
    public void Fit_MeuseSpherical_EqualsGstat()
    {
        VariogramModel model = VariogramFit.Fit(Meuse(out _), VariogramShape.Spherical);
        Assert.Equal(CheckRows.Expected("VAR-meuse-nug"), model.Nugget, CheckRows.Tolerance("VAR-meuse-nug"));
        Assert.Equal(CheckRows.Expected("VAR-meuse-sill"), model.PartialSill, CheckRows.Tolerance("VAR-meuse-sill"));
        Assert.Equal(CheckRows.Expected("VAR-meuse-range"), model.RangeMetres, CheckRows.Tolerance("VAR-meuse-range"));
    }

    [Fact]
    public void OfMap_SmallGrid_EqualsTheSums()
    {
        double[] wall = [10, 9.8, 9.5, 9.9, 9.7, 9.1, 10.2, 9.6, 9.0];
        var map = new ThicknessMap(MapAxes.Even(3, 3, 1, 1), wall);
        Assert.Equal(
            CheckRows.Expected("VAR-grid-hx"),
            EmpiricalVariogram.OfMap(map, VariogramDirection.Around, 1)[0].Semivariance,
            1e-12
        );
        Assert.Equal(
            CheckRows.Expected("VAR-grid-hy"),
            EmpiricalVariogram.OfMap(map, VariogramDirection.Along, 1)[0].Semivariance,
            1e-12
        );
    }

    // For normal differences both estimators agree; a hundredth of wild cells moves the classical one by far more.
    [Fact]
    public void OfMap_Robust_AgreesOnNormalAndResistsWildCells()
    {
        double[] wall = StatisticsData.Normals(40000, 5).Select(z => 8 + 0.1 * z).ToArray();
        var clean = new ThicknessMap(MapAxes.Even(200, 200, 1e-3, 1e-3), wall);
        double robust = EmpiricalVariogram
            .OfMap(clean, VariogramDirection.Along, 1, VariogramEstimator.Robust)[0]
            .Semivariance;
        double classical = EmpiricalVariogram.OfMap(clean, VariogramDirection.Along, 1)[0].Semivariance;
        // Variance of a variance of 40,000 values: 2/n, so 0.7 %; three of them, and the two share the data.
        Assert.Equal(0.01, classical, 0.01 * 0.025);
        Assert.Equal(0.01, robust, 0.01 * 0.03);
        for (int k = 0; k < wall.Length; k += 100)
            wall[k] = 4;
        var wild = new ThicknessMap(MapAxes.Even(200, 200, 1e-3, 1e-3), wall);
        double wildRobust = EmpiricalVariogram
            .OfMap(wild, VariogramDirection.Around, 1, VariogramEstimator.Robust)[0]
            .Semivariance;
        double wildClassical = EmpiricalVariogram.OfMap(wild, VariogramDirection.Around, 1)[0].Semivariance;
        Assert.True(wildClassical > 10 * classical);
        Assert.InRange(wildRobust, robust, 1.6 * robust);
    }

    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    [InlineData(4)]
    [InlineData(5)]
    public void Autocorrelation_Lh_EqualsR(int lag)
    {
        Assert.Equal(CheckRows.Expected($"ACF-lh-{lag}"), Autocorrelation.At(StatisticsData.Column("lh"), lag), 1e-9);
    }

    // NIST certified lag-1 autocorrelations.
    [Theory]
    [InlineData("Michelso")]
    [InlineData("Mavro")]
    [InlineData("Lew")]
    [InlineData("Lottery")]
    [InlineData("NumAcc1")]
    public void Autocorrelation_Nist_MeetsCertifiedValues(string name)
    {
        double expected = CheckRows.Expected($"NIST-{name}-r1");
        Assert.Equal(expected, Autocorrelation.At(StatisticsData.Nist(name), 1), Math.Abs(expected) * 1e-10);
    }

    // White noise: every cell counts. A moving mean of 5 by 5 cells has correlation triangles of 5 cells: the sum of correlations is 25.
    [Fact]
    public void Analyse_MovingMean_HasItsCorrelationLengthAndEffectiveSize()
    {
        const int n = 160;
        double[] white = StatisticsData.Normals((n + 4) * (n + 4), 11);
        var wall = new double[n * n];
        for (int i = 0; i < n; i++)
        for (int j = 0; j < n; j++)
        {
            double sum = 0;
            for (int a = 0; a < 5; a++)
            for (int b = 0; b < 5; b++)
                sum += white[(i + a) * (n + 4) + j + b];
            wall[i * n + j] = 8 + 0.1 * sum / 5;
        }
        SpatialStructure smooth = SpatialAnalyser.Analyse(
            new ThicknessMap(MapAxes.Even(n, n, 1e-3, 1e-3), wall),
            new SpatialSettings { LargestLagMetres = 0.02, Estimator = VariogramEstimator.Classical }
        );
        // Triangle of 5 cells: a spherical model of least squares lies within a cell of it.
        Assert.InRange(smooth.AlongCorrelationMetres, 4e-3, 7e-3);
        Assert.InRange(smooth.AroundCorrelationMetres, 4e-3, 7e-3);
        // The model is isotropic, the triangle product is not: a quarter is allowed.
        Assert.Equal(n * n / 25.0, smooth.EffectiveSampleSize, n * n / 25.0 * 0.25);
        SpatialStructure rough = SpatialAnalyser.Analyse(
            new ThicknessMap(MapAxes.Even(n, n, 1e-3, 1e-3), white.Take(n * n).Select(z => 8 + 0.1 * z).ToArray())
        );
        Assert.InRange(rough.EffectiveSampleSize, 0.5 * n * n, n * n);
    }

    // A wave of 16 cells in noise of the same size: the periodogram of the mean profile finds it.
    [Fact]
    public void Periodogram_WaveInNoise_IsFound()
    {
        double[] z = StatisticsData.Normals(128 * 32, 2);
        double[] wall = z.Select((v, k) => 8 + 0.1 * v + 0.1 * Math.Sin(2 * Math.PI * (k / 32) / 16)).ToArray();
        var map = new ThicknessMap(MapAxes.Even(128, 32, 1e-3, 1e-3), wall);
        PatternLine along = Periodogram.Of(map, true);
        Assert.Equal(16e-3, along.PeakWavelengthMetres, 1e-9);
        Assert.True(along.PeakProbability < 1e-6);
        Assert.Equal(1, along.Power.Sum(), 1e-12);
        Assert.True(Periodogram.Of(map, false).PeakProbability > 1e-3);
    }

    // Fisher's test, m = 10: the 5 % point is g = 0.4450 (Fisher 1929, table, from memory). The series is checked against m = 2 in closed
    // form: P = 2 (1 - g) for g >= 1/2.
    [Fact]
    public void FisherProbability_EqualsClosedFormAndTable()
    {
        Assert.Equal(2 * (1 - 0.7), Periodogram.FisherProbability(0.7, 2), 1e-12);
        Assert.Equal(0.05, Periodogram.FisherProbability(0.4450, 10), 2e-4);
        Assert.Equal(1, Periodogram.FisherProbability(0.1, 10), 1e-9);
    }

    [Fact]
    public void HitProbability_EqualsGeometryAndRandomTrials()
    {
        Assert.Equal(Math.PI / 16, ScanDensity.HitProbability(1, 2), 1e-12);
        Assert.Equal(1, ScanDensity.HitProbability(1.4143, 1));
        var random = new Random(4);
        int hits = 0;
        for (int k = 0; k < 200000; k++)
        {
            double x = random.NextDouble() - 0.5;
            double y = random.NextDouble() - 0.5;
            if (x * x + y * y <= 0.36)
                hits++;
        }
        // Three standard errors of a share of 200,000 trials.
        Assert.Equal(hits / 200000.0, ScanDensity.HitProbability(1.2, 1), 3 * Math.Sqrt(0.04 / 200000));
        Assert.Equal(0.9, ScanDensity.HitProbability(1, ScanDensity.PitchToHit(1, 0.9)), 1e-8);
    }

    [Fact]
    public void PitchForMidpoint_GrowsWithTheRange()
    {
        var near = new VariogramModel(VariogramShape.Exponential, 0, 1, 0.01, 0);
        var far = near with { RangeMetres = 0.02 };
        double pitch = ScanDensity.PitchForMidpoint(near, 0.5);
        Assert.Equal(2 * pitch, ScanDensity.PitchForMidpoint(far, 0.5), pitch * 1e-6);
        // Far apart: the mean of four independent readings says nothing of the midpoint: variance 1 + 1/4.
        Assert.Equal(double.PositiveInfinity, ScanDensity.PitchForMidpoint(near, Math.Sqrt(1.26)));
        Assert.Equal(0, ScanDensity.PitchForMidpoint(near with { Nugget = 2 }, 0.5));
        Assert.Equal(16, ScanDensity.WindowsForMean(2, 1));
    }
}
