using EchoToThickness.Conditioning;
using EchoToThickness.Evidence;
using EchoToThickness.Gating;
using EchoToThickness.Grids;
using EchoToThickness.InterfaceSync;
using EchoToThickness.Pairing;
using EchoToThickness.Procedures;
using EchoToThickness.Signals;
using EchoToThickness.Stacks;

namespace EchoToThickness.Measurement;

/// <summary>
/// The general gate engine: every setting of conditioning, interface, gates and pairing for the rules
/// <see cref="PairingRule.Difference"/> and <see cref="PairingRule.Agreement"/>. Faster measurers take subsets of these settings and give the
/// same answers. Exact definitions: docs/gating.md.
/// </summary>
public sealed class GateMeasurer : LineMeasurer
{
    private readonly MeasurementPlan _plan;
    private readonly AScanConditioner _conditioner;
    private readonly InterfaceFinder _finder;
    private readonly GateEvaluator _gates;
    private readonly GatePairing _pairing;
    private readonly GateUncertainty _uncertainty;

    /// <summary>Prepares one thread's measurer.</summary>
    /// <param name="plan">The plan; its procedure pairs by 'difference' or 'agreement'.</param>
    /// <param name="path">Implementation of the kernels; null for the fastest. All give the same picks.</param>
    /// <exception cref="ProcedureException">Another pairing rule, or settings that contradict each other or the stack.</exception>
    public GateMeasurer(MeasurementPlan plan, KernelPath? path = null)
    {
        ArgumentNullException.ThrowIfNull(plan);
        if (!Accepts(plan))
            throw new ProcedureException(
                "The gate measurer pairs gated echoes; the rule \"train\" does not.",
                "pairing.rule",
                "write rule = \"difference\" or \"agreement\"."
            );
        Procedure procedure = plan.Procedure;
        ProcedureCheck.ThrowIfInconsistent(procedure);
        _plan = plan;
        _conditioner = new AScanConditioner(plan.Stack, procedure.Conditioning, path);
        _finder = new InterfaceFinder(plan.Stack, procedure.Interface, _conditioner);
        _gates = new GateEvaluator(plan.Stack, procedure.Gates, plan.Velocity.MetresPerSecond, _conditioner);
        _pairing = new GatePairing(procedure, plan.Stack, plan.Velocity, _conditioner, _gates);
        _uncertainty = new GateUncertainty(plan, _conditioner, _finder, _gates, _pairing);
    }

    /// <inheritdoc/>
    public override string Name => "gates";

    /// <summary>Scan positions on either side of a cell that the running average needs in a block (within the stack).</summary>
    public int HaloScans => _conditioner.HaloScans;

    /// <summary>Beams on either side of a cell that the running average needs in a block (within the stack).</summary>
    public int HaloBeams => _conditioner.HaloBeams;

    /// <summary>Whether the engine measures by a plan's pairing rule.</summary>
    /// <param name="plan">A plan.</param>
    public static bool Accepts(MeasurementPlan plan)
    {
        ArgumentNullException.ThrowIfNull(plan);
        return plan.Procedure.Pairing.Rule is PairingRule.Difference or PairingRule.Agreement;
    }

    /// <inheritdoc/>
    public override void FindInterfaces(
        in AScanBlock block,
        int firstScan,
        int scanCount,
        int firstBeam,
        int beamCount,
        InterfaceStrip strip
    )
    {
        ArgumentNullException.ThrowIfNull(strip);
        Span<InterfaceCandidate> kept = stackalloc InterfaceCandidate[InterfaceStrip.CandidatesPerCell];
        for (int scan = firstScan; scan < firstScan + scanCount; scan++)
        {
            for (int beam = firstBeam; beam < firstBeam + beamCount; beam++)
            {
                int count =
                    _conditioner.Condition(block, scan, beam) == AScanCondition.Ready
                        ? Candidates(_finder, beam, kept)
                        : 0;
                strip.SetCandidates(scan, beam, kept[..count]);
            }
        }
    }

    /// <summary>The interface candidates of the A-scan in the conditioner, as a strip keeps them.</summary>
    internal static int Candidates(InterfaceFinder finder, int beam, Span<InterfaceCandidate> kept)
    {
        int count = 0;
        foreach (InterfaceEcho echo in finder.FindCandidates(beam))
            kept[count++] = new InterfaceCandidate(
                (float)echo.Echo.Seconds,
                echo.Echo.Run.AmplitudeFraction,
                echo.Score
            );
        return count;
    }

    /// <inheritdoc/>
    public override void Measure(in AScanBlock block, GridTile tile, InterfaceStrip? strip)
    {
        ArgumentNullException.ThrowIfNull(tile);
        int index = 0;
        for (int scan = tile.FirstScan; scan < tile.FirstScan + tile.ScanCount; scan++)
        {
            for (int beam = tile.FirstBeam; beam < tile.FirstBeam + tile.BeamCount; beam++)
                tile.Set(index++, MeasureCell(block, scan, beam, strip, null));
        }
    }

    /// <inheritdoc/>
    public override CellResult MeasureCell(
        in AScanBlock block,
        int scan,
        int beam,
        InterfaceStrip? strip,
        MeasurementTrace? trace
    )
    {
        AScanCondition condition = _conditioner.Condition(block, scan, beam);
        if (condition != AScanCondition.Ready)
        {
            CellResult unmeasured = CellResult.Unmeasured(
                condition == AScanCondition.NotScanned ? CellStatus.NotScanned : CellStatus.InvalidSamples
            );
            if (trace is not null)
                GateTracer.Record(trace, _plan, _conditioner, scan, beam, unmeasured);
            return unmeasured;
        }
        InterfaceEcho found = strip is null
            ? _finder.Find(beam)
            : _finder.Take(beam, strip.ChosenSeconds(scan, beam), strip.IsTracked(scan, beam));
        ReadOnlySpan<GateOutcome> outcomes = _gates.Evaluate(beam, found);
        CellResult cell = _pairing.Pair(found, outcomes);
        _uncertainty.Fill(found, outcomes, ref cell);
        if (trace is not null)
        {
            GateTracer.Record(trace, _plan, _conditioner, scan, beam, cell);
            GateTracer.RecordEchoes(trace, _plan, _conditioner, _finder, _gates, _pairing, found, outcomes, cell);
        }
        return cell;
    }
}
