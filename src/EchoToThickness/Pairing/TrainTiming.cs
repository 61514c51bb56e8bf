using EchoToThickness.Echoes;
using EchoToThickness.Estimation;

namespace EchoToThickness.Pairing;

/// <summary>
/// Times the echoes of a chosen train against each other and fits their spacing. Reused from A-scan to A-scan; allocates nothing after
/// construction.
/// </summary>
public sealed class TrainTiming
{
    /// <summary>A point further than this from the line through the others, in periods, and than five times their scatter is dropped.</summary>
    private const double TrimPeriods = 0.06;

    private const int MostTrimmed = 2;

    /// <summary>Above this the echoes lie 0.4 periods and more off even spacing: no rough wall does that, two reflectors do.</summary>
    private const double UnevenChiSquare = 400;

    /// <summary>Standard deviations that two estimates of one wall may differ by; 2.5 is passed by 99 %.</summary>
    private const double Agreement = 2.5;

    /// <summary>
    /// Least standard deviation of their difference, uncertainties of the better one: a third from the filter alone, more where weak echoes count.
    /// </summary>
    private const double LeastDifference = 0.6;

    /// <summary>A candidate over this multiple of the noise is an echo.</summary>
    private const double ForeignRatio = 5;

    private readonly TrainPoint[] _points = new TrainPoint[TrainFit.MaximumPoints];
    private readonly double[] _delays = new double[TrainFit.MaximumPoints];
    private readonly TrainMember[] _walls = new TrainMember[TrainHypothesis.MaximumMembers];
    private readonly FresnelDelay? _diffraction;
    private readonly JointTiming _joint;

    /// <summary>Prepares timing.</summary>
    /// <param name="scale">Lengths in samples.</param>
    /// <param name="diffraction">Delay of the aperture, or null for a plane wave.</param>
    /// <param name="zeroSeconds">Constant part of interface-to-wall times (zero offset, known coating), seconds.</param>
    public TrainTiming(EchoScale scale, FresnelDelay? diffraction, double zeroSeconds)
    {
        _joint = new JointTiming(scale);
        _diffraction = diffraction;
        ZeroSeconds = zeroSeconds;
    }

    /// <summary>Constant part of interface-to-wall times, seconds.</summary>
    public double ZeroSeconds { get; }

    /// <summary>Time of sample 0 of the record, seconds from the pulse.</summary>
    public double StartSeconds { get; private set; }

    /// <summary>Points of the last fit, after cycle choice and trimming.</summary>
    public ReadOnlySpan<TrainPoint> Points => _points.AsSpan(0, Count);

    /// <summary>Number of points.</summary>
    public int Count { get; private set; }

    /// <summary>Corrected delays of the points, samples.</summary>
    public ReadOnlySpan<double> DelaysSamples => _delays.AsSpan(0, Count);

    /// <summary>Multiples behind the joint fit that gave the spacing; 0 when the line through <see cref="Points"/> (or a comb) gave it.</summary>
    public int JointEchoes { get; private set; }

    /// <summary>Begins a record: nothing is timed yet.</summary>
    /// <param name="startSeconds">Time of sample 0 of the record, seconds from the pulse.</param>
    public void Begin(double startSeconds)
    {
        StartSeconds = startSeconds;
        JointEchoes = 0;
        Count = 0;
    }

    /// <summary>Times a train.</summary>
    /// <param name="context">The A-scan.</param>
    /// <param name="outcome">Has the train and the reason; takes spacing, uncertainty and orders.</param>
    /// <param name="walls">Walls to time, in order; at least one.</param>
    public void Run(TrainContext context, ref TrainOutcome outcome, ReadOnlySpan<TrainMember> walls)
    {
        ArgumentNullException.ThrowIfNull(context);
        JointEchoes = 0;
        EchoRecord record = context.Record;
        int front = outcome.Train.Interface;
        bool useFront = front >= 0 && !context.IsClipped(front) && context.HasSingleFront;
        Collect(record, front, useFront, walls);
        if (Count < 2)
        {
            outcome.Reason = context.IsClipped(front) ? TrainReason.InterfaceCutOff : TrainReason.NothingToPair;
            return;
        }
        TrainFit.ResolveCycles(_points.AsSpan(0, Count), record.Scale);
        CorrectDiffraction(record, front);
        for (int k = 0; k < MostTrimmed && Trim(record.Scale); k++) { }
        TrainFit fit = TrainFit.Fit(Points, DelaysSamples, record.NoiseFraction, record.Scale);
        if (fit.ChiSquare > UnevenChiSquare)
        {
            outcome.ChiSquare = fit.ChiSquare;
            outcome.Reason = TrainReason.UnevenSpacing;
            return;
        }
        outcome.SpacingSeconds = fit.SpacingSeconds;
        outcome.SpacingUncertaintySeconds = fit.UncertaintySeconds;
        outcome.ChiSquare = fit.ChiSquare;
        outcome.InterfaceShare = fit.InterfaceShare;
        Report(record.Scale, useFront, ref outcome);
        if (useFront)
            Sharpen(record, ref outcome);
    }

    /// <summary>
    /// Replaces spacing and uncertainty by those of the joint likelihood of all multiples in the record, where these are copies of the interface;
    /// changes nothing where they are not.
    /// </summary>
    /// <param name="record">The record.</param>
    /// <param name="outcome">Measured, with an interface.</param>
    public void Sharpen(EchoRecord record, ref TrainOutcome outcome)
    {
        ArgumentNullException.ThrowIfNull(record);
        if (outcome.Reason is not (TrainReason.Train or TrainReason.CoherentComb or TrainReason.ChosenOverMap))
            return;
        double rate = record.Scale.SampleRateHz;
        int front = outcome.Train.Interface;
        double spacing = outcome.SpacingSeconds;
        if (!_joint.Begin(record, front, spacing * rate))
            return;
        double own = DiffractionSeconds(record, front, 0, spacing);
        for (int order = 1; ; order++)
        {
            double offset = rate * (DiffractionSeconds(record, front, order, spacing) - own + ZeroSeconds);
            if (HasForeignEcho(record, outcome.Train, order * spacing * rate + offset))
                continue;
            if (!_joint.Add(order, offset))
                break;
        }
        if (!_joint.Fit(outcome.SignalRatio))
            return;
        if (!Agrees(outcome, rate))
            return;
        JointEchoes = _joint.Count;
        // The line may have dropped the interface for one wall a cycle off; the joint fit has taken it back.
        outcome.FirstOrder = 0;
        outcome.SpacingSeconds = _joint.SpacingSamples / rate;
        outcome.SpacingUncertaintySeconds = _joint.UncertaintySamples / rate;
        outcome.InterfaceShare = _joint.InterfaceShare;
    }

    /// <summary>
    /// Where one echo carries the wall, or none stands over the noise, little is left to judge the echoes' shape by. Then the efficient and the
    /// robust time must agree: their difference has the difference of their variances (Hausman 1978, Econometrica 46, 1251).
    /// </summary>
    private bool Agrees(in TrainOutcome outcome, double rate)
    {
        if (outcome.Reason != TrainReason.CoherentComb && outcome.WallEchoes > 1)
            return true;
        double robust = outcome.SpacingUncertaintySeconds * rate;
        double efficient = _joint.UncertaintySamples;
        double moved = _joint.SpacingSamples - outcome.SpacingSeconds * rate;
        double variance =
            Math.Abs(robust * robust - efficient * efficient)
            + LeastDifference * LeastDifference * efficient * efficient;
        return moved * moved <= Agreement * Agreement * variance;
    }

    /// <summary>Whether an echo that is not the wall's lies on a multiple or beside it.</summary>
    private static bool HasForeignEcho(EchoRecord record, in TrainHypothesis train, double delaySamples)
    {
        ReadOnlySpan<EchoCandidate> echoes = record.Candidates;
        double position = echoes[train.Interface].PositionSamples + delaySamples;
        double loud = Math.Max(0.35 * echoes[train.Reference].AmplitudeFraction, ForeignRatio * record.NoiseFraction);
        for (int q = 0; q < echoes.Length; q++)
        {
            double distance = Math.Abs(echoes[q].PositionSamples - position);
            if (q == train.Interface || distance > 5 * record.Scale.PulseSigma)
                continue;
            if (train.Couplant.Contains(q))
                return true;
            if (distance > record.Scale.Tolerance && echoes[q].AmplitudeFraction > loud)
                return true;
        }
        return false;
    }

    /// <summary>Delay of the aperture between the interface and back-wall echo n, seconds; 0 for a plane wave.</summary>
    /// <param name="record">The record.</param>
    /// <param name="front">Candidate taken for the interface, or none.</param>
    /// <param name="order">Order of the echo.</param>
    /// <param name="spacingSeconds">Round trip of one wall.</param>
    public double DiffractionSeconds(EchoRecord record, int front, int order, double spacingSeconds)
    {
        if (_diffraction is null)
            return 0;
        ArgumentNullException.ThrowIfNull(record);
        double couplant =
            front >= 0 ? StartSeconds + record.Candidates[front].PositionSamples / record.Scale.SampleRateHz : 0;
        return _diffraction.Seconds(couplant, order * spacingSeconds);
    }

    /// <summary>Copies the members that cannot be couplant echoes.</summary>
    /// <param name="train">A train.</param>
    public ReadOnlySpan<TrainMember> WallsOf(in TrainHypothesis train)
    {
        int count = 0;
        foreach (TrainMember member in train.Members)
        {
            if (!train.Couplant.Contains(member.Candidate))
                _walls[count++] = member;
        }
        return _walls.AsSpan(0, count);
    }

    /// <summary>The full wall behind a reflector and its repeats, as far as they are seen.</summary>
    /// <param name="context">The A-scan.</param>
    /// <param name="front">The interface.</param>
    /// <param name="fullWall">First echo of the full wall.</param>
    public ReadOnlySpan<TrainMember> RepeatsOf(TrainContext context, int front, int fullWall)
    {
        ArgumentNullException.ThrowIfNull(context);
        EchoRecord record = context.Record;
        double start = record.Candidates[front].PositionSamples;
        double spacing = record.Candidates[fullWall].PositionSamples - start;
        int count = 0;
        _walls[count++] = new TrainMember(1, fullWall);
        for (int order = 2; order <= 5; order++)
        {
            double position = start + order * spacing;
            if (position > record.Length - 1 - record.Scale.PulseHalfWindow)
                break;
            int q = record.Nearest(position);
            if (
                Math.Abs(record.Candidates[q].PositionSamples - position) >= record.Scale.Tolerance
                || q <= _walls[count - 1].Candidate
                || record.Sign(fullWall, q) <= 0
            )
                break;
            _walls[count++] = new TrainMember(order, q);
        }
        return _walls.AsSpan(0, count);
    }

    private void Collect(EchoRecord record, int front, bool useFront, ReadOnlySpan<TrainMember> walls)
    {
        ReadOnlySpan<EchoCandidate> echoes = record.Candidates;
        EchoScale scale = record.Scale;
        Count = 0;
        if (useFront)
            _points[Count++] = new TrainPoint(0, front, EchoDelay.Zero, echoes[front].AmplitudeFraction);
        int reference = useFront ? echoes[front].Sample : echoes[walls[0].Candidate].Sample;
        int reach = (int)(1.2 * scale.PulseSigma) + scale.TimingLags;
        int taken = 0;
        for (int k = 0; k < walls.Length && taken < TrainFit.MaximumPoints - 1; k++)
        {
            (int order, int q) = walls[k];
            if (k > 0 && echoes[q].Sample + reach >= record.Length - 1)
                continue;
            EchoDelay delay =
                k == 0 && !useFront
                    ? EchoDelay.Zero
                    : EchoDelay.Measure(record, reference, echoes[q].Sample, HalfWindow(record, q), useFront ? -1 : 1);
            _points[Count++] = new TrainPoint(order, q, delay, echoes[q].AmplitudeFraction);
            taken++;
        }
    }

    /// <summary>Half window of an echo: a pulse, less where another candidate is near or the record ends.</summary>
    private static int HalfWindow(EchoRecord record, int candidate)
    {
        ReadOnlySpan<EchoCandidate> echoes = record.Candidates;
        EchoScale scale = record.Scale;
        double gap = 1e9;
        if (candidate > 0)
            gap = echoes[candidate].PositionSamples - echoes[candidate - 1].PositionSamples;
        if (candidate + 1 < echoes.Length)
            gap = Math.Min(gap, echoes[candidate + 1].PositionSamples - echoes[candidate].PositionSamples);
        int half = (int)Math.Max(EchoScale.Round(1.2 * scale.PulseSigma), Math.Min(scale.PulseHalfWindow, 0.55 * gap));
        half = Math.Min(half, record.Length - 1 - scale.TimingLags - echoes[candidate].Sample);
        return Math.Max(half, 3);
    }

    private void CorrectDiffraction(EchoRecord record, int front)
    {
        TrainPoint first = _points[0];
        TrainPoint last = _points[Count - 1];
        double spacing =
            (last.Delay.DelaySamples - first.Delay.DelaySamples)
            / (last.Order - first.Order)
            / record.Scale.SampleRateHz;
        for (int k = 0; k < Count; k++)
            _delays[k] =
                _points[k].Delay.DelaySamples
                - (
                    DiffractionSeconds(record, front, _points[k].Order, spacing)
                    + (first.Order == 0 && k > 0 ? ZeroSeconds : 0)
                ) * record.Scale.SampleRateHz;
    }

    /// <summary>Drops the point whose absence straightens the line most, if it lies far off it.</summary>
    /// <returns>Whether a point was dropped.</returns>
    private bool Trim(EchoScale scale)
    {
        if (Count < 4)
            return false;
        Span<double> weights = stackalloc double[Count];
        double strongest = 0;
        for (int k = 1; k < Count; k++)
            strongest = Math.Max(strongest, _points[k].AmplitudeFraction);
        for (int k = 0; k < Count; k++)
        {
            double amplitude = Math.Min(_points[k].AmplitudeFraction, TrainFit.InterfaceWeight * strongest);
            weights[k] = amplitude * amplitude;
        }
        int worst = -1;
        double smallestScatter = double.PositiveInfinity;
        double distance = 0;
        for (int k = 0; k < Count; k++)
        {
            double weight = weights[k];
            weights[k] = 0;
            (double scatter, double off) = LeaveOneOut(weights, k);
            weights[k] = weight;
            if (scatter < smallestScatter)
                (worst, smallestScatter, distance) = (k, scatter, off);
        }
        if (distance <= Math.Max(TrimPeriods * scale.Period, 5 * smallestScatter))
            return false;
        for (int k = worst; k < Count - 1; k++)
        {
            _points[k] = _points[k + 1];
            _delays[k] = _delays[k + 1];
        }
        Count--;
        return true;
    }

    private (double Scatter, double Distance) LeaveOneOut(ReadOnlySpan<double> weights, int left)
    {
        WeightedLine line = WeightedLine.Fit(Points, DelaysSamples, weights);
        double squares = 0;
        for (int k = 0; k < Count; k++)
        {
            double residual = line.Residual(_points[k].Order, _delays[k]);
            squares += weights[k] * residual * residual;
        }
        return (Math.Sqrt(squares / line.Sum), Math.Abs(line.Residual(_points[left].Order, _delays[left])));
    }

    private void Report(EchoScale scale, bool useFront, ref TrainOutcome outcome)
    {
        outcome.FirstOrder = _points[0].Order;
        outcome.LastOrder = _points[Count - 1].Order;
        int first = -1;
        int second = -1;
        for (int k = 0; k < Count; k++)
        {
            if (_points[k].Order == 0)
                continue;
            outcome.WallEchoes++;
            if (first < 0)
                first = k;
            else if (second < 0)
                second = k;
        }
        if (first < 0)
            return;
        outcome.FirstWall = _points[first].Candidate;
        if (useFront && _points[0].Order == 0)
            outcome.InterfaceToWallSeconds = (_delays[first] - _delays[0]) / _points[first].Order / scale.SampleRateHz;
        if (second < 0)
            return;
        outcome.SecondWall = _points[second].Candidate;
        outcome.WallToWallSeconds =
            (_delays[second] - _delays[first]) / (_points[second].Order - _points[first].Order) / scale.SampleRateHz;
    }
}
