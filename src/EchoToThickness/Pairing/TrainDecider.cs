using EchoToThickness.Echoes;
using EchoToThickness.Estimation;
using EchoToThickness.Evidence;
using EchoToThickness.Procedures;

namespace EchoToThickness.Pairing;

/// <summary>
/// From a prepared record to a timed wall or a reason why not: searches trains, refuses what cannot be believed, separates laminar
/// reflectors, times what is left. Reused from A-scan to A-scan; allocates nothing after construction.
/// </summary>
public sealed class TrainDecider
{
    /// <summary>Under this peak-to-noise ratio the whole record is searched instead of single echoes.</summary>
    private const double NoisyRatio = 7.5;

    private const double CoherentEvidence = 12;
    private const double CoherentLead = 3;
    private const double IncoherentEvidence = 13;
    private const double IncoherentLead = 3;

    /// <summary>The face of an array reflects less than this; what is stronger against the interface is not its couplant's echo.</summary>
    private const double StrongestLayerEcho = 0.5;

    private const double SmallestScore = 0.3;

    private readonly TrainSettings _settings;
    private readonly double _ringFraction;
    private readonly CombSearch _comb;

    /// <summary>Prepares the stage for records of one length.</summary>
    /// <param name="settings">Settings of the procedure.</param>
    /// <param name="samples">Samples of an A-scan.</param>
    /// <param name="scale">Lengths in samples.</param>
    /// <param name="diffraction">Delay of the aperture, or null.</param>
    /// <param name="zeroSeconds">Constant part of interface-to-wall times (zero offset, known coating), seconds.</param>
    public TrainDecider(
        TrainSettings settings,
        int samples,
        EchoScale scale,
        FresnelDelay? diffraction,
        double zeroSeconds
    )
    {
        ArgumentNullException.ThrowIfNull(settings);
        ArgumentNullException.ThrowIfNull(scale);
        _settings = settings;
        _ringFraction = settings.StrongestWallRatio;
        _comb = new CombSearch(samples, scale);
        Timing = new TrainTiming(scale, diffraction, zeroSeconds);
    }

    /// <summary>What is known of the last record's front.</summary>
    public TrainContext Context { get; } = new();

    /// <summary>The hypotheses about the last record, ranked.</summary>
    public TrainSearch Search { get; } = new();

    /// <summary>The points timed in the last record.</summary>
    public TrainTiming Timing { get; }

    /// <summary>Decides one record.</summary>
    /// <param name="record">Prepared.</param>
    /// <param name="startSeconds">Time of its sample 0 from the pulse.</param>
    public TrainOutcome Decide(EchoRecord record, double startSeconds)
    {
        ArgumentNullException.ThrowIfNull(record);
        Timing.Begin(startSeconds);
        if (record.Count == 0 || record.LargestFraction < 6 * record.QuietFraction)
            return TrainOutcome.None(TrainReason.NothingOverNoise);
        Context.Begin(record, _settings, startSeconds * record.Scale.SampleRateHz);
        Search.Run(Context);
        if (Search.Count == 0)
            return TrainOutcome.None(TrainReason.NoWallEcho);
        TrainOutcome outcome = TrainOutcome.None(TrainReason.Train);
        Adopt(record, ref outcome, Search[0]);
        if (Search[0].Interface >= 0)
            LeaveTrainThatGrows(record, ref outcome);
        int runnerUp = Search.RunnerUp();
        outcome.Lead = Search[0].Score - (runnerUp >= 0 ? Search[runnerUp].Score : 0);
        outcome.RunnerUpSamples = runnerUp >= 0 ? Search[runnerUp].SpacingSamples : double.NaN;
        if (outcome.Train.Interface < 0)
            outcome.Reason = TrainReason.WallToWall;
        else if (!Accept(record, ref outcome) || outcome.Reason == TrainReason.CoherentComb)
            return outcome;
        Finish(record, ref outcome);
        return outcome;
    }

    /// <summary>Times the wall that neighbours chose, by the record's own echoes.</summary>
    /// <param name="record">Prepared; decided by <see cref="Decide"/> just before.</param>
    /// <param name="chosen">One of the record's own hypotheses.</param>
    /// <returns>The outcome; not measured when fewer than two echoes can be timed or they are uneven.</returns>
    public TrainOutcome Time(EchoRecord record, in WallHypothesis chosen)
    {
        ArgumentNullException.ThrowIfNull(record);
        TrainEchoes sorted = TrainEchoes.Behind(Context, chosen.Front);
        var train = new TrainHypothesis
        {
            Interface = chosen.Front,
            SpacingSamples = chosen.SpacingSamples,
            Walls = sorted.Walls,
            Couplant = sorted.Couplant,
            SurelyCouplant = sorted.SurelyCouplant,
        };
        TrainMembers.Gather(record, ref train);
        if (train.MemberCount == 0)
            return TrainOutcome.None(TrainReason.NothingToPair);
        TrainOutcome outcome = TrainOutcome.None(TrainReason.ChosenOverMap);
        Adopt(record, ref outcome, train);
        Timing.Run(Context, ref outcome, Timing.WallsOf(train));
        return outcome;
    }

    /// <summary>Makes a hypothesis the outcome's.</summary>
    private static void Adopt(EchoRecord record, ref TrainOutcome outcome, in TrainHypothesis train)
    {
        outcome.Train = train;
        outcome.HasTrain = true;
        ReadOnlySpan<EchoCandidate> echoes = record.Candidates;
        double amplitude = echoes[train.Reference].AmplitudeFraction;
        int against = train.Interface >= 0 ? train.Interface : train.First.Candidate;
        outcome.SignalRatio = amplitude / record.NoiseFraction;
        outcome.RelativeDecibels = 20 * Math.Log10(amplitude / echoes[against].AmplitudeFraction);
    }

    /// <summary>The refusals, in order. Sets the reason; the outcome may change its train or be measured here (combs).</summary>
    /// <returns>Whether the outcome goes on.</returns>
    private bool Accept(EchoRecord record, ref TrainOutcome outcome)
    {
        ReadOnlySpan<EchoCandidate> echoes = record.Candidates;
        int front = outcome.Train.Interface;
        bool clipped = Context.IsClipped(front);
        bool early = _settings.Expect == TrainExpectation.Pits && TakeEarlyReflector(record, ref outcome);
        if (outcome.Reason == TrainReason.EarlyReflectorDoubtful)
            return false;
        if (!early && !clipped && outcome.RelativeDecibels < _settings.WeakestWallDecibels)
            return Refuse(ref outcome, TrainReason.WeakerThanAnyWall);
        double amplitude = echoes[outcome.Train.Reference].AmplitudeFraction;
        double ratio = amplitude / record.NoiseFraction;
        if (!early && !clipped && Context.HasSingleFront && ratio < NoisyRatio)
            return SearchNoisyRecord(record, ref outcome);
        if (outcome.Train.IsSingle)
        {
            if (
                !clipped
                && Context.IsAtCouplantEcho(front, outcome.Train.Reference)
                && amplitude > TrainSearch.CouplantFraction * echoes[front].AmplitudeFraction
            )
                return Refuse(ref outcome, TrainReason.OnlyCouplantEcho);
            if (!clipped && Context.HasSingleFront && MayBeCouplantAlone(record, outcome.Train))
                return Refuse(ref outcome, TrainReason.OnlyCouplantEcho);
            if (MayHideBehindCouplant(record, outcome.Train))
                return Refuse(ref outcome, TrainReason.MayHideBehindCouplant);
        }
        if (ratio < _settings.WeakestRatio)
            return Refuse(ref outcome, TrainReason.TooCloseToNoise);
        if (!early && outcome.Train.IsSingle && outcome.Train.First.Order == 1 && HasRivalWall(record, outcome.Train))
            return Refuse(ref outcome, TrainReason.TwoWallsWithoutRepeat);
        if (outcome.Train.Score < SmallestScore)
            return Refuse(ref outcome, TrainReason.ExplainsTooLittle);
        if (ThinWallRule.IsMultipleOfThinner(Context, outcome.Train))
            return Refuse(ref outcome, TrainReason.ThinnerThanResolved);
        return true;
    }

    /// <summary>
    /// A train whose later echo stands well over all before it is made of scatter in front of a wall that it happens to divide: that echo is
    /// the first wall, unless it repeats, when a laminar reflector lies in front of it.
    /// </summary>
    private void LeaveTrainThatGrows(EchoRecord record, ref TrainOutcome outcome)
    {
        ReadOnlySpan<EchoCandidate> echoes = record.Candidates;
        TrainHypothesis train = outcome.Train;
        double before = 0;
        bool grows = false;
        foreach (TrainMember member in train.Members)
        {
            double amplitude = echoes[member.Candidate].AmplitudeFraction;
            if (member.Candidate == train.Reference)
            {
                grows = before > 0 && member.Order >= FirstGrownOrder && amplitude > GrownRatio * before;
                break;
            }
            before = Math.Max(before, amplitude);
        }
        if (grows && LaminarRule.FindFullWall(Context, train) < 0)
            Adopt(record, ref outcome, TrainStartingAt(record, train, train.Reference));
    }

    private const double GrownRatio = 1.6;

    /// <summary>Interference may hold the first two echoes of a real wall down.</summary>
    private const int FirstGrownOrder = 3;

    private static bool Refuse(ref TrainOutcome outcome, TrainReason reason)
    {
        outcome.Reason = reason;
        return false;
    }

    /// <summary>Where pits are expected, the first clear reflector in front of the chosen wall is the wall: the safe side.</summary>
    private bool TakeEarlyReflector(EchoRecord record, ref TrainOutcome outcome)
    {
        ReadOnlySpan<EchoCandidate> echoes = record.Candidates;
        TrainHypothesis train = outcome.Train;
        double noise = record.QuietFraction;
        double first = echoes[train.First.Candidate].PositionSamples;
        for (int q = 0; q < echoes.Length; q++)
        {
            double amplitude = echoes[q].AmplitudeFraction;
            if (
                !train.Walls.Contains(q)
                || echoes[q].PositionSamples >= first - record.Scale.Tolerance
                || amplitude < 0.5 * echoes[train.Reference].AmplitudeFraction
                || amplitude <= 3.8 * noise
                || amplitude <= TrainSearch.ScatterFraction * echoes[train.Interface].AmplitudeFraction
                || Context.IsAtCouplantEcho(train.Interface, q, train.SpacingSamples)
            )
                continue;
            if (amplitude < 5 * noise)
            {
                outcome.Reason = TrainReason.EarlyReflectorDoubtful;
                return false;
            }
            Adopt(record, ref outcome, TrainStartingAt(record, train, q));
            outcome.Reason = TrainReason.EarlyReflector;
            return true;
        }
        return false;
    }

    private TrainHypothesis TrainStartingAt(EchoRecord record, in TrainHypothesis chosen, int candidate)
    {
        for (int rank = 0; rank < Search.Count; rank++)
        {
            if (Search[rank].First == new TrainMember(1, candidate))
                return Search[rank];
        }
        return SingleEcho(record, chosen, candidate);
    }

    private static TrainHypothesis SingleEcho(EchoRecord record, in TrainHypothesis chosen, int candidate)
    {
        TrainHypothesis single = chosen;
        single.ClearMembers();
        single.Add(new TrainMember(1, candidate));
        single.Reference = candidate;
        single.SpacingSamples =
            record.Candidates[candidate].PositionSamples - record.Candidates[chosen.Interface].PositionSamples;
        return single;
    }

    /// <summary>Coherent, then incoherent search of a record in which no echo stands well over the noise.</summary>
    private bool SearchNoisyRecord(EchoRecord record, ref TrainOutcome outcome)
    {
        ReadOnlySpan<EchoCandidate> echoes = record.Candidates;
        EchoScale scale = record.Scale;
        TrainHypothesis chosen = outcome.Train;
        int front = chosen.Interface;
        double face = echoes[front].AmplitudeFraction;
        _comb.Begin(record, front, _ringFraction);
        for (int q = 0; q < echoes.Length; q++)
        {
            if (
                chosen.Couplant.Contains(q)
                && (echoes[q].AmplitudeFraction > TrainSearch.CouplantFraction * face || record.Sign(front, q) > 0.6)
            )
                _comb.Blank(q);
        }
        CombResult coherent = _comb.Coherent(face);
        if (
            coherent.Evidence >= CoherentEvidence
            && coherent.Evidence - coherent.RunnerUp >= CoherentLead
            && !coherent.AtEdge
        )
        {
            if (coherent.MayHide || IsCouplant(record, chosen, coherent.SpacingSamples))
                return Refuse(ref outcome, TrainReason.MayHideBehindCouplant);
            TakeComb(record, ref outcome, coherent);
            return true;
        }
        CombResult incoherent = _comb.Incoherent();
        if (
            coherent.Evidence * coherent.Excess >= CoherentEvidence
            && Math.Abs(incoherent.SpacingSamples - coherent.SpacingSamples) > 2 * scale.Period
        )
            return Refuse(ref outcome, TrainReason.CombsDisagree);
        if (
            !(incoherent.Evidence >= IncoherentEvidence)
            || incoherent.Evidence - incoherent.RunnerUp < IncoherentLead
            || incoherent.AtEdge
        )
            return Refuse(ref outcome, TrainReason.CombTooWeak);
        if (incoherent.MayHide)
            return Refuse(ref outcome, TrainReason.MayHideBehindCouplant);
        double position = echoes[front].PositionSamples + incoherent.SpacingSamples;
        int wall = record.Nearest(position);
        if (Math.Abs(echoes[wall].PositionSamples - position) > 1.3 * scale.Period)
            return Refuse(ref outcome, TrainReason.CombTooWeak);
        if (chosen.Couplant.Contains(wall))
            return Refuse(ref outcome, TrainReason.OnlyCouplantEcho);
        TrainHypothesis single = SingleEcho(record, chosen, wall);
        single.Couplant = CandidateSet.Empty;
        Adopt(record, ref outcome, single);
        outcome.Reason = TrainReason.IncoherentComb;
        outcome.Lead = incoherent.Evidence - incoherent.RunnerUp;
        return true;
    }

    /// <summary>Whether the first echo of a comb is one that the couplant layer sends: the flank of a strong one outlasts its blanking.</summary>
    private static bool IsCouplant(EchoRecord record, in TrainHypothesis chosen, double spacingSamples)
    {
        double position = record.Candidates[chosen.Interface].PositionSamples + spacingSamples;
        for (int q = 0; q < record.Count; q++)
        {
            if (
                chosen.Couplant.Contains(q)
                && Math.Abs(record.Candidates[q].PositionSamples - position) < 3 * record.Scale.Period
                && record.Candidates[q].AmplitudeFraction
                    > TrainSearch.CouplantFraction * record.Candidates[chosen.Interface].AmplitudeFraction
            )
                return true;
        }
        return false;
    }

    private void TakeComb(EchoRecord record, ref TrainOutcome outcome, CombResult comb)
    {
        int front = outcome.Train.Interface;
        double seconds = comb.SpacingSamples / record.Scale.SampleRateHz;
        seconds -=
            Timing.DiffractionSeconds(record, front, 1, seconds)
            - Timing.DiffractionSeconds(record, front, 0, seconds)
            + Timing.ZeroSeconds;
        outcome.Reason = TrainReason.CoherentComb;
        outcome.SpacingSeconds = seconds;
        outcome.SpacingUncertaintySeconds = comb.UncertaintySeconds;
        outcome.Lead = comb.Evidence - comb.RunnerUp;
        outcome.FirstOrder = 0;
        outcome.LastOrder = 1;
        outcome.WallEchoes = 1;
        outcome.Train.SpacingSamples = comb.SpacingSamples;
        int wall = record.Nearest(record.Candidates[front].PositionSamples + comb.SpacingSamples);
        if (
            wall != front
            && Math.Abs(
                record.Candidates[wall].PositionSamples - record.Candidates[front].PositionSamples - comb.SpacingSamples
            )
                < 1.3 * record.Scale.Period
        )
            outcome.FirstWall = wall;
        outcome.InterfaceToWallSeconds = seconds;
        outcome.InterfaceShare = 1;
        Timing.Sharpen(record, ref outcome);
    }

    /// <summary>
    /// A lone echo stronger than the procedure believes of a wall, though under half of the interface, may be an echo of the couplant under air
    /// unless the next one, as much weaker again and at twice the distance, is seen to be missing.
    /// </summary>
    private bool MayBeCouplantAlone(EchoRecord record, in TrainHypothesis train)
    {
        ReadOnlySpan<EchoCandidate> echoes = record.Candidates;
        double ratio = echoes[train.Reference].AmplitudeFraction / echoes[train.Interface].AmplitudeFraction;
        if (ratio <= _ringFraction || ratio >= StrongestLayerEcho)
            return false;
        double next = 2 * echoes[train.Reference].PositionSamples - echoes[train.Interface].PositionSamples;
        bool isInRecord = next < record.Length - 1 - record.Scale.PulseHalfWindow;
        bool standsOut = 0.5 * ratio * echoes[train.Reference].AmplitudeFraction > record.CandidateLevelFraction;
        int q = record.Nearest(next);
        bool isThere = Math.Abs(echoes[q].PositionSamples - next) < record.Scale.Tolerance;
        return !isInRecord || !standsOut || (isThere && record.Sign(train.Reference, q) < 0);
    }

    /// <summary>A sure couplant echo at half or a third of a single echo's distance may hide the first wall.</summary>
    private static bool MayHideBehindCouplant(EchoRecord record, in TrainHypothesis train)
    {
        ReadOnlySpan<EchoCandidate> echoes = record.Candidates;
        double front = echoes[train.Interface].PositionSamples;
        for (int q = 0; q < echoes.Length; q++)
        {
            if (!train.SurelyCouplant.Contains(q))
                continue;
            for (int part = 2; part <= 3; part++)
            {
                if (Math.Abs(front + train.SpacingSamples / part - echoes[q].PositionSamples) < 3 * record.Scale.Period)
                    return true;
            }
        }
        return false;
    }

    /// <summary>Another wall-like echo in front of a single one, not much weaker: two walls, neither of which repeats.</summary>
    private bool HasRivalWall(EchoRecord record, in TrainHypothesis train)
    {
        ReadOnlySpan<EchoCandidate> echoes = record.Candidates;
        double front = echoes[train.Interface].PositionSamples;
        double wall = echoes[train.First.Candidate].PositionSamples;
        double scatter = TrainSearch.ScatterFraction * echoes[train.Interface].AmplitudeFraction;
        for (int q = 0; q < echoes.Length; q++)
        {
            double amplitude = echoes[q].AmplitudeFraction;
            double position = echoes[q].PositionSamples;
            if (
                train.Walls.Contains(q)
                && position < wall - 1.5 * record.Scale.Period
                && amplitude >= 0.35 * echoes[train.Reference].AmplitudeFraction
                && amplitude > 4.5 * record.QuietFraction
                && (amplitude > scatter || position - front > 8 * record.Scale.Period)
                && !Context.IsAtCouplantEcho(train.Interface, q, train.SpacingSamples)
            )
                return true;
        }
        return false;
    }

    /// <summary>Separates laminar reflectors where they are expected, and times.</summary>
    private void Finish(EchoRecord record, ref TrainOutcome outcome)
    {
        TrainHypothesis train = outcome.Train;
        ReadOnlySpan<EchoCandidate> echoes = record.Candidates;
        ReadOnlySpan<TrainMember> walls = Timing.WallsOf(train);
        if (_settings.Expect == TrainExpectation.Laminar && train.Interface >= 0)
        {
            double front = echoes[train.Interface].PositionSamples;
            int fullWall = LaminarRule.FindFullWall(Context, train);
            if (fullWall >= 0)
            {
                outcome.Reason = TrainReason.FullWallBehindReflector;
                outcome.ReflectorSeconds =
                    (echoes[walls[0].Candidate].PositionSamples - front) / record.Scale.SampleRateHz;
                walls = Timing.RepeatsOf(Context, train.Interface, fullWall);
            }
            else if (walls[0].Order == 1)
            {
                int reflector = LaminarRule.FindReflectorBefore(Context, train, walls[0].Candidate);
                if (reflector >= 0)
                {
                    outcome.Reason = TrainReason.ReflectorBeforeWall;
                    outcome.ReflectorSeconds = (echoes[reflector].PositionSamples - front) / record.Scale.SampleRateHz;
                }
            }
        }
        Timing.Run(Context, ref outcome, walls);
    }
}
