using EchoToThickness.Evidence;
using Xunit;

namespace EchoToThickness.Tests.Map;

// Common practice, no source: a sorted list of fixed size.
public sealed class HypothesisSetTests
{
    private static WallHypothesis At(float spacing, float likelihood) =>
        new(0.03f * spacing, likelihood, spacing, 0, 1, 1, 1);

    [Fact]
    public void Add_InAnyOrder_IsSortedByLikelihood()
    {
        var set = new HypothesisSet();
        set.Clear();
        foreach (float likelihood in new[] { 3f, 9f, 1f, 7f })
            set.Add(At(100 * likelihood, likelihood), 5, false);
        Assert.Equal(4, set.Count);
        Assert.Equal(HypothesisSet.NoWall, set.Own);
        for (int k = 1; k < set.Count; k++)
            Assert.True(set[k - 1].LogLikelihood > set[k].LogLikelihood);
    }

    [Fact]
    public void Add_SameWallTwice_KeepsLikelier()
    {
        var set = new HypothesisSet();
        set.Clear();
        set.Add(At(200, 5), 8, false);
        set.Add(At(204, 6), 8, false);
        set.Add(At(197, 2), 8, false);
        Assert.Equal(1, set.Count);
        Assert.Equal(204, set[0].SpacingSamples);
    }

    [Fact]
    public void Add_OwnWall_StaysThoughUnlikelyAndFull()
    {
        var set = new HypothesisSet();
        set.Clear();
        set.Add(At(50, -20), 8, true);
        for (int k = 0; k < 12; k++)
            set.Add(At(100 + 50 * k, k), 8, false);
        Assert.Equal(HypothesisSet.Most, set.Count);
        Assert.Equal(50, set[set.Own].SpacingSamples);
        Assert.Equal(HypothesisSet.Most - 1, set.Own);
        // The eight places hold the own wall and the seven likeliest others: 11 down to 5.
        Assert.Equal(5, set[HypothesisSet.Most - 2].LogLikelihood);
    }

    [Fact]
    public void Add_OwnNearAnother_TakesItsPlace()
    {
        var set = new HypothesisSet();
        set.Clear();
        set.Add(At(200, 5), 8, false);
        set.Add(At(100, 3), 8, false);
        set.Add(At(202, 1), 8, true);
        Assert.Equal(2, set.Count);
        Assert.Equal(1, set.Own);
        Assert.Equal(202, set[1].SpacingSamples);
    }

    [Fact]
    public void Raise_LastOfThree_BecomesFirstAndOwnFollows()
    {
        var set = new HypothesisSet();
        set.Clear();
        set.Add(At(100, 3), 8, false);
        set.Add(At(200, 2), 8, true);
        set.Add(At(300, 1), 8, false);
        set.Raise(set.IndexOf(At(300, 1)), 10);
        Assert.Equal(300, set[0].SpacingSamples);
        Assert.Equal(10, set[0].LogLikelihood);
        Assert.Equal(2, set.Own);
        Assert.Equal(200, set[set.Own].SpacingSamples);
    }
}
