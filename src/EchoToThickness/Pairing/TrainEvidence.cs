using System.Numerics;
using EchoToThickness.Echoes;
using EchoToThickness.Evidence;
using EchoToThickness.Procedures;
using EchoToThickness.Velocity;

namespace EchoToThickness.Pairing;

/// <summary>
/// Lists the walls that one A-scan may show, each with a log likelihood: against the hypothesis that no candidate is a wall's. Every
/// candidate may be back-wall echo 1, 2 or 3. Reused from A-scan to A-scan; allocates nothing after construction.
/// </summary>
/// <remarks>
/// Nats, summed over the orders inside the record. An echo that is there: minus the log of the rate of clutter as strong as it (noise,
/// <c>exp(-x²/2)</c> at <c>x</c> times the noise; reflectors and scatter, a tail falling with amplitude), plus its polarity, plus evenness
/// of spacing, less growth against the echo before it. An echo that is not there: the log of the chance that one of the strength the
/// others make expected stays under the level. Each wall pays the log of the number of places it could have been at.
/// </remarks>
public sealed partial class TrainEvidence
{
    private const int Orders = 10;

    private const double LargestLead = 12;

    /// <summary>Log of the chance that a reflector lies in front of the wall.</summary>
    private const double RareReflector = -4;

    /// <summary>A reflector lies in front of this part of the wall.</summary>
    private const double ThinnestPart = 0.9;

    private const int Covered = -2;

    /// <summary>Cosine of the phase against the interface that a full wall behind a reflector must show.</summary>
    private const double OppositeSign = -0.3;

    private readonly double _minimumMetres;
    private readonly double _maximumMetres;
    private readonly double _thickestLikelyMetres;
    private readonly ResolvedVelocity _velocity;
    private readonly int[] _member = new int[Orders + 1];

    /// <summary>Prepares for one procedure and stack.</summary>
    /// <param name="wall">Range of walls.</param>
    /// <param name="velocity">Metres for seconds.</param>
    /// <param name="nominalMetres">Nominal wall; null when nobody states one.</param>
    public TrainEvidence(WallSettings wall, ResolvedVelocity velocity, double? nominalMetres)
    {
        ArgumentNullException.ThrowIfNull(wall);
        ArgumentNullException.ThrowIfNull(velocity);
        _minimumMetres = wall.MinimumMetres;
        _maximumMetres = wall.MaximumMetres;
        _velocity = velocity;
        // Corrosion thins. A wall a third thicker than nominal is a twentieth as likely before anything is heard (the trade's rolling and
        // bending tolerances stay far inside; the twentieth is ours).
        _thickestLikelyMetres = nominalMetres is { } nominal ? 1.35 * nominal : double.PositiveInfinity;
    }

    private const double ThickPrior = -3;

    /// <summary>Lists the walls.</summary>
    /// <param name="context">The front of the A-scan, as the decision left it.</param>
    /// <param name="outcome">What the A-scan by itself decided.</param>
    /// <param name="ownMetres">Wall decided on; NaN for none.</param>
    /// <param name="set">Takes the hypotheses.</param>
    public void List(TrainContext context, in TrainOutcome outcome, double ownMetres, ref HypothesisSet set)
    {
        ArgumentNullException.ThrowIfNull(context);
        set.Clear();
        if (!outcome.HasTrain)
            return;
        EchoRecord record = context.Record;
        EchoScale scale = record.Scale;
        float tolerance = (float)scale.Tolerance;
        int front = outcome.Train.Interface;
        bool alone = front < 0 || context.CoatingSamples > 0;
        if (!alone)
        {
            TrainEchoes sorted = TrainEchoes.Behind(context, front);
            CandidateSet allowed = sorted.Walls.Union(sorted.Couplant).Except(sorted.SurelyCouplant);
            double start = record.Candidates[front].PositionSamples;
            for (int q = front + 1; q < record.Count; q++)
            {
                if (!allowed.Contains(q))
                    continue;
                double distance = record.Candidates[q].PositionSamples - start;
                for (int order = 1; order <= 3 && distance / order >= scale.SmallestSpacing; order++)
                    Try(context, front, distance / order, allowed, sorted.Couplant, tolerance, double.NaN, ref set);
            }
            if (!double.IsNaN(ownMetres))
            {
                double spacing = outcome.SpacingSeconds * scale.SampleRateHz;
                double bonus = Bonus(context, front, outcome, allowed, sorted.Couplant);
                // A search of the whole record heard echoes too weak to be candidates; its lead is a log likelihood ratio.
                double least = outcome.Reason is TrainReason.CoherentComb or TrainReason.IncoherentComb
                    ? (set.Count > 0 ? set[0].LogLikelihood : 0) + Math.Clamp(outcome.Lead, 0, LargestLead)
                    : double.NegativeInfinity;
                Try(context, front, spacing, allowed, sorted.Couplant, tolerance, ownMetres, ref set, bonus, least);
            }
            AddReflectors(context, front, allowed, sorted.Couplant, ref set);
        }
        else if (!double.IsNaN(ownMetres))
        {
            // Nothing to weigh against: the interface was not recorded, or a coating was.
            set.Add(
                new WallHypothesis(
                    (float)ownMetres,
                    (float)Math.Min(20, 5 * outcome.WallEchoes),
                    (float)outcome.Train.SpacingSamples,
                    0,
                    (byte)Math.Max(1, outcome.Train.First.Order),
                    (byte)outcome.WallEchoes,
                    0
                ),
                tolerance,
                true
            );
        }
    }

    /// <summary>
    /// What else speaks for the A-scan's own wall: the reflector in front of it, if there is one, explains echoes of its own at the price of
    /// being rare.
    /// </summary>
    private double Bonus(
        TrainContext context,
        int front,
        in TrainOutcome outcome,
        CandidateSet allowed,
        CandidateSet couplant
    )
    {
        if (double.IsNaN(outcome.ReflectorSeconds))
            return 0;
        double spacing = outcome.ReflectorSeconds * context.Record.Scale.SampleRateHz;
        return Gather(context.Record, front, ref spacing, allowed) == 0
            ? 0
            : RareReflector + Math.Max(0, Score(context, front, spacing, couplant));
    }

    private void Try(
        TrainContext context,
        int front,
        double spacing,
        CandidateSet allowed,
        CandidateSet couplant,
        float tolerance,
        double ownMetres,
        ref HypothesisSet set,
        double bonus = 0,
        double least = double.NegativeInfinity
    )
    {
        bool own = !double.IsNaN(ownMetres);
        double metres = own ? ownMetres : _velocity.InterfaceToWallMetres(spacing / context.Record.Scale.SampleRateHz);
        if (!own && (metres < _minimumMetres || metres > _maximumMetres))
            return;
        int count = Gather(context.Record, front, ref spacing, allowed);
        int first = 1;
        while (first <= Orders && _member[first] < 0)
            first++;
        if (count == 0 && !own)
            return;
        double likelihood = count == 0 ? 0 : Score(context, front, spacing, couplant);
        likelihood = Math.Max(likelihood + bonus, least);
        if (metres > _thickestLikelyMetres)
            likelihood += ThickPrior;
        if (!own)
            metres = _velocity.InterfaceToWallMetres(spacing / context.Record.Scale.SampleRateHz);
        CandidateSet members = Gathered();
        set.Add(
            new WallHypothesis(
                (float)metres,
                (float)likelihood,
                (float)spacing,
                (byte)front,
                (byte)Math.Min(first, Orders),
                (byte)count,
                members.Bits,
                IsFirstAtCouplantEcho(context, front, members),
                Clutter(context.Record, front, allowed.Except(members))
            ),
            tolerance,
            own
        );
    }

    private CandidateSet Gathered()
    {
        CandidateSet members = CandidateSet.Empty;
        // Order 0 is the interface, no echo of the wall.
        for (int order = 1; order <= Orders; order++)
        {
            if (_member[order] >= 0)
                members = members.With(_member[order]);
        }
        return members;
    }

    private static bool IsFirstAtCouplantEcho(TrainContext context, int front, CandidateSet members) =>
        members.Bits != 0 && context.IsAtCouplantEcho(front, BitOperations.TrailingZeroCount(members.Bits));

    /// <summary>Strongest of the echoes left over against the strongest of the train gathered, decibels.</summary>
    private float Clutter(EchoRecord record, int front, CandidateSet others)
    {
        ReadOnlySpan<EchoCandidate> echoes = record.Candidates;
        double strongest = 0;
        for (int q = front + 1; q < echoes.Length; q++)
        {
            if (others.Contains(q))
                strongest = Math.Max(strongest, echoes[q].AmplitudeFraction);
        }
        double member = 0;
        for (int order = 1; order <= Orders; order++)
        {
            if (_member[order] >= 0)
                member = Math.Max(member, echoes[_member[order]].AmplitudeFraction);
        }
        return strongest > 0 && member > 0
            ? (float)Math.Max(Decibels(strongest / member), WallHypothesis.NoClutterDecibels)
            : WallHypothesis.NoClutterDecibels;
    }

    /// <summary>
    /// A wall with a reflector in front of it explains the echoes of both: for each wall the likeliest thinner one whose echoes are not all
    /// the wall's, and that does not have all of the wall's.
    /// </summary>
    private void AddReflectors(
        TrainContext context,
        int front,
        CandidateSet allowed,
        CandidateSet couplant,
        ref HypothesisSet set
    )
    {
        // All are judged as they were before any of them was raised.
        HypothesisSet before = set;
        for (int wall = 0; wall < before.Count; wall++)
        {
            WallHypothesis thick = before[wall];
            if (
                thick.FirstOrder > 1
                || thick.Members == 0
                || context.Record.Sign(front, BitOperations.TrailingZeroCount(thick.Members)) > OppositeSign
            )
                continue;
            for (int k = 0; k < before.Count; k++)
            {
                WallHypothesis thin = before[k];
                if (
                    thin.SpacingSamples > ThinnestPart * thick.SpacingSamples
                    || thin.FirstOrder > 1
                    || (thin.Members & ~thick.Members) == 0
                )
                    continue;
                bool apart = BitOperations.PopCount(thick.Members & ~thin.Members) >= 2;
                bool half = Math.Abs(2 * thin.SpacingSamples - thick.SpacingSamples) < context.Record.Scale.Tolerance;
                if (!apart && !half)
                    continue;
                double spacing = thin.SpacingSamples;
                Gather(context.Record, front, ref spacing, allowed);
                if (!apart && Alternation(context, front) == 0)
                    continue;
                Cover(new CandidateSet(thick.Members));
                double reflector = RareReflector + Score(context, front, spacing, couplant);
                if (reflector > 0)
                    set.Raise(set.IndexOf(thick), thick.LogLikelihood + reflector);
                break;
            }
        }
    }

    /// <summary>Takes echoes of another train out of the one gathered; what they cover is neither there nor missing.</summary>
    private void Cover(CandidateSet others)
    {
        for (int order = 1; order <= Orders; order++)
        {
            if (_member[order] >= 0 && others.Contains(_member[order]))
                _member[order] = Covered;
        }
    }

    /// <summary>The nearest candidate to each multiple; the spacing follows the first.</summary>
    private int Gather(EchoRecord record, int front, ref double spacing, CandidateSet allowed)
    {
        ReadOnlySpan<EchoCandidate> echoes = record.Candidates;
        double start = echoes[front].PositionSamples;
        int count = 0;
        int last = front;
        double refined = spacing;
        for (int order = 1; order <= Orders; order++)
        {
            _member[order] = -1;
            double position = start + order * refined;
            if (position > record.Length - 6)
                continue;
            int q = record.Nearest(position);
            if (
                q <= last
                || !allowed.Contains(q)
                || Math.Abs(echoes[q].PositionSamples - position)
                    >= record.Scale.Tolerance * (count == 0 && order > 1 ? 0.1 : 1) + 0.004 * order * spacing
            )
                continue;
            _member[order] = q;
            last = q;
            count++;
            refined += (order == 1 ? 0.5 : 0.8) * ((echoes[q].PositionSamples - start) / order - refined);
        }
        spacing = refined;
        return count;
    }
}
