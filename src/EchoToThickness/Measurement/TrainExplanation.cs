using System.Globalization;
using EchoToThickness.Echoes;
using EchoToThickness.Estimation;
using EchoToThickness.Pairing;

namespace EchoToThickness.Measurement;

/// <summary>Tells, for people, how the train rule came to its result.</summary>
internal static class TrainExplanation
{
    public static void Fill(
        MeasurementTrace trace,
        MeasurementPlan plan,
        EchoRecord record,
        TrainDecider decider,
        in TrainOutcome outcome,
        in CellResult result,
        int scan,
        int beam,
        double startSeconds
    )
    {
        double rate = record.Scale.SampleRateHz;
        trace.Scan = scan;
        trace.Beam = beam;
        trace.SampleRateHz = rate;
        trace.StartSeconds = startSeconds;
        trace.Signal = record.Real.ToArray();
        trace.Envelope = record.Envelope.ToArray();
        trace.NoiseFraction = record.NoiseFraction;
        trace.CandidateLevelFraction = record.CandidateLevelFraction;
        trace.Result = result;
        trace.Say(
            "conditioning",
            Text(
                $"filtered about {record.Scale.FrequencyHz / 1e6:0.##} MHz; noise {100 * record.NoiseFraction:0.000} % of full scale; {record.Count} candidate echoes over {100 * record.CandidateLevelFraction:0.000} %"
            )
        );
        ReadOnlySpan<EchoCandidate> echoes = record.Candidates;
        int front = outcome.HasTrain ? outcome.Train.Interface : TrainHypothesis.NoInterface;
        if (front >= 0)
        {
            trace.Interface = new InterfaceTrace
            {
                Seconds = result.InterfaceSeconds,
                AmplitudeFraction = result.InterfaceAmplitudeFraction,
                LevelFraction = record.InterfaceLevelFraction,
                SearchStartSeconds = plan.Procedure.Interface.SearchStartSeconds ?? startSeconds,
                SearchEndSeconds = plan.Procedure.Interface.SearchEndSeconds ?? startSeconds + record.Length / rate,
            };
            trace.Say(
                "interface",
                Text(
                    $"first candidate of at least {100 * plan.Procedure.Train.InterfaceFraction:0} % of the strongest: {1e6 * result.InterfaceSeconds:0.000} us, {100 * result.InterfaceAmplitudeFraction:0.0} % of full scale"
                ) + (decider.Context.IsClipped(front) ? ", cut off at the rails" : "")
            );
            if (decider.Context.CoatingSamples > 0)
                trace.Say(
                    "interface",
                    Text(
                        $"two fronts {1e6 * decider.Context.CoatingSamples / rate:0.000} us apart with one polarity: a coating; only wall-to-wall spacing is timed"
                    )
                );
        }
        else if (outcome.HasTrain)
            trace.Say("interface", "no interface echo in the record; the first strong echo is itself a back wall");
        Echoes(trace, record, decider, outcome, startSeconds);
        Hypotheses(trace, plan, record, decider);
        Timing(trace, plan, record, decider, outcome);
        trace.Say("decision", TrainReasons.Describe(outcome.Reason));
    }

    private static void Echoes(
        MeasurementTrace trace,
        EchoRecord record,
        TrainDecider decider,
        in TrainOutcome outcome,
        double startSeconds
    )
    {
        ReadOnlySpan<EchoCandidate> echoes = record.Candidates;
        double rate = record.Scale.SampleRateHz;
        TrainHypothesis train = outcome.Train;
        int front = outcome.HasTrain ? train.Interface : TrainHypothesis.NoInterface;
        int reference =
            front >= 0 ? front
            : outcome.HasTrain ? train.Reference
            : -1;
        for (int q = 0; q < echoes.Length; q++)
        {
            double sign = reference >= 0 ? record.Sign(reference, q) : 0;
            trace.Echoes.Add(
                new EchoTrace(
                    startSeconds + echoes[q].PositionSamples / rate,
                    echoes[q].AmplitudeFraction,
                    sign > 0.3 ? 1
                        : sign < -0.3 ? -1
                        : 0,
                    Width(record, echoes[q]) / rate,
                    20 * Math.Log10(echoes[q].AmplitudeFraction / record.NoiseFraction),
                    Role(outcome, q),
                    outcome.IsMeasured && IsTimed(decider, outcome, q)
                )
            );
        }
    }

    /// <summary>Whether the wall rests on a candidate: the points of the fit, or the first wall of a whole-record search.</summary>
    private static bool IsTimed(TrainDecider decider, in TrainOutcome outcome, int candidate)
    {
        if (outcome.Reason == TrainReason.CoherentComb)
            return candidate == outcome.Train.Interface || candidate == outcome.FirstWall;
        foreach (TrainPoint point in decider.Timing.Points)
        {
            if (point.Candidate == candidate)
                return true;
        }
        return false;
    }

    private static string Role(in TrainOutcome outcome, int candidate)
    {
        if (!outcome.HasTrain)
            return "not explained";
        TrainHypothesis train = outcome.Train;
        if (candidate == train.Interface)
            return "interface";
        if (outcome.Reason == TrainReason.FullWallBehindReflector)
        {
            if (candidate == outcome.FirstWall)
                return "back-wall echo 1";
            if (candidate == outcome.SecondWall)
                return "back-wall echo 2";
        }
        foreach (TrainMember member in train.Members)
        {
            if (member.Candidate == candidate)
                return outcome.Reason == TrainReason.FullWallBehindReflector
                    ? $"laminar reflector echo {member.Order}"
                    : $"back-wall echo {member.Order}";
        }
        if (train.Couplant.Contains(candidate))
            return "couplant multiple";
        return train.Walls.Contains(candidate) ? "not explained" : "scatter or ring-down";
    }

    private static void Hypotheses(
        MeasurementTrace trace,
        MeasurementPlan plan,
        EchoRecord record,
        TrainDecider decider
    )
    {
        double rate = record.Scale.SampleRateHz;
        for (int rank = 0; rank < Math.Min(6, decider.Search.Count); rank++)
        {
            TrainHypothesis train = decider.Search[rank];
            trace.Hypotheses.Add(
                new HypothesisTrace(
                    train.Interface < 0
                        ? $"wall to wall, {train.MemberCount} echoes"
                        : $"interface and {train.MemberCount} back-wall echo{(train.MemberCount == 1 ? "" : "es")}, the first of order {train.First.Order}",
                    plan.Velocity.WallToWallMetres(train.SpacingSamples / rate),
                    train.Score,
                    Text(
                        $"explains {train.Support:0.00}, expected and missing {train.Missing:0.00}, unexplained in front {train.Early:0.00} and behind {train.Late:0.00}"
                    )
                )
            );
        }
    }

    private static void Timing(
        MeasurementTrace trace,
        MeasurementPlan plan,
        EchoRecord record,
        TrainDecider decider,
        in TrainOutcome outcome
    )
    {
        if (!outcome.IsMeasured)
            return;
        Joint(trace, decider, outcome);
        if (outcome.Reason == TrainReason.CoherentComb)
            return;
        foreach (TrainPoint point in decider.Timing.Points)
        {
            if (point.Delay.DelaySamples == 0)
                continue;
            trace.Say(
                "timing",
                (point.Order == 0 ? "interface" : $"back-wall echo {point.Order}")
                    + Text(
                        $": {1e6 * point.Delay.DelaySamples / record.Scale.SampleRateHz:0.0000} us after the reference echo, coherence {point.Delay.Coherence:0.000}"
                    )
            );
        }
        trace.Say(
            "timing",
            Text(
                $"{decider.Timing.Count} echoes timed; evenness (chi-square) {outcome.ChiSquare:0.0}{(decider.Timing.JointEchoes > 0 ? "" : ", and their line gives the spacing")}"
            )
        );
    }

    private static void Joint(MeasurementTrace trace, TrainDecider decider, in TrainOutcome outcome)
    {
        int echoes = decider.Timing.JointEchoes;
        trace.Say(
            "timing",
            Text($"spacing {1e6 * outcome.SpacingSeconds:0.00000} us")
                + (echoes > 0 ? $" by the joint likelihood of interface and {echoes} multiples in the record" : "")
        );
    }

    /// <summary>Width of the envelope at half height, samples.</summary>
    private static double Width(EchoRecord record, EchoCandidate echo)
    {
        ReadOnlySpan<float> envelope = record.Envelope;
        float half = (float)(0.5 * echo.AmplitudeFraction);
        int low = echo.Sample;
        while (low > 0 && envelope[low] > half)
            low--;
        int high = echo.Sample;
        while (high < envelope.Length - 1 && envelope[high] > half)
            high++;
        return high - low;
    }

    private static string Text(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
