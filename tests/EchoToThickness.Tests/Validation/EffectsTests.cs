using EchoToThickness.Validation;
using EchoToThickness.Validation.Effects;
using Xunit;

namespace EchoToThickness.Tests.Validation;

public sealed class EffectsTests
{
    // Filtration rates of a 2^4 design in standard order (Montgomery, Design and Analysis of Experiments; data and effects from memory).
    private static readonly double[] Rates = [45, 71, 48, 65, 68, 60, 80, 65, 43, 100, 45, 104, 75, 86, 70, 96];

    private static Factor[] Four(IEnumerable<int> runs) =>
        Enumerable
            .Range(0, 4)
            .Select(k => new Factor(
                ((char)('A' + k)).ToString(),
                runs.Select(r => (r >> k & 1) == 0 ? "low" : "high").ToArray()
            ))
            .ToArray();

    [Fact]
    public void TwoLevels_FullFactorial_EqualsTheTextbook()
    {
        TwoLevelDesign found = TwoLevelDesign.Of(Rates, Four(Enumerable.Range(0, 16)), out _, 2)!;
        Dictionary<string, double> effect = found.Effects.ToDictionary(e => e.Name, e => e.Effect.Value);
        Assert.Equal(21.625, effect["A"], 1e-9);
        Assert.Equal(3.125, effect["B"], 1e-9);
        Assert.Equal(9.875, effect["C"], 1e-9);
        Assert.Equal(14.625, effect["D"], 1e-9);
        Assert.Equal(-18.125, effect["A × C"], 1e-9);
        Assert.Equal(16.625, effect["A × D"], 1e-9);
        Assert.Equal(10, found.Effects.Count);
        Assert.Equal(5, found.Model.ResidualDegreesOfFreedom);
        Assert.All(found.Effects, e => Assert.Empty(e.Aliases));
        // All fifteen effects: saturated; Lenth's pseudo standard error of this set is 2.625 (1.5 times the median 1.75 of the small ones).
        TwoLevelDesign saturated = TwoLevelDesign.Of(Rates, Four(Enumerable.Range(0, 16)), out _, 4)!;
        Assert.Equal(2.625, saturated.Effects[0].Effect.StandardError, 1e-9);
        Assert.Equal(5, saturated.Effects[0].Effect.DegreesOfFreedom, 1e-12);
        Assert.False(saturated.Effects.Single(e => e.Name == "A × C").Effect.Interval.Contains(0));
        Assert.True(saturated.Effects.Single(e => e.Name == "B").Effect.Interval.Contains(0));
    }

    [Fact]
    public void TwoLevels_HalfFraction_NamesAliases()
    {
        // Defining relation I = ABCD: every pair is aliased with the other pair.
        int[] runs = Enumerable
            .Range(0, 16)
            .Where(r => System.Numerics.BitOperations.PopCount((uint)r) % 2 == 0)
            .ToArray();
        TwoLevelDesign found = TwoLevelDesign.Of(runs.Select(r => Rates[r]).ToArray(), Four(runs), out _, 3)!;
        Assert.Equal(["C × D"], found.Effects.Single(e => e.Name == "A × B").Aliases);
        Assert.Contains("B × C × D", found.Effects.Single(e => e.Name == "A").Aliases);
        Assert.Equal(7, found.Effects.Count);
        // Effects of the half fraction with runs (1), ab, ac, bc, ad, bd, cd, abcd by signs: A + BCD = 19.0 (from memory of the same text).
        Assert.Equal(19.0, found.Effects.Single(e => e.Name == "A").Effect.Value, 1e-9);
        Assert.Null(TwoLevelDesign.Of([1, 2], [new Factor("gain", ["low", "low"])], out Refusal? refusal));
        Assert.Equal(RefusalReason.NotIdentified, refusal!.Reason);
    }

    [Fact]
    public void TwoLevels_Blocks_TakeWhatIsConfoundedWithThem()
    {
        // ABCD confounded with two blocks, and one block 20 units lower: main effects do not change.
        double[] shifted = Rates
            .Select((y, r) => System.Numerics.BitOperations.PopCount((uint)r) % 2 == 0 ? y - 20 : y)
            .ToArray();
        var blocks = new Factor(
            "day",
            Enumerable
                .Range(0, 16)
                .Select(r => (System.Numerics.BitOperations.PopCount((uint)r) % 2).ToString())
                .ToArray()
        );
        TwoLevelDesign found = TwoLevelDesign.Of(shifted, Four(Enumerable.Range(0, 16)), out _, 4, blocks)!;
        Assert.Equal(21.625, found.Effects.Single(e => e.Name == "A").Effect.Value, 1e-9);
        Assert.Equal(["A × B × C × D"], found.Lost);
    }

    [Fact]
    public void RandomisedBlocks_SumsOfSquaresByHand()
    {
        // Three couplings in four blocks, balanced: closed forms. Treatment means 5, 7, 9 and block means 6, 7, 8, 7 with residuals.
        double[] values = [4, 6, 8, 5, 7, 9, 6, 9, 9, 5, 6, 10];
        var block = new Factor("block", Enumerable.Range(0, 12).Select(i => $"block {i / 3}").ToArray());
        var coupling = new Factor("coupling", Enumerable.Range(0, 12).Select(i => $"coupling {i % 3}").ToArray());
        GeneralLinearModel found = GeneralLinearModel.Of(values, [block, coupling], out _)!;
        // Grand mean 7; treatments 4 ((5-7)² + 0 + (9-7)²) = 32; blocks 3 (1 + 0 + 1 + 0) = 6; total 46 - ... by hand:
        double total = values.Sum(v => (v - 7) * (v - 7));
        Assert.Equal(6, found.Table[0].SumOfSquares, 1e-9);
        Assert.Equal(32, found.Table[1].SumOfSquares, 1e-9);
        Assert.Equal(total - 38, found.Table[2].SumOfSquares, 1e-9);
        Assert.Equal(6, found.Table[2].DegreesOfFreedom);
        Assert.Equal(16 / ((total - 38) / 6), found.Table[1].Statistic, 1e-9);
        Assert.Equal(-2, found.Levels.Single(l => l.Level == "coupling 0").Effect.Value, 1e-9);
        Assert.Equal(2, found.Levels.Single(l => l.Level == "coupling 2").Effect.Value, 1e-9);
        // Every level of a balanced factor has the same standard error, s sqrt((1/3)(2) / 4).
        Assert.Equal(
            Math.Sqrt((total - 38) / 6 * (2.0 / 3) / 4),
            found.Levels.Single(l => l.Level == "coupling 2").Effect.StandardError,
            1e-9
        );
    }
}
