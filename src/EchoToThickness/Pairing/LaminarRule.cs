using EchoToThickness.Echoes;

namespace EchoToThickness.Pairing;

/// <summary>
/// Tells a laminar reflector in front of a full wall from a thin wall: the full wall's echo fits no multiple of the reflector's depth, or
/// makes one multiple rise, and repeats itself.
/// </summary>
public static class LaminarRule
{
    /// <summary>A full wall reaches this fraction of the reflector in front of it.</summary>
    private const double FullWallFraction = 0.45;

    /// <summary>Echoes of both need this peak-to-noise ratio.</summary>
    private const double ClearRatio = 8;

    /// <summary>Looks for the full wall behind the chosen train.</summary>
    /// <param name="context">The A-scan.</param>
    /// <param name="train">The chosen train; must have an interface.</param>
    /// <returns>Candidate of the full wall's first echo; -1 when there is none.</returns>
    public static int FindFullWall(TrainContext context, in TrainHypothesis train)
    {
        ArgumentNullException.ThrowIfNull(context);
        EchoRecord record = context.Record;
        int wall = FindRisingMember(context, train);
        if (wall < 0)
            wall = FindUnexplainedWall(context, train);
        if (wall < 0)
            return -1;
        // What was found may be the full wall's second echo: take the first where there is one at half the distance.
        double front = record.Candidates[train.Interface].PositionSamples;
        double half = front + 0.5 * (record.Candidates[wall].PositionSamples - front);
        int q = record.Nearest(half);
        if (
            Math.Abs(record.Candidates[q].PositionSamples - half) < record.Scale.Tolerance
            && !train.MemberSet.Contains(q)
            && train.Walls.Contains(q)
            && record.Candidates[q].AmplitudeFraction >= 0.3 * record.Candidates[wall].AmplitudeFraction
        )
            wall = q;
        return wall;
    }

    /// <summary>Looks for a reflector in front of the chosen train's first wall.</summary>
    /// <param name="context">The A-scan.</param>
    /// <param name="train">The chosen train; must have an interface.</param>
    /// <param name="firstWall">Candidate of the first wall timed.</param>
    /// <returns>Candidate of the reflector; -1 when there is none.</returns>
    public static int FindReflectorBefore(TrainContext context, in TrainHypothesis train, int firstWall)
    {
        ArgumentNullException.ThrowIfNull(context);
        EchoRecord record = context.Record;
        ReadOnlySpan<EchoCandidate> echoes = record.Candidates;
        double front = echoes[train.Interface].PositionSamples;
        for (int q = 0; q < echoes.Length; q++)
        {
            if (
                train.Walls.Contains(q)
                && echoes[q].PositionSamples < echoes[firstWall].PositionSamples - record.Scale.Tolerance
                && echoes[q].AmplitudeFraction >= 0.25 * echoes[train.Reference].AmplitudeFraction
                && echoes[q].AmplitudeFraction > 6 * record.QuietFraction
                && echoes[q].PositionSamples - front > 5 * record.Scale.Period
                && !context.IsAtCouplantEcho(train.Interface, q, train.SpacingSamples)
                && record.Sign(train.Interface, q) < -0.3
            )
                return q;
        }
        return -1;
    }

    /// <summary>A member from order 3 on that rises again: the full wall lies on a multiple of the reflector's depth.</summary>
    private static int FindRisingMember(TrainContext context, in TrainHypothesis train)
    {
        EchoRecord record = context.Record;
        ReadOnlySpan<EchoCandidate> echoes = record.Candidates;
        double first = echoes[train.First.Candidate].AmplitudeFraction;
        bool firstIsClipped = record.IsClipped(train.First.Candidate);
        // Noise alone lets one of two equal echoes stand out; two standard deviations of their difference seldom happen by chance.
        double chance = 2 * Math.Sqrt(2) * record.NoiseFraction;
        for (int k = 1; k < train.MemberCount; k++)
        {
            TrainMember member = train.Members[k];
            int q = member.Candidate;
            if (member.Order < 3 || context.IsAtCouplantEcho(train.Interface, q, train.SpacingSamples))
                continue;
            double amplitude = echoes[q].AmplitudeFraction;
            // Amplitudes of cut-off echoes say nothing.
            if (record.IsClipped(q) || record.IsClipped(train.Members[k - 1].Candidate) || firstIsClipped)
                continue;
            if (!HasRepeat(context, train, q, 1.3 * record.Scale.Tolerance, 0.25, 5))
                continue;
            if (amplitude <= ClearRatio * record.QuietFraction)
                continue;
            double before = echoes[train.Members[k - 1].Candidate].AmplitudeFraction;
            double next =
                k + 1 < train.MemberCount && train.Members[k + 1].Order == member.Order + 1
                    ? echoes[train.Members[k + 1].Candidate].AmplitudeFraction
                    : 0;
            if (
                amplitude > 1.15 * before
                && amplitude - before > chance
                && amplitude > 0.85 * first
                && next < 0.72 * amplitude
            )
                return q;
            if (amplitude > 2 * first)
                return q;
        }
        return -1;
    }

    /// <summary>A clear inverted echo that is no multiple of the train, no mode conversion, and repeats itself.</summary>
    private static int FindUnexplainedWall(TrainContext context, in TrainHypothesis train)
    {
        EchoRecord record = context.Record;
        ReadOnlySpan<EchoCandidate> echoes = record.Candidates;
        double front = echoes[train.Interface].PositionSamples;
        double first = echoes[train.First.Candidate].AmplitudeFraction;
        CandidateSet members = train.MemberSet;
        for (int q = 0; q < echoes.Length; q++)
        {
            if (!train.Walls.Contains(q))
                continue;
            double ratio = (echoes[q].PositionSamples - front) / train.SpacingSamples;
            if (
                ratio < 1.1
                || members.Contains(q)
                || context.IsAtCouplantEcho(train.Interface, q, train.SpacingSamples)
                || echoes[q].AmplitudeFraction < FullWallFraction * first
                || record.Sign(train.Interface, q) > -0.3
                || echoes[q].AmplitudeFraction < ClearRatio * record.QuietFraction
            )
                continue;
            // So close behind the first wall it is the other side of a step, not a wall behind a lamination.
            if (ratio < 1.3)
                return -1;
            bool modeConverted = ratio is > 1.38 and < 1.45;
            bool multiple =
                Math.Abs(ratio - Math.Round(ratio, MidpointRounding.ToEven)) * train.SpacingSamples
                < 1.3 * record.Scale.Period;
            if (modeConverted || multiple || ratio > 4.2)
                continue;
            if (HasRepeat(context, train, q, record.Scale.Tolerance, 0.25, 6))
                return q;
        }
        return -1;
    }

    private static bool HasRepeat(
        TrainContext context,
        in TrainHypothesis train,
        int wall,
        double tolerance,
        double fraction,
        double ratio
    )
    {
        EchoRecord record = context.Record;
        ReadOnlySpan<EchoCandidate> echoes = record.Candidates;
        double front = echoes[train.Interface].PositionSamples;
        double position = front + 2 * (echoes[wall].PositionSamples - front);
        for (int q = 0; q < echoes.Length; q++)
        {
            if (
                train.Walls.Contains(q)
                && Math.Abs(echoes[q].PositionSamples - position) < tolerance
                && echoes[q].AmplitudeFraction >= fraction * echoes[wall].AmplitudeFraction
                && echoes[q].AmplitudeFraction > ratio * record.QuietFraction
            )
                return true;
        }
        return false;
    }
}
