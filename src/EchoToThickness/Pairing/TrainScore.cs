using EchoToThickness.Echoes;

namespace EchoToThickness.Pairing;

/// <summary>How well a train explains its A-scan.</summary>
internal static class TrainScore
{
    /// <summary>The first member reaches this fraction of the strongest of the first three.</summary>
    private const double FirstMemberFraction = 0.55;

    /// <summary>Whether a train is possible at all: starts early, does not grow, has few gaps, and its missing first echoes are hidden.</summary>
    /// <param name="context">The A-scan.</param>
    /// <param name="train">A train with members.</param>
    public static bool IsBelievable(TrainContext context, in TrainHypothesis train)
    {
        double first = MemberAmplitude(context.Record, train, 0);
        int firstOrder = train.First.Order;
        double largest = 0;
        double largestEarly = 0;
        bool hasWall = false;
        for (int k = 0; k < train.MemberCount; k++)
        {
            double amplitude = MemberAmplitude(context.Record, train, k);
            largest = Math.Max(largest, amplitude);
            if (train.Members[k].Order <= firstOrder + 2)
                largestEarly = Math.Max(largestEarly, amplitude);
            hasWall |= !train.Couplant.Contains(train.Members[k].Candidate);
        }
        if (
            !hasWall
            || firstOrder > 3
            || first < TrainSearch.EligibleFraction * largest
            || first < FirstMemberFraction * largestEarly
            || (firstOrder > 1 && train.IsSingle)
        )
            return false;
        for (int order = 1; order < firstOrder; order++)
        {
            if (!IsHidden(context, train, order, first))
                return false;
        }
        return train.MemberCount >= 0.6 * train.Members[^1].Order - 0.01;
    }

    /// <summary>Scores a train: what it explains, what it leaves unexplained, what it expects and does not find.</summary>
    /// <param name="context">The A-scan.</param>
    /// <param name="train">A believable train; takes the score and its parts.</param>
    /// <param name="lastTried">Last order inside the record.</param>
    /// <param name="sorted">The candidates behind its interface.</param>
    public static void Score(TrainContext context, ref TrainHypothesis train, int lastTried, in TrainEchoes sorted)
    {
        EchoRecord record = context.Record;
        ReadOnlySpan<EchoCandidate> echoes = record.Candidates;
        double strongest = sorted.StrongestFraction;
        EchoCandidate face = echoes[train.Interface];
        bool clipped = context.IsClipped(train.Interface);
        double first = MemberAmplitude(record, train, 0);
        int firstOrder = train.First.Order;
        double polarity = -record.Sign(train.Interface, train.Reference);

        // An echo may be at most a quarter stronger than those before it: what grows more is not part of the train.
        double support = 0;
        double running = double.PositiveInfinity;
        for (int k = 0; k < Math.Min(6, train.MemberCount); k++)
        {
            double amplitude = Math.Min(MemberAmplitude(record, train, k), 1.25 * running);
            support += amplitude / strongest;
            running = Math.Min(running, amplitude);
        }

        double missing = 0;
        for (int order = 1; order <= Math.Min(6, lastTried); order++)
        {
            if (HasOrder(train, order))
                continue;
            double expected = order < firstOrder ? first : first * Math.Pow(0.25, order - firstOrder);
            if (expected > 1.5 * record.CandidateLevelFraction)
                missing += Math.Min(1, expected / strongest) * (IsHidden(context, train, order, first) ? 0.5 : 1);
        }

        double scatter = Math.Max(
            3.5 * record.QuietFraction,
            clipped ? 0 : TrainSearch.ScatterFraction * face.AmplitudeFraction
        );
        double firstPosition = echoes[train.First.Candidate].PositionSamples;
        CandidateSet members = train.MemberSet;
        double early = 0;
        double late = 0;
        for (int q = 0; q < echoes.Length; q++)
        {
            if (!sorted.Eligible.Contains(q) || members.Contains(q))
                continue;
            double unexplained = Math.Max(0, echoes[q].AmplitudeFraction - scatter);
            if (unexplained == 0 || context.IsAtCouplantEcho(train.Interface, q, train.SpacingSamples))
                continue;
            if (echoes[q].PositionSamples < firstPosition - record.Scale.Tolerance)
                early += unexplained;
            else if (echoes[q].PositionSamples > firstPosition && !IsCoatingEchoOfMember(context, train, q))
                late += unexplained;
        }
        train.Support = support;
        train.Missing = missing;
        train.Early = early / strongest;
        train.Late = late / strongest;
        train.Score =
            support + 0.3 * polarity - missing - context.Settings.EarlyWeight * train.Early - 0.3 * train.Late;
    }

    /// <summary>A member's strength; one that may be a couplant echo counts no more than the reference.</summary>
    private static double MemberAmplitude(EchoRecord record, in TrainHypothesis train, int member)
    {
        int q = train.Members[member].Candidate;
        double amplitude = record.Candidates[q].AmplitudeFraction;
        return train.Couplant.Contains(q)
            ? Math.Min(amplitude, record.Candidates[train.Reference].AmplitudeFraction)
            : amplitude;
    }

    /// <summary>Whether an expected echo may hide under another one that is about as strong.</summary>
    private static bool IsHidden(TrainContext context, in TrainHypothesis train, int order, double first)
    {
        ReadOnlySpan<EchoCandidate> echoes = context.Record.Candidates;
        double position = echoes[train.Interface].PositionSamples + order * train.SpacingSamples;
        CandidateSet members = train.MemberSet;
        for (int q = 0; q < echoes.Length; q++)
        {
            double reach = (train.SurelyCouplant.Contains(q) ? 3.0 : 1.5) * context.Record.Scale.Period;
            if (
                Math.Abs(position - echoes[q].PositionSamples) < reach
                && echoes[q].AmplitudeFraction > 0.7 * first
                && !members.Contains(q)
                && !context.Interfaces.Contains(q)
            )
                return true;
        }
        return false;
    }

    private static bool IsCoatingEchoOfMember(TrainContext context, in TrainHypothesis train, int candidate)
    {
        if (context.CoatingSamples <= 0)
            return false;
        foreach (TrainMember member in train.Members)
        {
            if (context.IsCoatingEcho(context.Record.Candidates[member.Candidate].PositionSamples, candidate, 3, out _))
                return true;
        }
        return false;
    }

    private static bool HasOrder(in TrainHypothesis train, int order)
    {
        foreach (TrainMember member in train.Members)
        {
            if (member.Order == order)
                return true;
        }
        return false;
    }
}
