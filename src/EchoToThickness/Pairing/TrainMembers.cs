using EchoToThickness.Echoes;

namespace EchoToThickness.Pairing;

/// <summary>Which candidates a spacing strings together.</summary>
internal static class TrainMembers
{
    /// <summary>Collects the members: nearest candidate to each multiple of a spacing that is refined on the way.</summary>
    /// <param name="record">The A-scan.</param>
    /// <param name="train">Has the interface, the spacing and the sorted candidates; takes members, reference and refined spacing.</param>
    /// <returns>The last multiple inside the record; no member when no wall-like echo was met.</returns>
    public static int Gather(EchoRecord record, ref TrainHypothesis train)
    {
        ReadOnlySpan<EchoCandidate> echoes = record.Candidates;
        EchoScale scale = record.Scale;
        CandidateSet allowed = train.Walls.Union(train.Couplant).Except(train.SurelyCouplant);
        double start = echoes[train.Interface].PositionSamples;
        double spacing = train.SpacingSamples;
        double tried = spacing;
        Span<TrainMember> found = stackalloc TrainMember[TrainHypothesis.MaximumMembers];
        int count = 0;
        int last = train.Interface;
        int order = 0;
        train.Reference = -1;
        while (true)
        {
            order++;
            double position = start + order * spacing;
            if (order > TrainHypothesis.MaximumMembers || position > record.Length - 6)
                break;
            int q = record.Nearest(position);
            if (
                Math.Abs(echoes[q].PositionSamples - position) >= scale.Tolerance + 0.004 * order * tried
                || q <= last
                || !allowed.Contains(q)
            )
                continue;
            found[count++] = new TrainMember(order, q);
            last = q;
            if (
                !train.Couplant.Contains(q)
                && (train.Reference < 0 || echoes[q].AmplitudeFraction > echoes[train.Reference].AmplitudeFraction)
            )
                train.Reference = q;
            if (order <= 5)
                spacing += (order == 1 ? 0.5 : 0.8) * ((echoes[q].PositionSamples - start) / order - spacing);
        }
        train.SpacingSamples = spacing;
        if (train.Reference < 0)
            return order - 1;
        // Ringing of a coating alternates in sign, walls do not; and a train does not pause for more than two echoes.
        foreach (TrainMember member in found[..count])
        {
            int q = member.Candidate;
            bool belongs = q == train.Reference || train.Couplant.Contains(q) || record.Sign(train.Reference, q) > -0.7;
            if (!belongs)
                continue;
            if (train.MemberCount > 0 && member.Order - train.Members[^1].Order > 3)
                break;
            train.Add(member);
        }
        return order - 1;
    }
}
