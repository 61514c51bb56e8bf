using EchoToThickness.Echoes;
using EchoToThickness.Estimation;
using EchoToThickness.Pairing;

namespace EchoToThickness.Measurement;

/// <summary>Turns the estimate of one record into a cell.</summary>
internal static class EstimatorResult
{
    /// <summary>Fills thickness, uncertainty, echoes and notes of a cell whose interface is known.</summary>
    /// <param name="plan">The plan.</param>
    /// <param name="record">The record.</param>
    /// <param name="timing">Corrections of the train rule.</param>
    /// <param name="front">Candidate of the interface.</param>
    /// <param name="estimate">The estimate.</param>
    /// <param name="startSeconds">Time of sample 0.</param>
    /// <param name="cell">Changed.</param>
    public static void Fill(
        MeasurementPlan plan,
        EchoRecord record,
        TrainTiming timing,
        int front,
        in SpacingEstimate estimate,
        double startSeconds,
        ref CellResult cell
    )
    {
        EchoCandidate interfaceEcho = record.Candidates[front];
        double rate = record.Scale.SampleRateHz;
        cell.InterfaceSeconds = startSeconds + interfaceEcho.PositionSamples / rate;
        cell.InterfaceAmplitudeFraction = interfaceEcho.AmplitudeFraction;
        (cell.ThicknessMetres, cell.UncertaintyMetres) = (double.NaN, double.NaN);
        (cell.UncertaintyNoiseMetres, cell.UncertaintyCalibrationMetres) = (double.NaN, double.NaN);
        (cell.PairedOrders, cell.EchoCount) = (CellResult.NoPair, 0);
        if (!estimate.Found)
        {
            cell.Status = CellStatus.NoBackWallEcho;
            return;
        }
        cell.SignalToNoiseDecibels = 20 * Math.Log10(estimate.SignalRatio);
        cell.FirstEchoSeconds = cell.InterfaceSeconds + estimate.SpacingSamples / rate;
        cell.FirstEchoAmplitudeFraction = estimate.WallFraction;
        if (estimate.SignalRatio < plan.Procedure.Estimation.WeakestRatio)
        {
            cell.Status = CellStatus.LowSignalToNoise;
            return;
        }
        double seconds = estimate.SpacingSamples / rate;
        double thickness = plan.Velocity.WallToWallMetres(
            seconds - Correction(record, timing, front, estimate, seconds)
        );
        double rival = plan.Velocity.WallToWallMetres(estimate.RivalSamples / rate);
        if (!double.IsNaN(rival))
            (cell.RunnerUpThicknessMetres, cell.Margin) = (rival, 1 - estimate.RivalShare);
        if (thickness < plan.Procedure.Wall.MinimumMetres || thickness > plan.Procedure.Wall.MaximumMetres)
        {
            cell.Status = CellStatus.OutsideRange;
            cell.RunnerUpThicknessMetres = thickness;
            return;
        }
        if (cell.Status != CellStatus.LaminarReflector)
            cell.Status = CellStatus.Measured;
        cell.ThicknessMetres = thickness;
        cell.PairedOrders = (byte)(Math.Min(14, estimate.FirstOrder) | Math.Min(14, estimate.LastOrder) << 4);
        cell.EchoCount = (byte)Math.Min(255, estimate.LastOrder - Math.Max(0, estimate.FirstOrder - 1));
        if (cell.EchoCount == 1)
            cell.Notes |= CellNotes.SingleEcho;
        if (estimate.FirstOrder == 0 && estimate.LastOrder == 1)
            cell.ThicknessInterfaceWallMetres = thickness;
        double uncertainty = EstimatorSpread
            .Of(plan.Procedure.Estimation.Method)
            .Uncertainty(estimate.BoundSamples, record.Scale.Period);
        cell.UncertaintyNoiseMetres = plan.Velocity.WallToWallMetres(uncertainty / rate);
        TrainResult.AddCalibration(plan, InterfaceShare(estimate), ref cell);
    }

    /// <summary>
    /// What zero offset, coating and diffraction add to the estimated spacing: the slope over order of what they add to each echo's time, weights
    /// the squared amplitudes, anchored at the interface or, from wall to wall, free.
    /// </summary>
    private static double Correction(
        EchoRecord record,
        TrainTiming timing,
        int front,
        in SpacingEstimate estimate,
        double spacingSeconds
    )
    {
        bool anchored = estimate.FirstOrder == 0;
        double atInterface = timing.DiffractionSeconds(record, front, 0, spacingSeconds);
        double sum = 0;
        double orders = 0;
        double squares = 0;
        double delays = 0;
        double cross = 0;
        double weight = 1;
        for (int n = 1; n <= estimate.LastOrder; n++, weight *= estimate.Decay * estimate.Decay)
        {
            double delay =
                timing.DiffractionSeconds(record, front, n, spacingSeconds)
                - atInterface
                + (anchored ? timing.ZeroSeconds : 0);
            sum += weight;
            orders += weight * n;
            squares += weight * n * n;
            delays += weight * delay;
            cross += weight * n * delay;
        }
        return anchored ? cross / squares : (cross - orders * delays / sum) / (squares - orders * orders / sum);
    }

    /// <summary>How much a common shift of all walls against the interface changes the spacing.</summary>
    private static double InterfaceShare(in SpacingEstimate estimate)
    {
        if (estimate.FirstOrder > 0)
            return 0;
        double orders = 0;
        double squares = 0;
        double weight = 1;
        for (int n = 1; n <= estimate.LastOrder; n++, weight *= estimate.Decay * estimate.Decay)
        {
            orders += weight * n;
            squares += weight * n * n;
        }
        return orders / squares;
    }
}
