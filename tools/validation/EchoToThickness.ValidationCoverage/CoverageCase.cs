namespace EchoToThickness.ValidationCoverage;

/// <summary>One method whose stated probability is checked by simulation.</summary>
/// <param name="Name">Method and design.</param>
/// <param name="Nominal">Stated probability: coverage of an interval, or size of a test.</param>
/// <param name="Below">How far below the truth may lie: 0 for exact methods; measured for approximate ones, as the table in docs says.</param>
/// <param name="Above">How far above.</param>
/// <param name="Trial">One trial: whether the interval held the truth, or the test rejected; null where the method refused.</param>
internal sealed record CoverageCase(string Name, double Nominal, double Below, double Above, Func<Draw, bool?> Trial)
{
    /// <summary>Trials of the quick run in the tests: few where one trial is slow.</summary>
    public int QuickTrials { get; init; } = 1000;

    /// <summary>Runs trials with seeds of their own.</summary>
    public (int Events, int Trials) Run(int trials, int seed)
    {
        int events = 0;
        int made = 0;
        for (int k = 0; k < trials; k++)
        {
            bool? outcome = Trial(new Draw(unchecked(seed * 1_000_003 + k)));
            if (outcome == null)
                continue;
            made++;
            events += outcome.Value ? 1 : 0;
        }
        return (events, made);
    }
}
