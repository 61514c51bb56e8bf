using EchoToThickness.Echoes;
using EchoToThickness.Evidence;
using EchoToThickness.Pairing;
using EchoToThickness.Uncertainty;
using EchoToThickness.Velocity;

namespace EchoToThickness.Measurement;

/// <summary>Turns the outcome of an echo train into a cell: metres, seconds, notes.</summary>
internal static class TrainResult
{
    /// <summary>Longitudinal over shear velocity in steel, for mode conversion when the stack does not state both.</summary>
    private const double SteelVelocityRatio = 5920.0 / 3230.0;

    public static CellResult Build(
        MeasurementPlan plan,
        EchoRecord record,
        TrainDecider decider,
        in TrainOutcome outcome,
        double startSeconds
    )
    {
        CellResult cell = CellResult.Unmeasured(TrainReasons.StatusOf(outcome.Reason));
        ResolvedVelocity velocity = plan.Velocity;
        ReadOnlySpan<EchoCandidate> echoes = record.Candidates;
        if (!outcome.HasTrain)
            return cell;
        double rate = record.Scale.SampleRateHz;
        int front = outcome.Train.Interface;
        if (front >= 0)
        {
            cell.InterfaceSeconds = startSeconds + echoes[front].PositionSamples / rate;
            cell.InterfaceAmplitudeFraction = echoes[front].AmplitudeFraction;
        }
        if (outcome.FirstWall >= 0)
        {
            cell.FirstEchoSeconds = startSeconds + echoes[outcome.FirstWall].PositionSamples / rate;
            cell.FirstEchoAmplitudeFraction = echoes[outcome.FirstWall].AmplitudeFraction;
        }
        if (outcome.SecondWall >= 0)
        {
            cell.SecondEchoSeconds = startSeconds + echoes[outcome.SecondWall].PositionSamples / rate;
            cell.SecondEchoAmplitudeFraction = echoes[outcome.SecondWall].AmplitudeFraction;
        }
        cell.SignalToNoiseDecibels = 20 * Math.Log10(outcome.SignalRatio);
        cell.Margin = double.IsNaN(outcome.RunnerUpSamples) ? 1 : 1 - Math.Exp(-Math.Max(0, outcome.Lead));
        if (!double.IsNaN(outcome.RunnerUpSamples))
            cell.RunnerUpThicknessMetres = velocity.WallToWallMetres(outcome.RunnerUpSamples / rate);
        cell.ReflectorDepthMetres = velocity.WallToWallMetres(outcome.ReflectorSeconds);
        cell.ThicknessInterfaceWallMetres = velocity.WallToWallMetres(outcome.InterfaceToWallSeconds);
        cell.ThicknessWallWallMetres = velocity.WallToWallMetres(outcome.WallToWallSeconds);
        cell.Notes = Notes(record, decider, outcome, plan);
        if (outcome.IsMeasured)
            Measure(plan, outcome, ref cell);
        return cell;
    }

    private static void Measure(MeasurementPlan plan, in TrainOutcome outcome, ref CellResult cell)
    {
        ResolvedVelocity velocity = plan.Velocity;
        double thickness = velocity.WallToWallMetres(outcome.SpacingSeconds);
        cell.EchoCount = (byte)Math.Min(255, outcome.WallEchoes);
        cell.PairedOrders = (byte)(Math.Min(14, outcome.FirstOrder) | Math.Min(14, outcome.LastOrder) << 4);
        if (thickness < plan.Procedure.Wall.MinimumMetres || thickness > plan.Procedure.Wall.MaximumMetres)
        {
            cell.Status = CellStatus.OutsideRange;
            cell.RunnerUpThicknessMetres = thickness;
            return;
        }
        cell.ThicknessMetres = thickness;
        cell.UncertaintyNoiseMetres = velocity.WallToWallMetres(outcome.SpacingUncertaintySeconds);
        AddCalibration(plan, outcome.InterfaceShare, ref cell);
    }

    /// <summary>Adds the calibration part to a thickness whose noise part is known.</summary>
    public static void AddCalibration(MeasurementPlan plan, double interfaceShare, ref CellResult cell)
    {
        cell.UncertaintyCalibrationMetres = plan.Uncertainty.CalibrationMetres(cell.ThicknessMetres, interfaceShare);
        cell.UncertaintyMetres = UncertaintyModel.CombinedMetres(
            cell.UncertaintyNoiseMetres,
            cell.UncertaintyCalibrationMetres
        );
    }

    /// <summary>Keeps what neighbours may ask for.</summary>
    public static void Keep(EchoRecord record, in TrainOutcome outcome, double startSeconds, ref CellEvidence evidence)
    {
        ReadOnlySpan<EchoCandidate> echoes = record.Candidates;
        double rate = record.Scale.SampleRateHz;
        int front = outcome.Train.Interface;
        evidence.InterfaceSeconds = startSeconds + echoes[front].PositionSamples / rate;
        evidence.InterfaceAmplitudeFraction = echoes[front].AmplitudeFraction;
        evidence.NoiseFraction = record.NoiseFraction;
        evidence.QuietFraction = record.QuietFraction;
        for (int q = 0; q < echoes.Length; q++)
            evidence.Add(
                new EchoEvidence(
                    startSeconds + echoes[q].PositionSamples / rate,
                    (float)echoes[q].AmplitudeFraction,
                    outcome.Train.Walls.Contains(q)
                )
            );
    }

    private static CellNotes Notes(
        EchoRecord record,
        TrainDecider decider,
        in TrainOutcome outcome,
        MeasurementPlan plan
    )
    {
        ReadOnlySpan<EchoCandidate> echoes = record.Candidates;
        TrainHypothesis train = outcome.Train;
        CellNotes notes = CellNotes.None;
        int front = train.Interface;
        if (front < 0)
            notes |= CellNotes.WithoutInterface;
        else if (decider.Context.IsClipped(front))
            notes |= CellNotes.InterfaceSaturated;
        if (decider.Context.CoatingSamples > 0 || (front >= 0 && outcome.ChiSquare > 9))
            notes |= CellNotes.CoatingSuspected;
        if (outcome.IsMeasured && outcome.WallEchoes == 1)
            notes |= CellNotes.SingleEcho;
        if (outcome.FirstWall >= 0)
        {
            if (record.IsClipped(outcome.FirstWall))
                notes |= CellNotes.BackWallSaturated;
            if (front >= 0 && record.Sign(front, outcome.FirstWall) > 0)
                notes |= CellNotes.PolarityUnexpected;
        }
        foreach (TrainMember member in train.Members)
        {
            for (int q = 0; q < echoes.Length; q++)
            {
                if (
                    train.Couplant.Contains(q)
                    && Math.Abs(echoes[q].PositionSamples - echoes[member.Candidate].PositionSamples)
                        < 3 * record.Scale.Period
                )
                    notes |= CellNotes.CouplantMultipleNear;
            }
        }
        double runnerUp = outcome.RunnerUpSamples / train.SpacingSamples;
        double tolerance = record.Scale.Tolerance / train.SpacingSamples;
        if (Math.Abs(runnerUp - 2) < 2 * tolerance)
            notes |= CellNotes.DoubledWallRejected;
        else if (Math.Abs(runnerUp - 0.5) < tolerance)
            notes |= CellNotes.HalvedWallRejected;
        if (front >= 0 && HasModeConversion(record, train, plan))
            notes |= CellNotes.ModeConvertedEcho;
        return notes;
    }

    /// <summary>An echo at one leg longitudinal, one leg shear: (1 + c_L / c_S) / 2 times the wall.</summary>
    private static bool HasModeConversion(EchoRecord record, in TrainHypothesis train, MeasurementPlan plan)
    {
        ReadOnlySpan<EchoCandidate> echoes = record.Candidates;
        double ratio = plan.Stack.Acquisition.ShearVelocityMetresPerSecond is { } shear
            ? plan.Velocity.MetresPerSecond / shear
            : SteelVelocityRatio;
        double position = echoes[train.Interface].PositionSamples + 0.5 * (1 + ratio) * train.SpacingSamples;
        int q = record.Nearest(position);
        return train.Walls.Contains(q)
            && !train.MemberSet.Contains(q)
            && Math.Abs(echoes[q].PositionSamples - position) < record.Scale.Tolerance;
    }
}
