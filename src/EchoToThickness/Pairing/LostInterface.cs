using EchoToThickness.Echoes;

namespace EchoToThickness.Pairing;

/// <summary>A train without its interface.</summary>
internal static class LostInterface
{
    /// <summary>
    /// The interface may lie in front of the record: then the first strong echo is itself a wall, the next ones have its polarity and
    /// nearly its strength, and nothing comparable lies between. Couplant echoes cannot pass: they are much weaker than their first.
    /// </summary>
    /// <param name="record">The A-scan, with at least one candidate.</param>
    /// <param name="train">The train found.</param>
    /// <returns>Whether there is one.</returns>
    public static bool TryFind(EchoRecord record, out TrainHypothesis train)
    {
        ReadOnlySpan<EchoCandidate> echoes = record.Candidates;
        train = default;
        double strongest = 0;
        foreach (EchoCandidate echo in echoes)
            strongest = Math.Max(strongest, echo.AmplitudeFraction);
        int first = 0;
        while (echoes[first].AmplitudeFraction < 0.5 * strongest)
            first++;
        if (record.IsClipped(first))
            return false;
        EchoCandidate wall = echoes[first];
        for (int j = first + 1; j < echoes.Length; j++)
        {
            if (
                echoes[j].PositionSamples - wall.PositionSamples < record.Scale.SmallestSpacing
                || echoes[j].AmplitudeFraction < 0.5 * wall.AmplitudeFraction
                || record.Sign(first, j) < 0.5
            )
                continue;
            train = new TrainHypothesis
            {
                Interface = TrainHypothesis.NoInterface,
                Reference = first,
                Score = 9,
            };
            train.Add(new TrainMember(1, first));
            train.Add(new TrainMember(2, j));
            bool reachedEnd = Extend(record, ref train, first);
            double between = 0;
            for (int q = first + 1; q < j; q++)
                between = Math.Max(between, echoes[q].AmplitudeFraction);
            if ((train.MemberCount < 3 && !reachedEnd) || between >= 0.25 * wall.AmplitudeFraction)
                continue;
            TrainMember last = train.Members[^1];
            train.SpacingSamples = (echoes[last.Candidate].PositionSamples - wall.PositionSamples) / (last.Order - 1);
            return true;
        }
        return false;
    }

    private static bool Extend(EchoRecord record, ref TrainHypothesis train, int first)
    {
        ReadOnlySpan<EchoCandidate> echoes = record.Candidates;
        while (train.MemberCount < TrainHypothesis.MaximumMembers)
        {
            TrainMember last = train.Members[^1];
            double start = echoes[first].PositionSamples;
            double position = start + last.Order * (echoes[last.Candidate].PositionSamples - start) / (last.Order - 1);
            if (position > record.Length - 1 - record.Scale.SignHalfWindow)
                return true;
            int q = record.Nearest(position);
            double ratio = echoes[q].AmplitudeFraction / echoes[last.Candidate].AmplitudeFraction;
            if (
                Math.Abs(echoes[q].PositionSamples - position) >= record.Scale.Tolerance
                || q <= last.Candidate
                || record.Sign(first, q) <= 0.3
                || ratio is <= 0.5 or >= 1.3
            )
                return false;
            train.Add(new TrainMember(last.Order + 1, q));
        }
        return true;
    }
}
