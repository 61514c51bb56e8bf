using EchoToThickness.Statistics;
using EchoToThickness.Statistics.Extremes;
using EchoToThickness.Statistics.Spatial;
using Xunit;

namespace EchoToThickness.Tests.Statistics.Extremes;

public sealed class ExtremeAnalyserTests
{
    private const int Side = 112;

    private static readonly VariogramModel Model = new(VariogramShape.Exponential, 0.1, 0.9, 0.9e-3, 0);

    private static readonly ExtremeSettings Settings = new()
    {
        ReferenceWallMetres = 10e-3,
        TargetAreaSquareMetres = 0.25,
        BootstrapSamples = 50,
        FitTrials = 49,
        Permutations = 99,
        SelfTestTrials = 10,
        LeastBlocksForShape = 1000,
    };

    /// <summary>A correlated field of losses with an exponential tail, 1 mm cells.</summary>
    private static double[] Walls(int seed)
    {
        var simulator = new FieldSimulator(Side, Side, 1e-3, 1e-3, Model, Model);
        return simulator.Draw((ulong)seed, 0).First.Select(z => 10e-3 - 1e-3 + 0.15e-3 * Math.Log(Below(-z))).ToArray();
    }

    private static double Below(double z) => EchoToThickness.Statistics.Describe.MapDescriber.ProbabilityBelow(0, 1, z);

    private static ThicknessMap Map(double[] walls, double noise = 0, double[]? wrong = null) =>
        new(
            MapAxes.Even(Side, Side, 1e-3, 1e-3),
            walls,
            default,
            Enumerable.Repeat(noise, walls.Length).ToArray(),
            default,
            default,
            wrong
        );

    [Fact]
    public void FieldSimulator_Fields_HaveTheVariogram()
    {
        var model = new VariogramModel(VariogramShape.Exponential, 0.2, 0.8, 3e-3, 0);
        var simulator = new FieldSimulator(200, 200, 1e-3, 1e-3, model, model with { RangeMetres = 6e-3 });
        Assert.True(simulator.ClippedShare < 1e-3);
        double variance = 0;
        double along = 0;
        double around = 0;
        double cross = 0;
        const int draws = 10;
        for (int draw = 0; draw < draws; draw++)
        {
            (double[] first, double[] second) = simulator.Draw(9, draw);
            variance += first.Sum(v => v * v) / first.Length / draws;
            cross += first.Zip(second, (a, b) => a * b).Sum() / first.Length / draws;
            var map = new ThicknessMap(MapAxes.Even(200, 200, 1e-3, 1e-3), first.Select(v => 100 + v).ToArray());
            along += EmpiricalVariogram.OfMap(map, VariogramDirection.Along, 3)[2].Semivariance / draws;
            around += EmpiricalVariogram.OfMap(map, VariogramDirection.Around, 3)[2].Semivariance / draws;
        }
        // About 4e5 cells, of which some 2,000 a field are independent: 1 % for a mean square, three of them.
        Assert.Equal(1, variance, 0.03);
        Assert.Equal(0, cross, 0.03);
        Assert.Equal(model.At(3e-3), along, 0.02);
        Assert.Equal((model with { RangeMetres = 6e-3 }).At(3e-3), around, 0.02);
    }

    [Fact]
    public void Analyse_OnePopulation_IsSupportedWithThinnestHeadline()
    {
        ExtremeAnalysis analysis = ExtremeAnalyser.Analyse(Map(Walls(1), 20e-6), Settings);
        Assert.NotEqual(ExtremeVerdict.NotSupported, analysis.Verdict);
        ExtremeStatement headline = analysis.Headline!;
        Assert.Equal(analysis.Statements.Min(s => s.LowerBoundMetres), headline.LowerBoundMetres);
        Assert.True(headline.LowerBoundMetres < headline.MedianSmallestMetres);
        Assert.True(headline.MedianSmallestMetres < Walls(1).Min() + 0.3e-3);
        // Truth: losses are exponential of 0.15 mm above 1 mm; 250,000 further cells, correlated over about two. The median of their
        // largest lies between that of 250,000 and of 10,000 independent cells: 2.92 and 2.44 mm of loss.
        ExtremeStatement blocks = analysis.Statements.First(s => s.Label.Contains("Gumbel", StringComparison.Ordinal));
        Assert.InRange(10e-3 - blocks.MedianSmallestMetres, 2.3e-3, 3.2e-3);
        Assert.InRange(analysis.SelfTest!.Coverage, 0.8, 1);
        Assert.Single(analysis.BlockSizes, s => s.IsChosen);
        Assert.True(blocks.NoiseShiftMetres > 0);
        Assert.Equal(3, blocks.Intervals.Count);
        Assert.All(blocks.Intervals, i => Assert.True(i.Lower < i.Level && i.Level < i.Upper));
    }

    [Fact]
    public void Analyse_SameSeed_GivesTheSameBits()
    {
        ThicknessMap map = Map(Walls(2));
        ExtremeAnalysis a = ExtremeAnalyser.Analyse(map, Settings);
        ExtremeAnalysis b = ExtremeAnalyser.Analyse(map, Settings);
        Assert.Equal(a.Statements[0].LowerBoundMetres, b.Statements[0].LowerBoundMetres);
        Assert.Equal(a.SelfTest!.Coverage, b.SelfTest!.Coverage);
    }

    // Half of the map is 1 mm thinner: two populations.
    [Fact]
    public void Analyse_TwoPopulations_IsNotSupported()
    {
        double[] walls = Walls(3).Select((t, k) => k / Side < Side / 2 ? t - 1e-3 : t).ToArray();
        ExtremeAnalysis analysis = ExtremeAnalyser.Analyse(Map(walls), Settings);
        Assert.Equal(ExtremeVerdict.NotSupported, analysis.Verdict);
        Assert.Null(analysis.Headline);
        Assert.Contains(
            analysis.Reasons,
            r =>
                r.Contains("one population", StringComparison.Ordinal)
                || r.Contains("resemble each other", StringComparison.Ordinal)
                || r.Contains("a trend or a correlation length", StringComparison.Ordinal)
        );
    }

    [Fact]
    public void Analyse_TooSmallMap_SaysSo()
    {
        double[] walls = Walls(4);
        var map = new ThicknessMap(MapAxes.Even(12, 12, 1e-3, 1e-3), walls.Take(144).ToArray());
        ExtremeAnalysis analysis = ExtremeAnalyser.Analyse(map, Settings);
        Assert.Equal(ExtremeVerdict.NotSupported, analysis.Verdict);
        Assert.Contains(analysis.Reasons, r => r.Contains("Scan more", StringComparison.Ordinal));
    }

    [Fact]
    public void Analyse_EqualWalls_SaysThatThereIsNoTail()
    {
        ExtremeAnalysis analysis = ExtremeAnalyser.Analyse(
            Map(Enumerable.Repeat(8e-3, Side * Side).ToArray(), 1e-5),
            Settings
        );
        Assert.Equal(ExtremeVerdict.NotSupported, analysis.Verdict);
        Assert.Contains(analysis.Reasons, r => r.Contains("no tail", StringComparison.Ordinal));
    }

    // A hundredth of the cells reads half the wall and is known to be doubtful: weighed, the bound is the clean one within the noise of a
    // fit; unweighed it is far thinner, stays the headline, and can be overruled with a reason only.
    [Fact]
    public void Analyse_FalseThinCells_AreWeighedAndTheThinnerStaysHeadline()
    {
        double[] clean = Walls(5);
        double[] walls = (double[])clean.Clone();
        var wrong = new double[walls.Length];
        for (int k = 0; k < walls.Length; k++)
        {
            wrong[k] = 0.001;
            if (k % 97 == 13)
            {
                walls[k] *= 0.5;
                wrong[k] = 0.98;
            }
        }
        ExtremeSettings quick = Settings with { SelfTestTrials = 0 };
        ThicknessMap map = Map(walls, 0, wrong);
        BlockPartition partition = BlockPartition.Of(map, 11.2e-3, 11.2e-3, 0.5);
        ExtremeStatement Bound(ThicknessMap m, bool weighed) => StatementOf(ExtremeAnalyser.Analyse(m, quick), weighed);
        ExtremeStatement all = Bound(map, false);
        ExtremeStatement weighed = Bound(map, true);
        ExtremeStatement reference = Bound(Map(clean, 0, new double[walls.Length]), false);
        Assert.True(all.LowerBoundMetres < reference.LowerBoundMetres - 1e-3);
        Assert.Equal(reference.LowerBoundMetres, weighed.LowerBoundMetres, 0.5e-3);
        Assert.Equal(100, partition.Blocks.Count);
    }

    [Fact]
    public void Analyse_Overrule_NeedsReasonAndAnExistingLabel()
    {
        ThicknessMap map = Map(Walls(1));
        ExtremeSettings quick = Settings with { SelfTestTrials = 0 };
        ExtremeAnalysis plain = ExtremeAnalyser.Analyse(map, quick);
        string other = plain.Statements[^1].Label;
        ExtremeAnalysis overruled = ExtremeAnalyser.Analyse(
            map,
            quick with
            {
                Overrule = new HeadlineOverrule(other, "tail verified by a second technique", "reviewer 1"),
            }
        );
        Assert.Equal(other, overruled.Headline!.Label);
        Assert.Contains(overruled.Reasons, r => r.Contains("reviewer 1", StringComparison.Ordinal));
        Assert.Throws<StatisticsException>(() =>
            ExtremeAnalyser.Analyse(map, quick with { Overrule = new HeadlineOverrule(other, "", "x") })
        );
        Assert.Throws<StatisticsException>(() =>
            ExtremeAnalyser.Analyse(map, quick with { Overrule = new HeadlineOverrule("none", "why", "x") })
        );
    }

    [Fact]
    public void Clusters_CloseCells_AreOne()
    {
        double[] walls = Enumerable.Repeat(8e-3, 400).ToArray();
        walls[20 * 5 + 5] = 5e-3;
        walls[20 * 5 + 8] = 4e-3;
        walls[20 * 15 + 19] = 4.5e-3;
        walls[20 * 15] = 4.4e-3;
        var open = new ThicknessMap(MapAxes.Even(20, 20, 1e-3, 1e-3), walls);
        var closed = new ThicknessMap(MapAxes.Even(20, 20, 1e-3, 1e-3, true), walls);
        Assert.Equal([105, 108, 300, 319], LossClusters.Deepest(open, 6e-3, 0, 0));
        Assert.Equal([108, 300, 319], LossClusters.Deepest(open, 6e-3, 2e-3, 2e-3));
        Assert.Equal([108, 300], LossClusters.Deepest(closed, 6e-3, 2e-3, 2e-3));
    }

    // Algebra: exponential tail of scale s with normal noise of deviation u moves by u^2 / (2 s).
    [Fact]
    public void NoiseShift_ExponentialTailWithNoise_IsTheShift()
    {
        const double s = 0.15;
        const double u = 0.06;
        var random = new Random(12);
        const int n = 400000;
        double[] noise = StatisticsData.Normals(n, 3);
        int plain = 0;
        int noisy = 0;
        double level = 5 * s;
        for (int k = 0; k < n; k++)
        {
            double x = -s * Math.Log(1 - random.NextDouble());
            plain += x > level ? 1 : 0;
            noisy += x + u * noise[k] > level + u * u / (2 * s) ? 1 : 0;
        }
        // About 2,700 exceedances each, mostly the same cells: three standard errors of the difference are below 8 %.
        Assert.Equal(1.0, (double)noisy / plain, 0.08);
    }

    private static ExtremeStatement StatementOf(ExtremeAnalysis analysis, bool weighed) =>
        analysis.Statements.First(s => s.IsWeighed == weighed && s.Label.Contains("Gumbel", StringComparison.Ordinal));
}
