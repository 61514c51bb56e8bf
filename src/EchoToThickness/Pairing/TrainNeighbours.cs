using System.Numerics.Tensors;
using EchoToThickness.Evidence;
using EchoToThickness.Procedures;

namespace EchoToThickness.Pairing;

/// <summary>
/// Lets true neighbours along the beam axis refuse a wall that only a weak echo supports, or supply one where a weak echo fits theirs.
/// A cell with clear evidence of its own is never overruled, and laminar cells are never touched.
/// </summary>
public static class TrainNeighbours
{
    /// <summary>Cells on either side that count.</summary>
    public const int Reach = 2;

    /// <summary>Cells on either side among which the strongest sound wall is looked for.</summary>
    public const int LineReach = 6;

    /// <summary>Peak-to-noise ratio from which a single echo is clear evidence: 20 dB over the quiet level.</summary>
    private const double ClearSingleDecibels = 17.5;

    private const double WeakestSuppliedDecibels = -40;

    /// <summary>Applies the rules to one cell.</summary>
    /// <param name="line">Shape [beam]: cells of one scan line before any neighbour was asked, in order.</param>
    /// <param name="at">Index of the cell.</param>
    /// <param name="settings">Settings of the procedure.</param>
    /// <param name="wavelengthMetres">Wavelength in the metal.</param>
    /// <param name="metresPerSecond">Wall per second of round trip (half the velocity).</param>
    /// <param name="pulseSigmaSeconds">Standard deviation of the pulse's envelope, for the uncertainty of an envelope depth.</param>
    /// <param name="result">The cell's own result; takes the change.</param>
    /// <param name="reason">Which rule decided; takes the change.</param>
    /// <returns>Whether neighbours changed the cell.</returns>
    public static bool Apply(
        ReadOnlySpan<TrainCell> line,
        int at,
        TrainSettings settings,
        double wavelengthMetres,
        double metresPerSecond,
        double pulseSigmaSeconds,
        ref CellResult result,
        ref TrainReason reason
    )
    {
        ArgumentNullException.ThrowIfNull(settings);
        Span<double> solid = stackalloc double[2 * Reach];
        Span<double> measured = stackalloc double[2 * Reach];
        int solidCount = 0;
        int measuredCount = 0;
        for (int k = Math.Max(0, at - Reach); k <= Math.Min(line.Length - 1, at + Reach); k++)
        {
            if (k == at || !line[k].IsMeasured)
                continue;
            measured[measuredCount++] = line[k].Result.ThicknessMetres;
            if (IsSolid(line[k]))
                solid[solidCount++] = line[k].Result.ThicknessMetres;
        }
        measured = measured[..measuredCount];
        solid = solid[..solidCount];
        ref readonly TrainCell cell = ref line[at];
        if (cell.IsMeasured)
        {
            if (measuredCount < 2)
                return false;
            TrainReason? refusal =
                IsSkippedWall(cell, measured) ? TrainReason.ThickerThanNeighbours
                : IsUnresolvedPit(line, at, measured, settings, wavelengthMetres) ? TrainReason.UnresolvedPit
                : null;
            if (refusal is not { } why)
                return false;
            Refuse(ref result, why);
            reason = why;
            return true;
        }
        if (
            solidCount < 2
            || !cell.HasTrain
            || cell.Result.Status is CellStatus.AmbiguousPairing or CellStatus.LaminarReflector
        )
            return false;
        int echo =
            settings.Expect == TrainExpectation.Pits
                ? FindThinnerEcho(cell.Evidence, solid, metresPerSecond, wavelengthMetres)
                : FindEchoLikeNeighbours(cell.Evidence, solid, metresPerSecond);
        if (echo < 0)
            return false;
        Supply(ref result, cell.Evidence, echo, metresPerSecond, pulseSigmaSeconds);
        reason = TrainReason.SuppliedByNeighbours;
        return true;
    }

    /// <summary>Clear evidence of its own: a train of several echoes, a coherent comb, or one strong echo.</summary>
    private static bool IsSolid(in TrainCell cell) =>
        cell.Reason
            is TrainReason.Train
                or TrainReason.WallToWall
                or TrainReason.EarlyReflector
                or TrainReason.CoherentComb
        && (!cell.IsSingle || cell.Result.SignalToNoiseDecibels > ClearSingleDecibels);

    /// <summary>On weak evidence, a quarter thicker than the neighbours' median and like none of them.</summary>
    private static bool IsSkippedWall(in TrainCell cell, Span<double> measured)
    {
        if (IsSolid(cell))
            return false;
        double wall = cell.Result.ThicknessMetres;
        foreach (double other in measured)
        {
            if (Math.Abs(other / wall - 1) < 0.1)
                return false;
        }
        return wall > 1.25 * Median(measured);
    }

    /// <summary>Where pits are expected: a lone weak echo a fraction of a wavelength in front of the neighbours' wall mixes both.</summary>
    private static bool IsUnresolvedPit(
        ReadOnlySpan<TrainCell> line,
        int at,
        ReadOnlySpan<double> measured,
        TrainSettings settings,
        double wavelengthMetres
    )
    {
        ref readonly TrainCell cell = ref line[at];
        if (settings.Expect != TrainExpectation.Pits || !cell.IsSingle)
            return false;
        double strongest = double.NegativeInfinity;
        for (int k = Math.Max(0, at - LineReach); k <= Math.Min(line.Length - 1, at + LineReach); k++)
        {
            if (!double.IsNaN(line[k].Result.ThicknessMetres))
                strongest = Math.Max(strongest, line[k].RelativeDecibels);
        }
        double thinner = (TensorPrimitives.Max<double>(measured) - cell.Result.ThicknessMetres) / wavelengthMetres;
        return thinner is > 0.2 and < 0.75 && cell.RelativeDecibels < strongest - 4;
    }

    /// <summary>First wall-like echo thinner than the neighbours, if it is not much weaker than the strongest.</summary>
    private static int FindThinnerEcho(
        in CellEvidence evidence,
        ReadOnlySpan<double> solid,
        double metresPerSecond,
        double wavelengthMetres
    )
    {
        double thickest = TensorPrimitives.Max<double>(solid);
        double strongest = 0;
        for (int q = 0; q < evidence.Count; q++)
        {
            if (evidence[q].MayBeWall)
                strongest = Math.Max(strongest, evidence[q].AmplitudeFraction);
        }
        for (int q = 0; q < evidence.Count; q++)
        {
            double depth = Depth(evidence, q, metresPerSecond);
            if (!IsUsable(evidence, q, 6) || depth >= 0.9 * thickest || depth <= 2.2 * wavelengthMetres)
                continue;
            return evidence[q].AmplitudeFraction >= 0.5011872336272722 * strongest ? q : -1;
        }
        return -1;
    }

    /// <summary>The strongest wall-like echo at the neighbours' depth, unless a clearly stronger one lies elsewhere.</summary>
    private static int FindEchoLikeNeighbours(
        in CellEvidence evidence,
        ReadOnlySpan<double> solid,
        double metresPerSecond
    )
    {
        double thinnest = TensorPrimitives.Min<double>(solid);
        double thickest = TensorPrimitives.Max<double>(solid);
        int best = -1;
        for (int q = 0; q < evidence.Count; q++)
        {
            double depth = Depth(evidence, q, metresPerSecond);
            if (
                IsUsable(evidence, q, 4)
                && depth >= 0.93 * thinnest
                && depth <= 1.07 * thickest
                && (best < 0 || evidence[q].AmplitudeFraction > evidence[best].AmplitudeFraction)
            )
                best = q;
        }
        if (best < 0)
            return -1;
        for (int q = 0; q < evidence.Count; q++)
        {
            double depth = Depth(evidence, q, metresPerSecond);
            if (
                evidence[q].MayBeWall
                && depth > 0.3 * thinnest
                && depth < 1.3 * thickest
                && evidence[q].AmplitudeFraction > 1.3 * evidence[best].AmplitudeFraction
            )
                return -1;
        }
        return best;
    }

    private static bool IsUsable(in CellEvidence evidence, int echo, double ratio) =>
        evidence[echo].MayBeWall
        && evidence[echo].AmplitudeFraction >= ratio * evidence.QuietFraction
        && 20 * Math.Log10(evidence[echo].AmplitudeFraction / evidence.InterfaceAmplitudeFraction)
            >= WeakestSuppliedDecibels;

    private static double Depth(in CellEvidence evidence, int echo, double metresPerSecond) =>
        (evidence[echo].Seconds - evidence.InterfaceSeconds) * metresPerSecond;

    internal static void Refuse(ref CellResult result, TrainReason reason)
    {
        result.Status = TrainReasons.StatusOf(reason);
        result.RunnerUpThicknessMetres = result.ThicknessMetres;
        result.ThicknessMetres = double.NaN;
        result.UncertaintyMetres = double.NaN;
        result.UncertaintyNoiseMetres = double.NaN;
        result.UncertaintyCalibrationMetres = double.NaN;
        result.PairedOrders = CellResult.NoPair;
        result.EchoCount = 0;
    }

    /// <summary>The wall from the envelope of a weak echo; the caller adds the calibration part.</summary>
    private static void Supply(
        ref CellResult result,
        in CellEvidence evidence,
        int echo,
        double metresPerSecond,
        double pulseSigmaSeconds
    )
    {
        double ratio = evidence[echo].AmplitudeFraction / evidence.NoiseFraction;
        result.Status = CellStatus.Measured;
        result.Notes |= CellNotes.SingleEcho | CellNotes.SuppliedByNeighbours;
        result.ThicknessMetres = Depth(evidence, echo, metresPerSecond);
        result.UncertaintyNoiseMetres = metresPerSecond * pulseSigmaSeconds / ratio;
        result.FirstEchoSeconds = evidence[echo].Seconds;
        result.FirstEchoAmplitudeFraction = evidence[echo].AmplitudeFraction;
        result.SecondEchoSeconds = double.NaN;
        result.SecondEchoAmplitudeFraction = double.NaN;
        result.ThicknessInterfaceWallMetres = result.ThicknessMetres;
        result.SignalToNoiseDecibels = 20 * Math.Log10(ratio);
        result.PairedOrders = 1 << 4;
        result.EchoCount = 1;
    }

    private static double Median(Span<double> values)
    {
        values.Sort();
        int middle = values.Length / 2;
        return values.Length % 2 == 1 ? values[middle] : 0.5 * (values[middle - 1] + values[middle]);
    }
}
