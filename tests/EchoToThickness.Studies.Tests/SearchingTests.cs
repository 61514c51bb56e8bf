using EchoToThickness.Studies.Searching;
using Xunit;

namespace EchoToThickness.Studies.Tests;

/// <summary>The search on functions whose minimum, and the sensitivity on a function whose shares, are known.</summary>
public sealed class SearchingTests
{
    private static readonly SearchAxis[] Two = [new("x"), new("y")];

    [Fact]
    public void Propose_Branin_FindsTheKnownMinimum()
    {
        // Dixon and Szego 1978: minimum 0.397887 at (-pi, 12.275), (pi, 2.275), (9.42478, 2.475).
        double best = Minimise(Two, p => Branin(15 * p[0] - 5, 15 * p[1]), 12, 48);
        Assert.InRange(best, 0.397887 - 1e-6, 0.41);
    }

    [Fact]
    public void Propose_BraninBesideAWordThatCosts_FindsMinimumAndWord()
    {
        SearchAxis[] axes = [.. Two, new("word", Words: 3)];
        double best = Minimise(axes, p => Branin(15 * p[0] - 5, 15 * p[1]) + (p[2] == 1 ? 0 : 20), 16, 64);
        Assert.InRange(best, 0.397887 - 1e-6, 0.45);
    }

    [Fact]
    public void Propose_SameSeed_SameProposals()
    {
        double[][] points = SearchDesign.LatinHypercube(Two, 10, new RandomStream(4));
        double[] values = [.. points.Select(p => Branin(15 * p[0] - 5, 15 * p[1]))];
        IReadOnlyList<double[]> one = ExpectedImprovement.Propose(Two, points, values, 3, new RandomStream(9));
        IReadOnlyList<double[]> two = ExpectedImprovement.Propose(Two, points, values, 3, new RandomStream(9));
        Assert.Equal(one.SelectMany(p => p), two.SelectMany(p => p));
        Assert.Equal(3, one.Select(p => (p[0], p[1])).Distinct().Count());
    }

    [Fact]
    public void Propose_SpaceUsedUp_ProposesNothing()
    {
        SearchAxis[] axes = [new("x", Levels: 2), new("word", Words: 2)];
        double[][] all = [.. SearchDesign.Grid(axes)];
        Assert.Equal(4, all.Length);
        Assert.Empty(ExpectedImprovement.Propose(axes, all, [1, 2, 3, 4], 3, new RandomStream(1)));
    }

    [Fact]
    public void ExpectedImprovement_KnownValues()
    {
        // u = 0: sd phi(0) = 0.3989; certain: the difference itself; u = 1: (Phi(1) + phi(1)) sd = 0.841345 + 0.241971.
        Assert.Equal(0.398942, ExpectedImprovement.Of(1, 1, 1), 1e-6);
        Assert.Equal(2, ExpectedImprovement.Of(1, 0, 3));
        Assert.Equal(0, ExpectedImprovement.Of(3, 0, 1));
        Assert.Equal(1.083316, ExpectedImprovement.Of(0, 1, 1), 1e-6);
    }

    [Fact]
    public void GaussianProcess_SmoothFunction_PredictsIt()
    {
        double[][] points = SearchDesign.LatinHypercube(Two, 40, new RandomStream(2));
        double F(double[] p) => Math.Sin(4 * p[0]) + p[1] * p[1];
        GaussianProcess surrogate = GaussianProcess.Fit(Two, points, [.. points.Select(F)]);
        Assert.True(surrogate.LeaveOneOut > 0.99);
        double[][] fresh = SearchDesign.LatinHypercube(Two, 50, new RandomStream(3));
        Assert.All(fresh, p => Assert.Equal(F(p), surrogate.Mean(p), 0.05));
        // At a known point the process is sure and right; noise is at most 1e-3 of the variance.
        (double mean, double deviation) = surrogate.Predict(points[7]);
        Assert.Equal(F(points[7]), mean, 5e-3);
        Assert.True(deviation < surrogate.Predict([0.0, 1.0]).Deviation);
    }

    [Fact]
    public void GaussianProcess_LeaveOneOut_IsThatOfProcessesWithoutThePoint()
    {
        double[][] points = SearchDesign.LatinHypercube(Two, 12, new RandomStream(8));
        double[] values = [.. points.Select(p => Math.Sin(5 * p[0]) + p[1])];
        GaussianProcess all = GaussianProcess.Fit(Two, points, values);
        double left = 0;
        for (int i = 0; i < points.Length; i++)
        {
            GaussianProcess without = all.With(
                [.. points.Where((_, k) => k != i)],
                [.. values.Where((_, k) => k != i)]
            );
            left += Math.Pow(values[i] - without.Mean(points[i]), 2);
        }
        double spread = values.Sum(v => Math.Pow(v - values.Average(), 2));
        // The same formula by the long way round; what differs is rounding in the solution of a 12 x 12 system.
        Assert.Equal(1 - left / spread, all.LeaveOneOut, 1e-6);
    }

    [Fact]
    public void VarianceShares_Ishigami_AreTheKnownOnes()
    {
        // Ishigami and Homma 1990, a = 7, b = 0.1: V = a²/8 + b pi⁴/5 + b² pi⁸/18 + 1/2 = 13.8446;
        // first order 0.3139, 0.4424, 0; total 0.5576, 0.4424, 0.2437; interaction of 1 and 3 0.2437.
        SearchAxis[] axes = [new("x1"), new("x2"), new("x3")];
        VarianceShares shares = VarianceShares.Of(axes, Ishigami, 20_000, new RandomStream(1));
        // Monte Carlo with 20,000 points knows a share to about 0.01.
        Assert.Equal(13.8446, shares.Variance, 0.3);
        Compare([0.3139, 0.4424, 0], shares.First, 0.02);
        Compare([0.5576, 0.4424, 0.2437], shares.Total, 0.02);
        Assert.Equal(0.2437, shares.Pairs[0, 2], 0.03);
        Assert.Equal(0, shares.Pairs[0, 1], 0.03);
        Assert.Equal(0, shares.Pairs[1, 2], 0.03);
    }

    [Fact]
    public void VarianceShares_OfASurrogateOfIshigami_AreNearTheKnownOnes()
    {
        SearchAxis[] axes = [new("x1"), new("x2"), new("x3"), new("without effect")];
        double[][] points = SearchDesign.LatinHypercube(axes, 220, new RandomStream(5));
        GaussianProcess surrogate = GaussianProcess.Fit(axes, points, [.. points.Select(Ishigami)]);
        Assert.True(surrogate.LeaveOneOut > 0.9, $"{surrogate.LeaveOneOut}");
        VarianceShares shares = VarianceShares.Of(axes, surrogate.Mean, 3000, new RandomStream(6));
        // The surrogate explains over nine tenths; shares may be off by what it does not.
        Compare([0.3139, 0.4424, 0, 0], shares.First, 0.08);
        Compare([0.5576, 0.4424, 0.2437, 0], shares.Total, 0.08);
    }

    [Fact]
    public void Ranks_SmallSet_ByHand()
    {
        double[][] points =
        [
            [1, 5],
            [2, 2],
            [5, 1],
            [2, 3],
            [6, 6],
            [1, 5],
            [double.NaN, 0],
        ];
        // (1,5) twice, (2,2), (5,1) and (worst, 0) are beaten by nobody; (2,3) by (2,2); (6,6) by both fronts.
        Assert.Equal([0, 0, 0, 1, 2, 0, 0], ParetoFront.Ranks(points));
    }

    [Fact]
    public void Ranks_RandomPoints_AgreeWithTheDefinition()
    {
        var random = new RandomStream(11);
        double[][] points =
        [
            .. Enumerable
                .Range(0, 200)
                .Select(_ => new[] { random.Next(12) / 3.0, random.Next(12), random.NextDouble() }),
        ];
        int[] ranks = ParetoFront.Ranks(points);
        for (int i = 0; i < points.Length; i++)
        {
            // Rank r: beaten by one of every earlier front, by none of its own.
            Assert.DoesNotContain(
                Enumerable.Range(0, points.Length),
                j => ranks[j] == ranks[i] && ParetoFront.Beats(points[j], points[i])
            );
            if (ranks[i] > 0)
                Assert.Contains(
                    Enumerable.Range(0, points.Length),
                    j => ranks[j] == ranks[i] - 1 && ParetoFront.Beats(points[j], points[i])
                );
        }
    }

    [Fact]
    public void LatinHypercube_EveryStratumHoldsOne()
    {
        SearchAxis[] axes = [new("x"), new("level", Levels: 5), new("word", Words: 3)];
        double[][] points = SearchDesign.LatinHypercube(axes, 30, new RandomStream(7));
        Assert.Equal(Enumerable.Range(0, 30), points.Select(p => (int)(p[0] * 30)).Order());
        Assert.All(points.GroupBy(p => p[1]), g => Assert.Equal(6, g.Count()));
        Assert.All(points.GroupBy(p => p[2]), g => Assert.Equal(10, g.Count()));
    }

    [Fact]
    public void Halving_GoodPointsThatLookGoodEarly_ReachTheLastRung()
    {
        int[] points = [.. Enumerable.Range(0, 27)];
        var seen = new List<(int, double)>();
        IReadOnlyList<(int Point, double Loss)> ranked = SuccessiveHalving.Run(
            points,
            3,
            3,
            (left, part) =>
            {
                seen.Add((left.Count, Math.Round(part, 6)));
                return [.. left.Select(p => Math.Abs(p - 20) + (part < 0.2 ? 2.0 * (p % 2) : 0))];
            }
        );
        Assert.Equal([(27, 0.111111), (9, 0.333333), (3, 1.0)], seen);
        Assert.Equal(20, ranked[0].Point);
        Assert.Equal(0, ranked[0].Loss);
    }

    private static double Minimise(SearchAxis[] axes, Func<double[], double> function, int initial, int most)
    {
        var random = new RandomStream(3);
        List<double[]> points = [.. SearchDesign.LatinHypercube(axes, initial, random)];
        List<double> values = [.. points.Select(function)];
        while (points.Count < most)
        {
            foreach (double[] next in ExpectedImprovement.Propose(axes, points, values, 4, random))
            {
                points.Add(next);
                values.Add(function(next));
            }
        }
        return values.Min();
    }

    private static double Branin(double x, double y) =>
        Math.Pow(y - 5.1 / (4 * Math.PI * Math.PI) * x * x + 5 / Math.PI * x - 6, 2)
        + 10 * (1 - 1 / (8 * Math.PI)) * Math.Cos(x)
        + 10;

    private static double Ishigami(double[] p)
    {
        double X(int i) => Math.PI * (2 * p[i] - 1);
        return Math.Sin(X(0)) + 7 * Math.Pow(Math.Sin(X(1)), 2) + 0.1 * Math.Pow(X(2), 4) * Math.Sin(X(0));
    }

    private static void Compare(double[] expected, double[] found, double tolerance)
    {
        Assert.Equal(expected.Length, found.Length);
        for (int i = 0; i < expected.Length; i++)
            Assert.Equal(expected[i], found[i], tolerance);
    }
}
