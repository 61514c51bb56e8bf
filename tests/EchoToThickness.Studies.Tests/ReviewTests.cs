using EchoToThickness.Pairing;
using EchoToThickness.Stacks;
using EchoToThickness.Studies.Review;
using Xunit;

namespace EchoToThickness.Studies.Tests;

/// <summary>Expected values by hand on maps of a few cells.</summary>
public sealed class ReviewTests
{
    private const int Side = 7;

    private static float[] Flat(float wall)
    {
        var map = new float[Side * Side];
        Array.Fill(map, wall);
        return map;
    }

    private static IReadOnlyList<DoubtfulCell> Find(
        float[] walls,
        byte[]? status = null,
        float[]? margin = null,
        float[]? wrong = null,
        NeighbourAxes axes = NeighbourAxes.Both
    ) =>
        DoubtfulCells.Find(
            Side,
            Side,
            walls,
            status ?? new byte[walls.Length],
            margin ?? [],
            wrong ?? [],
            axes,
            new DoubtRules()
        );

    [Fact]
    public void Find_FlatMap_IsEmpty() => Assert.Empty(Find(Flat(8e-3f)));

    [Fact]
    public void Find_DoubledHalvedAndStepped_AreNamedThinFirst()
    {
        float[] walls = Flat(8e-3f);
        walls[1 * Side + 1] = 16e-3f;
        walls[3 * Side + 4] = 4e-3f;
        walls[5 * Side + 2] = 8.6e-3f;
        IReadOnlyList<DoubtfulCell> found = Find(walls);
        Assert.Equal([(3, 4), (1, 1), (5, 2)], found.Select(c => (c.Scan, c.Beam)));
        Assert.Equal(DoubtReason.Halved | DoubtReason.Jump, found[0].Reasons);
        Assert.Equal(DoubtReason.Doubled | DoubtReason.Jump, found[1].Reasons);
        Assert.Equal(DoubtReason.Jump, found[2].Reasons);
        // The larger of 0.95 and 1 - exp(-4), half of the wall missing; 1 - exp(-8); 1 - exp(-0.6).
        Assert.Equal((1 - Math.Exp(-4)) * 1.5, found[0].Rank, 1e-6);
        Assert.Equal(1 - Math.Exp(-8), found[1].Rank, 1e-6);
        Assert.Equal(1 - Math.Exp(-0.6), found[2].Rank, 1e-5);
        Assert.Equal(8e-3, found[0].AroundMetres, 1e-9);
    }

    [Fact]
    public void Find_CellsThatAreNoNeighbours_AreNotCompared()
    {
        float[] walls = Flat(8e-3f);
        walls[24] = 4e-3f;
        Assert.Empty(Find(walls, axes: NeighbourAxes.None));
        Assert.Single(Find(walls, axes: NeighbourAxes.Scan));
    }

    [Fact]
    public void Find_AmbiguousAndLikelyWrongAndCloseRival_AreListed()
    {
        float[] walls = Flat(8e-3f);
        walls[10] = float.NaN;
        var status = new byte[walls.Length];
        status[10] = (byte)CellStatus.AmbiguousPairing;
        float[] margin = Flat(0.9f);
        margin[20] = 0.1f;
        var wrong = new float[walls.Length];
        wrong[30] = 0.5f;
        IReadOnlyList<DoubtfulCell> found = Find(walls, status, margin, wrong);
        Assert.Equal([20, 10, 30], found.Select(c => c.Scan * Side + c.Beam));
        Assert.Equal(
            [DoubtReason.LowMargin, DoubtReason.Ambiguous, DoubtReason.WrongEcho],
            found.Select(c => c.Reasons)
        );
    }

    [Fact]
    public void Find_MarginsThatAreLowEverywhere_NameOnlyTheLowest()
    {
        float[] margin = Flat(0.08f);
        margin[5] = 0.01f;
        Assert.Equal([5], Find(Flat(8e-3f), margin: margin).Select(c => c.Scan * Side + c.Beam));
    }

    [Fact]
    public void Between_EveryKindOfChange_IsCountedOnce()
    {
        float[] before = [8e-3f, 8e-3f, 8e-3f, 4e-3f, float.NaN, 8e-3f, float.NaN, 5e-3f];
        float[] after = [8.01e-3f, 7e-3f, 4e-3f, 8e-3f, 6e-3f, float.NaN, float.NaN, 6e-3f];
        byte[] statusBefore = [0, 0, 0, 0, 2, 0, 7, 0];
        byte[] statusAfter = [0, 0, 0, 0, 0, 3, 7, 0];
        MapChange change = MapChange.Between(before, statusBefore, after, statusAfter, 0.02e-3, 3);
        Assert.Equal((1, 2, 2, 1, 1), (change.Same, change.Thinner, change.Thicker, change.Gained, change.Lost));
        Assert.Equal((1, 1, 1), (change.Neither, change.Halved, change.Doubled));
        Assert.Equal((0.01 - 1 - 4 + 4 + 1) / 5 * 1e-3, change.MeanMetres, 1e-8);
        Assert.Equal(
            (4e-3, 4e-3),
            (Math.Round(change.EarlierMinimumMetres, 6), Math.Round(change.LaterMinimumMetres, 6))
        );
        Assert.Equal(1, change.Statuses[2, 0]);
        Assert.Equal(1, change.Statuses[0, 3]);
        Assert.Equal(5, change.Statuses[0, 0]);
        // Lost and gained count with their whole wall.
        Assert.Equal([5, 4, 2], change.Largest);
    }

    [Fact]
    public void Between_MapsOfDifferentSize_IsRefused() =>
        Assert.Throws<ArgumentException>(() => MapChange.Between([1], [0], [1, 2], [0, 0], 0, 1));
}
