using EchoToThickness.Echoes;

namespace EchoToThickness.Pairing;

/// <summary>Which spacings an A-scan suggests.</summary>
internal static class TrainSpacings
{
    /// <summary>Most spacings of one interface.</summary>
    public const int Most = 8 * EchoRecord.MaximumCandidates;

    /// <summary>Spacings worth trying: to each eligible echo, to couplant-like echoes of a wall's strength, from evenly spaced pairs, and parts of these.</summary>
    /// <param name="context">The A-scan.</param>
    /// <param name="front">The interface.</param>
    /// <param name="sorted">The candidates behind it.</param>
    /// <param name="spacings">Takes the spacings, samples; room for <see cref="Most"/>.</param>
    /// <returns>Number of spacings.</returns>
    public static int List(TrainContext context, int front, in TrainEchoes sorted, Span<double> spacings)
    {
        EchoRecord record = context.Record;
        ReadOnlySpan<EchoCandidate> echoes = record.Candidates;
        EchoScale scale = record.Scale;
        double start = echoes[front].PositionSamples;
        double strongestWall = context.Settings.StrongestWallRatio * echoes[front].AmplitudeFraction;
        int count = 0;
        for (int j = 0; j < echoes.Length; j++)
        {
            if (sorted.Eligible.Contains(j))
                spacings[count++] = echoes[j].PositionSamples - start;
        }
        int direct = count;
        for (int j = 0; j < echoes.Length; j++)
        {
            double amplitude = echoes[j].AmplitudeFraction;
            if (
                sorted.Couplant.Contains(j)
                && amplitude <= strongestWall
                && amplitude >= TrainSearch.EligibleFraction * sorted.StrongestFraction
            )
                spacings[count++] = echoes[j].PositionSamples - start;
        }
        int previous = -1;
        for (int j = 0; j < echoes.Length; j++)
        {
            if (!sorted.Eligible.Contains(j))
                continue;
            if (previous >= 0)
            {
                double step = echoes[j].PositionSamples - echoes[previous].PositionSamples;
                if (step >= scale.SmallestSpacing && record.Sign(previous, j) >= 0)
                {
                    double multiple = (echoes[previous].PositionSamples - start) / step;
                    int whole = EchoScale.Round(multiple);
                    if (multiple > 1.5 && Math.Abs(multiple - whole) * step < scale.Tolerance && whole <= 3)
                        spacings[count++] = (echoes[j].PositionSamples - start) / (whole + 1);
                }
            }
            previous = j;
        }
        for (int k = 0; k < direct; k++)
        for (int part = 2; part <= 3; part++)
        {
            if (spacings[k] / part >= scale.SmallestSpacing)
                spacings[count++] = spacings[k] / part;
        }
        return count;
    }
}
