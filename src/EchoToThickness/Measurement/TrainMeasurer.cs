using System.Runtime.InteropServices;
using EchoToThickness.Echoes;
using EchoToThickness.Estimation;
using EchoToThickness.Evidence;
using EchoToThickness.Grids;
using EchoToThickness.Pairing;
using EchoToThickness.Procedures;
using EchoToThickness.Signals;
using EchoToThickness.Stacks;
using EchoToThickness.Velocity;

namespace EchoToThickness.Measurement;

/// <summary>Measures by the pairing rule <c>train</c>: the hypothesis about all echoes that explains the A-scan best.</summary>
public sealed class TrainMeasurer : LineMeasurer
{
    private readonly MeasurementPlan _plan;
    private readonly EchoRecord _record;
    private readonly TrainDecider _decider;
    private readonly KernelPath _path;

    /// <summary>Prepares scratch for one thread.</summary>
    /// <param name="plan">The compiled procedure.</param>
    /// <param name="path">Kernel implementation; all give the same bits.</param>
    /// <exception cref="ProcedureException">The stack is rectified, or nobody states its frequency.</exception>
    public TrainMeasurer(MeasurementPlan plan, KernelPath path)
    {
        ArgumentNullException.ThrowIfNull(plan);
        _plan = plan;
        StackInfo stack = plan.Stack;
        Scale = TrainPlan.ScaleOf(plan.Procedure, stack);
        _path = path;
        double quantum = stack.SampleType is SampleType.Float32 or SampleType.Float64
            ? 0
            : 1 / stack.Amplitude.FullScaleCounts;
        _record = new EchoRecord(stack.Shape.Samples, Scale, quantum, _path);
        _decider = new TrainDecider(
            plan.Procedure.Train,
            stack.Shape.Samples,
            Scale,
            TrainPlan.DiffractionOf(plan.Procedure, stack, Scale, plan.Velocity),
            plan.Velocity.ZeroSeconds + plan.Velocity.CoatingSeconds
        );
    }

    /// <inheritdoc/>
    public override string Name => "train";

    /// <summary>Lengths of the echo train in samples.</summary>
    public EchoScale Scale { get; }

    /// <inheritdoc/>
    public override void FindInterfaces(
        in AScanBlock block,
        int firstScan,
        int scanCount,
        int firstBeam,
        int beamCount,
        InterfaceStrip strip
    ) =>
        throw new InvalidOperationException(
            "The train rule does not track interfaces; the plan refuses the combination."
        );

    /// <inheritdoc/>
    public override void Measure(in AScanBlock block, GridTile tile, InterfaceStrip? strip)
    {
        ArgumentNullException.ThrowIfNull(tile);
        int index = 0;
        for (int scan = 0; scan < tile.ScanCount; scan++)
        for (int beam = 0; beam < tile.BeamCount; beam++)
            tile.Set(index++, MeasureCell(block, tile.FirstScan + scan, tile.FirstBeam + beam, null, null));
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
        int row = scan - block.FirstScan;
        int column = beam - block.FirstBeam;
        if (!block.IsPresent(row, column))
            return CellResult.Unmeasured(CellStatus.NotScanned);
        if (!Load(block.AScanBytes(row, column)))
            return CellResult.Unmeasured(CellStatus.InvalidSamples);
        double start = _plan.Stack.TimeBase.StartOf(beam);
        if (trace is not null)
            trace.Raw = _record.Input.ToArray();
        TrainSettings settings = _plan.Procedure.Train;
        _record.Prepare(settings.CandidateLevel, settings.InterfaceFraction);
        TrainOutcome outcome = _decider.Decide(_record, start);
        CellResult result = TrainResult.Build(_plan, _record, _decider, outcome, start);
        if (trace is not null)
            TrainExplanation.Fill(trace, _plan, _record, _decider, outcome, result, scan, beam, start);
        return result;
    }

    private bool Load(ReadOnlySpan<byte> stored)
    {
        StackInfo stack = _plan.Stack;
        StoredSamples.ToFractions(stored, stack.SampleType, stack.Amplitude, _record.Input, _path);
        if (stack.SampleType is not (SampleType.Float32 or SampleType.Float64))
            return true;
        foreach (float sample in _record.Input)
        {
            if (!float.IsFinite(sample))
                return false;
        }
        return true;
    }
}
