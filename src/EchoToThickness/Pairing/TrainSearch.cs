using EchoToThickness.Echoes;
using EchoToThickness.Procedures;

namespace EchoToThickness.Pairing;

/// <summary>
/// Tries every train that the candidates of one A-scan allow and scores each: what it explains, what it leaves unexplained, what it
/// expects and does not find. Reused from A-scan to A-scan; allocates nothing after construction.
/// </summary>
/// <remarks>
/// Physics used: back-wall echoes follow the interface at multiples of one spacing, all with the polarity opposite to the interface and
/// decaying; echoes of the couplant layer have the interface's polarity and follow its transit time; no wall echo is stronger than
/// the transmission into the metal and back allows.
/// </remarks>
public sealed class TrainSearch
{
    /// <summary>A reflector counts from this fraction of the strongest wall-like echo.</summary>
    private const double EligibleFraction = 0.25;

    /// <summary>The first member reaches this fraction of the strongest of the first three.</summary>
    private const double FirstMemberFraction = 0.55;

    /// <summary>Scatter of the interface itself (edge waves of the aperture), against the interface: -36 dB.</summary>
    internal const double ScatterFraction = 0.015848931924611134;

    /// <summary>An echo with the interface's polarity over this fraction of it is a couplant echo: -16.5 dB.</summary>
    internal const double CouplantFraction = 0.14962356560944334;

    private const int MaximumHypotheses = 1024;

    private readonly TrainHypothesis[] _hypotheses = new TrainHypothesis[MaximumHypotheses];
    private readonly int[] _order = new int[MaximumHypotheses];
    private readonly double[] _spacings = new double[8 * EchoRecord.MaximumCandidates];
    private TrainContext _context = null!;
    private EchoRecord _record = null!;
    private TrainSettings _settings = null!;

    /// <summary>Number of hypotheses.</summary>
    public int Count { get; private set; }

    /// <summary>A hypothesis by rank, 0 the best.</summary>
    /// <param name="rank">Rank.</param>
    public ref readonly TrainHypothesis this[int rank] => ref _hypotheses[_order[rank]];

    /// <summary>Tries all trains and ranks them.</summary>
    /// <param name="context">The front of the prepared record.</param>
    public void Run(TrainContext context)
    {
        ArgumentNullException.ThrowIfNull(context);
        _context = context;
        _record = context.Record;
        _settings = context.Settings;
        Count = 0;
        for (int i = 0; i < _record.Count; i++)
        {
            if (context.Interfaces.Contains(i))
                TryInterface(i);
        }
        TryLostInterface();
        Rank();
    }

    /// <summary>Best hypothesis whose spacing differs from the winner's by more than the tolerance; -1 when none.</summary>
    public int RunnerUp()
    {
        for (int rank = 1; rank < Count; rank++)
        {
            if (Math.Abs(this[rank].SpacingSamples - this[0].SpacingSamples) > _record.Scale.Tolerance)
                return rank;
        }
        return -1;
    }

    private void TryInterface(int front)
    {
        ReadOnlySpan<EchoCandidate> echoes = _record.Candidates;
        EchoScale scale = _record.Scale;
        (CandidateSet walls, CandidateSet couplant, CandidateSet sure) = Classify(front);
        if (walls.IsEmpty)
            return;
        double strongest = 0;
        for (int j = 0; j < echoes.Length; j++)
        {
            if (walls.Contains(j))
                strongest = Math.Max(strongest, echoes[j].AmplitudeFraction);
        }
        CandidateSet eligible = CandidateSet.Empty;
        for (int j = 0; j < echoes.Length; j++)
        {
            if (walls.Contains(j) && echoes[j].AmplitudeFraction >= EligibleFraction * strongest)
                eligible = eligible.With(j);
        }
        int spacings = ListSpacings(front, eligible, couplant, strongest);
        for (int k = 0; k < spacings; k++)
            TrySpacing(front, _spacings[k], walls, couplant, sure, eligible, strongest);
    }

    /// <summary>Sorts the candidates behind an interface into echoes that may be the wall's and echoes of the couplant layer.</summary>
    private (CandidateSet Walls, CandidateSet Couplant, CandidateSet Sure) Classify(int front)
    {
        ReadOnlySpan<EchoCandidate> echoes = _record.Candidates;
        EchoScale scale = _record.Scale;
        EchoCandidate face = echoes[front];
        bool clipped = _context.IsClipped(front);
        double strongestWall = Math.Pow(10, _settings.StrongestWallDecibels / 20) * face.AmplitudeFraction;
        double floor = Math.Pow(10, _settings.EchoFloorDecibels / 20) * face.AmplitudeFraction;
        CandidateSet walls = CandidateSet.Empty;
        CandidateSet couplant = CandidateSet.Empty;
        CandidateSet sure = CandidateSet.Empty;
        for (int j = 0; j < echoes.Length; j++)
        {
            double distance = echoes[j].PositionSamples - face.PositionSamples;
            double amplitude = echoes[j].AmplitudeFraction;
            if (distance < scale.SmallestSpacing || _context.Interfaces.Contains(j))
                continue;
            if (
                _context.IsCoatingEcho(face.PositionSamples, j, 5, out _)
                && IsCoatingStrength(
                    amplitude / face.AmplitudeFraction,
                    EchoScale.Round(distance / _context.CoatingSamples)
                )
            )
                continue;
            if (!clipped)
            {
                if (amplitude < floor)
                    continue;
                // Ring-down of the interface: no echo of the wall is that strong, and no couplant echo that early.
                if (_context.HasSingleFront && distance < 6 * scale.Period && amplitude > strongestWall)
                    continue;
                if (
                    _context.HasSingleFront
                    && amplitude > CouplantFraction * face.AmplitudeFraction
                    && _record.Sign(front, j) > 0.5
                )
                {
                    couplant = couplant.With(j);
                    sure = sure.With(j);
                    continue;
                }
            }
            if (_context.IsAtCouplantEcho(front, j) && _record.Sign(front, j) > (clipped ? 0.0 : 0.2))
                couplant = couplant.With(j);
            else
                walls = walls.With(j);
        }
        return (walls, couplant, sure);
    }

    private static bool IsCoatingStrength(double ratio, int order) =>
        ratio < 0.6 * Math.Pow(0.5, order - 1) && ratio > 0.3 * Math.Pow(0.2, order);

    /// <summary>Spacings worth trying: to each eligible echo, to couplant-like echoes of a wall's strength, from evenly spaced pairs, and parts of these.</summary>
    private int ListSpacings(int front, CandidateSet eligible, CandidateSet couplant, double strongest)
    {
        ReadOnlySpan<EchoCandidate> echoes = _record.Candidates;
        EchoScale scale = _record.Scale;
        double start = echoes[front].PositionSamples;
        double strongestWall = Math.Pow(10, _settings.StrongestWallDecibels / 20) * echoes[front].AmplitudeFraction;
        int count = 0;
        for (int j = 0; j < echoes.Length; j++)
        {
            if (eligible.Contains(j))
                _spacings[count++] = echoes[j].PositionSamples - start;
        }
        int direct = count;
        for (int j = 0; j < echoes.Length; j++)
        {
            double amplitude = echoes[j].AmplitudeFraction;
            if (couplant.Contains(j) && amplitude <= strongestWall && amplitude >= EligibleFraction * strongest)
                _spacings[count++] = echoes[j].PositionSamples - start;
        }
        int previous = -1;
        for (int j = 0; j < echoes.Length; j++)
        {
            if (!eligible.Contains(j))
                continue;
            if (previous >= 0)
            {
                double step = echoes[j].PositionSamples - echoes[previous].PositionSamples;
                if (step >= scale.SmallestSpacing && _record.Sign(previous, j) >= 0)
                {
                    double multiple = (echoes[previous].PositionSamples - start) / step;
                    int whole = EchoScale.Round(multiple);
                    if (multiple > 1.5 && Math.Abs(multiple - whole) * step < scale.Tolerance && whole <= 3)
                        _spacings[count++] = (echoes[j].PositionSamples - start) / (whole + 1);
                }
            }
            previous = j;
        }
        for (int k = 0; k < direct; k++)
        for (int part = 2; part <= 3; part++)
        {
            if (_spacings[k] / part >= scale.SmallestSpacing)
                _spacings[count++] = _spacings[k] / part;
        }
        return count;
    }

    private void TrySpacing(
        int front,
        double spacing,
        CandidateSet walls,
        CandidateSet couplant,
        CandidateSet sure,
        CandidateSet eligible,
        double strongest
    )
    {
        if (Count == MaximumHypotheses)
            return;
        ref TrainHypothesis train = ref _hypotheses[Count];
        train = new TrainHypothesis
        {
            Interface = front,
            SpacingSamples = spacing,
            Walls = walls,
            Couplant = couplant,
            SurelyCouplant = sure,
        };
        int lastTried = Gather(ref train);
        if (train.MemberCount == 0 || IsKnown(train) || !IsBelievable(train))
            return;
        Score(ref train, lastTried, eligible, strongest);
        Count++;
    }

    /// <summary>Collects the members: nearest candidate to each multiple of a spacing that is refined on the way.</summary>
    /// <returns>The last multiple inside the record; no member when no wall-like echo was met.</returns>
    private int Gather(ref TrainHypothesis train)
    {
        ReadOnlySpan<EchoCandidate> echoes = _record.Candidates;
        EchoScale scale = _record.Scale;
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
            if (order > TrainHypothesis.MaximumMembers || position > _record.Length - 6)
                break;
            int q = _record.Nearest(position);
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
            bool belongs =
                q == train.Reference || train.Couplant.Contains(q) || _record.Sign(train.Reference, q) > -0.7;
            if (!belongs)
                continue;
            if (train.MemberCount > 0 && member.Order - train.Members[^1].Order > 3)
                break;
            train.Add(member);
        }
        return order - 1;
    }

    /// <summary>Whether another spacing already gathered the same members.</summary>
    private bool IsKnown(in TrainHypothesis train)
    {
        for (int k = 0; k < Count; k++)
        {
            if (
                _hypotheses[k].Interface == train.Interface
                && _hypotheses[k].MemberCount == train.MemberCount
                && _hypotheses[k].Members.SequenceEqual(train.Members)
            )
                return true;
        }
        return false;
    }

    private bool IsBelievable(in TrainHypothesis train)
    {
        double first = MemberAmplitude(train, 0);
        int firstOrder = train.First.Order;
        double largest = 0;
        double largestEarly = 0;
        bool hasWall = false;
        for (int k = 0; k < train.MemberCount; k++)
        {
            double amplitude = MemberAmplitude(train, k);
            largest = Math.Max(largest, amplitude);
            if (train.Members[k].Order <= firstOrder + 2)
                largestEarly = Math.Max(largestEarly, amplitude);
            hasWall |= !train.Couplant.Contains(train.Members[k].Candidate);
        }
        if (
            !hasWall
            || firstOrder > 3
            || first < EligibleFraction * largest
            || first < FirstMemberFraction * largestEarly
            || (firstOrder > 1 && train.IsSingle)
        )
            return false;
        for (int order = 1; order < firstOrder; order++)
        {
            if (!IsHidden(train, order, first))
                return false;
        }
        return train.MemberCount >= 0.6 * train.Members[^1].Order - 0.01;
    }

    private void Score(ref TrainHypothesis train, int lastTried, CandidateSet eligible, double strongest)
    {
        ReadOnlySpan<EchoCandidate> echoes = _record.Candidates;
        EchoCandidate face = echoes[train.Interface];
        bool clipped = _context.IsClipped(train.Interface);
        double first = MemberAmplitude(train, 0);
        int firstOrder = train.First.Order;
        double polarity = -_record.Sign(train.Interface, train.Reference);

        // An echo may be at most a quarter stronger than those before it: what grows more is not part of the train.
        double support = 0;
        double running = double.PositiveInfinity;
        for (int k = 0; k < Math.Min(6, train.MemberCount); k++)
        {
            double amplitude = Math.Min(MemberAmplitude(train, k), 1.25 * running);
            support += amplitude / strongest;
            running = Math.Min(running, amplitude);
        }

        double missing = 0;
        for (int order = 1; order <= Math.Min(6, lastTried); order++)
        {
            if (HasOrder(train, order))
                continue;
            double expected = order < firstOrder ? first : first * Math.Pow(0.25, order - firstOrder);
            if (expected > 1.5 * _record.CandidateLevelFraction)
                missing += Math.Min(1, expected / strongest) * (IsHidden(train, order, first) ? 0.5 : 1);
        }

        double scatter = Math.Max(3.5 * _record.QuietFraction, clipped ? 0 : ScatterFraction * face.AmplitudeFraction);
        double firstPosition = echoes[train.First.Candidate].PositionSamples;
        CandidateSet members = train.MemberSet;
        double early = 0;
        double late = 0;
        for (int q = 0; q < echoes.Length; q++)
        {
            if (!eligible.Contains(q) || members.Contains(q))
                continue;
            double unexplained = Math.Max(0, echoes[q].AmplitudeFraction - scatter);
            if (unexplained == 0 || _context.IsAtCouplantEcho(train.Interface, q, train.SpacingSamples))
                continue;
            if (echoes[q].PositionSamples < firstPosition - _record.Scale.Tolerance)
                early += unexplained;
            else if (echoes[q].PositionSamples > firstPosition && !IsCoatingEchoOfMember(train, q))
                late += unexplained;
        }
        train.Support = support;
        train.Missing = missing;
        train.Early = early / strongest;
        train.Late = late / strongest;
        train.Score = support + 0.3 * polarity - missing - _settings.EarlyWeight * train.Early - 0.3 * train.Late;
    }

    /// <summary>
    /// The interface may lie in front of the record: then the first strong echo is itself a wall, the next ones have its polarity and
    /// nearly its strength, and nothing comparable lies between. Couplant echoes cannot pass: they are much weaker than their first.
    /// </summary>
    private void TryLostInterface()
    {
        ReadOnlySpan<EchoCandidate> echoes = _record.Candidates;
        EchoScale scale = _record.Scale;
        double strongest = 0;
        foreach (EchoCandidate echo in echoes)
            strongest = Math.Max(strongest, echo.AmplitudeFraction);
        int first = 0;
        while (echoes[first].AmplitudeFraction < 0.5 * strongest)
            first++;
        if (_record.IsClipped(first))
            return;
        EchoCandidate wall = echoes[first];
        for (int j = first + 1; j < echoes.Length; j++)
        {
            if (
                echoes[j].PositionSamples - wall.PositionSamples < scale.SmallestSpacing
                || echoes[j].AmplitudeFraction < 0.5 * wall.AmplitudeFraction
                || _record.Sign(first, j) < 0.5
            )
                continue;
            var train = new TrainHypothesis
            {
                Interface = TrainHypothesis.NoInterface,
                Reference = first,
                Score = 9,
            };
            train.Add(new TrainMember(1, first));
            train.Add(new TrainMember(2, j));
            bool reachedEnd = Extend(ref train, first);
            double between = 0;
            for (int q = first + 1; q < j; q++)
                between = Math.Max(between, echoes[q].AmplitudeFraction);
            if ((train.MemberCount < 3 && !reachedEnd) || between >= 0.25 * wall.AmplitudeFraction)
                continue;
            TrainMember last = train.Members[^1];
            train.SpacingSamples = (echoes[last.Candidate].PositionSamples - wall.PositionSamples) / (last.Order - 1);
            Count = 0;
            _hypotheses[Count++] = train;
            return;
        }
    }

    private bool Extend(ref TrainHypothesis train, int first)
    {
        ReadOnlySpan<EchoCandidate> echoes = _record.Candidates;
        while (train.MemberCount < TrainHypothesis.MaximumMembers)
        {
            TrainMember last = train.Members[^1];
            double start = echoes[first].PositionSamples;
            double position = start + last.Order * (echoes[last.Candidate].PositionSamples - start) / (last.Order - 1);
            if (position > _record.Length - 1 - _record.Scale.SignHalfWindow)
                return true;
            int q = _record.Nearest(position);
            double ratio = echoes[q].AmplitudeFraction / echoes[last.Candidate].AmplitudeFraction;
            if (
                Math.Abs(echoes[q].PositionSamples - position) >= _record.Scale.Tolerance
                || q <= last.Candidate
                || _record.Sign(first, q) <= 0.3
                || ratio is <= 0.5 or >= 1.3
            )
                return false;
            train.Add(new TrainMember(last.Order + 1, q));
        }
        return true;
    }

    /// <summary>A member's strength; one that may be a couplant echo counts no more than the reference.</summary>
    private double MemberAmplitude(in TrainHypothesis train, int member)
    {
        int q = train.Members[member].Candidate;
        double amplitude = _record.Candidates[q].AmplitudeFraction;
        return train.Couplant.Contains(q)
            ? Math.Min(amplitude, _record.Candidates[train.Reference].AmplitudeFraction)
            : amplitude;
    }

    /// <summary>Whether an expected echo may hide under another one that is about as strong.</summary>
    private bool IsHidden(in TrainHypothesis train, int order, double first)
    {
        ReadOnlySpan<EchoCandidate> echoes = _record.Candidates;
        double position = echoes[train.Interface].PositionSamples + order * train.SpacingSamples;
        CandidateSet members = train.MemberSet;
        for (int q = 0; q < echoes.Length; q++)
        {
            double reach = (train.SurelyCouplant.Contains(q) ? 3.0 : 1.5) * _record.Scale.Period;
            if (
                Math.Abs(position - echoes[q].PositionSamples) < reach
                && echoes[q].AmplitudeFraction > 0.7 * first
                && !members.Contains(q)
                && !_context.Interfaces.Contains(q)
            )
                return true;
        }
        return false;
    }

    private bool IsCoatingEchoOfMember(in TrainHypothesis train, int candidate)
    {
        if (_context.CoatingSamples <= 0)
            return false;
        foreach (TrainMember member in train.Members)
        {
            if (_context.IsCoatingEcho(_record.Candidates[member.Candidate].PositionSamples, candidate, 3, out _))
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

    /// <summary>Orders by score, highest first; of equals the one tried first stays in front.</summary>
    private void Rank()
    {
        for (int k = 0; k < Count; k++)
        {
            int at = k;
            double score = _hypotheses[k].Score;
            while (at > 0 && _hypotheses[_order[at - 1]].Score < score)
            {
                _order[at] = _order[at - 1];
                at--;
            }
            _order[at] = k;
        }
    }
}
