using EchoToThickness.ValidationCoverage;
using Xunit;

namespace EchoToThickness.Tests.Validation;

/// <summary>Intervals hold the truth, and tests reject, as often as they say: a quick run of the table in docs/theory/validation-statistics.md.</summary>
public sealed class CoverageTests
{
    public static TheoryData<int> Cases => new(Enumerable.Range(0, CoverageCases.All.Count));

    [Theory]
    [MemberData(nameof(Cases))]
    public void Method_StatedProbability_IsMet(int place)
    {
        CoverageCase test = CoverageCases.All[place];
        (int events, int trials) = test.Run(test.QuickTrials, 7);
        double found = events / (double)trials;
        // Four standard errors of the simulation, and for approximate methods the departure that the long run measured.
        double slack = 4 * Math.Sqrt(test.Nominal * (1 - test.Nominal) / trials);
        Assert.True(trials > test.QuickTrials * 0.95, $"{test.Name}: refused {test.QuickTrials - trials} times.");
        Assert.True(
            found >= test.Nominal - test.Below - slack && found <= test.Nominal + test.Above + slack,
            $"{test.Name}: stated {test.Nominal}, found {found} in {trials} trials."
        );
    }

    // The reason for clusters: the same data taken as independent hold the truth about half of the time.
    [Fact]
    public void Naive_CellsTakenAsIndependent_MissTheTruth()
    {
        CoverageCase naive = CoverageCases.Slow.Single(c =>
            c.Name.Contains("t interval of all readings", StringComparison.Ordinal)
        );
        (int events, int trials) = naive.Run(400, 7);
        Assert.InRange(events / (double)trials, 0.2, 0.7);
    }
}
