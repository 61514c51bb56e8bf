using EchoToThickness.Echoes;
using EchoToThickness.Estimation;
using EchoToThickness.Evidence;
using EchoToThickness.Grids;
using EchoToThickness.Pairing;
using EchoToThickness.Procedures;
using EchoToThickness.Signals;
using EchoToThickness.Stacks;

namespace EchoToThickness.Measurement;

/// <summary>
/// Measures by a member of the estimator family (<c>[estimation] method</c>): the interface from the train rule, the range of walls from the train
/// rule's decision or from <c>[wall]</c>, the wall from the estimator. Neighbours take no part.
/// </summary>
public sealed class EstimatorMeasurer : LineMeasurer
{
    private readonly MeasurementPlan _plan;
    private readonly EchoRecord _record;
    private readonly TrainDecider _decider;
    private readonly EstimationWorkspace _workspace;
    private readonly IThicknessEstimator _estimator;
    private readonly KernelPath _path;
    private readonly double _lowSamples;
    private readonly double _highSamples;

    /// <summary>Prepares scratch for one thread.</summary>
    /// <param name="plan">The compiled procedure; its estimation method is not <see cref="EstimationMethod.Train"/>.</param>
    /// <param name="path">Kernel implementation; all give the same bits.</param>
    /// <exception cref="ProcedureException">The stack is rectified, or nobody states its frequency.</exception>
    public EstimatorMeasurer(MeasurementPlan plan, KernelPath path)
        : this(plan, path, null, null) { }

    /// <summary>The same with a record and a decider that measurers of other plans use too.</summary>
    internal EstimatorMeasurer(MeasurementPlan plan, KernelPath path, EchoRecord? record, TrainDecider? decider)
    {
        ArgumentNullException.ThrowIfNull(plan);
        _plan = plan;
        _path = path;
        StackInfo stack = plan.Stack;
        EstimationSettings settings = plan.Procedure.Estimation;
        EchoScale scale = TrainPlan.ScaleOf(plan.Procedure, stack);
        _record = record ?? TrainPlan.RecordOf(plan, path);
        double zero = plan.Velocity.ZeroSeconds + plan.Velocity.CoatingSeconds;
        _decider = decider ?? TrainPlan.DeciderOf(plan);
        _estimator = EstimatorFamily.Create(settings);
        _workspace = new EstimationWorkspace(
            stack.Shape.Samples,
            scale,
            settings.Reference,
            [.. settings.CalibrationEcho]
        );
        double samplesPerMetre = scale.SampleRateHz / plan.Velocity.WallToWallMetres(1);
        // Nearer than three pulse deviations an echo lies in the interface's own.
        _lowSamples = Math.Max(
            plan.Procedure.Wall.MinimumMetres * samplesPerMetre + Math.Max(0, zero) * scale.SampleRateHz,
            3 * scale.PulseSigma
        );
        _highSamples = plan.Procedure.Wall.MaximumMetres * samplesPerMetre + Math.Max(0, zero) * scale.SampleRateHz;
    }

    /// <inheritdoc/>
    public override string Name => "estimator";

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
            "The estimators take the interface of the train rule; the plan refuses tracked interfaces."
        );

    /// <inheritdoc/>
    public override void Measure(in AScanBlock block, GridTile tile, InterfaceStrip? strip)
    {
        ArgumentNullException.ThrowIfNull(tile);
        for (int row = 0; row < tile.ScanCount; row++)
        for (int column = 0; column < tile.BeamCount; column++)
            tile.Set(
                row * tile.BeamCount + column,
                MeasureCell(block, tile.FirstScan + row, tile.FirstBeam + column, strip, null)
            );
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
        if (!block.IsPresent(row, column) || !Load(block.AScanBytes(row, column)))
            return CellResult.Unmeasured(
                block.IsPresent(row, column) ? CellStatus.InvalidSamples : CellStatus.NotScanned
            );
        if (trace is not null)
            trace.Raw = _record.Input.ToArray();
        double start = _plan.Stack.TimeBase.StartOf(beam);
        TrainSettings settings = _plan.Procedure.Train;
        (int searchFrom, int interfaceEnd) = TrainPlan.SearchOf(
            _plan.Procedure.Interface,
            start,
            _record.Scale.SampleRateHz
        );
        _record.Prepare(
            settings.CandidateLevel,
            settings.InterfaceFraction,
            searchFrom,
            interfaceEnd,
            TrainPlan.PulseEndOf(_plan.Procedure.Interface, start, _record.Scale)
        );
        TrainOutcome outcome = _decider.Decide(_record, start);
        CellResult cell = Conclude(outcome, start, out SpacingEstimate estimate, out string range);
        if (trace is not null)
        {
            TrainExplanation.Fill(trace, _plan, _record, _decider, outcome, cell, scan, beam, start);
            EstimatorExplanation.Fill(trace, _plan, _record, estimate, range);
        }
        return cell;
    }

    /// <summary>Runs the estimator where there is an interface to start from.</summary>
    /// <summary>The wall of a decided record.</summary>
    internal CellResult Conclude(in TrainOutcome outcome, double start, out SpacingEstimate estimate, out string whyNot)
    {
        CellResult cell = TrainResult.Build(_plan, _record, _decider, outcome, start);
        estimate = SpacingEstimate.None;
        whyNot = Estimate(outcome, start, ref cell, ref estimate);
        return cell;
    }

    /// <returns>Why it did not run; empty when it did.</returns>
    private string Estimate(in TrainOutcome outcome, double start, ref CellResult cell, ref SpacingEstimate estimate)
    {
        bool inTrain = _plan.Procedure.Estimation.Search == EstimationSearch.Train;
        if (inTrain && double.IsNaN(cell.ThicknessMetres))
            return "the train rule gives no wall to look about";
        int front = outcome.HasTrain ? outcome.Train.Interface : 0;
        // Where the first strong echo is itself a wall, an estimator would time half a wave between walls.
        if (_record.Count == 0 || front < 0)
            return Refuse(ref cell, CellStatus.NoInterfaceEcho, "no interface echo to start from");
        if (_record.IsClipped(front))
            return Refuse(
                ref cell,
                CellStatus.Saturated,
                "the interface echo, to which the estimators refer, is cut off at the rails"
            );
        if (outcome.HasTrain && !_decider.Context.HasSingleFront)
            return Refuse(
                ref cell,
                CellStatus.AmbiguousPairing,
                "two fronts of one polarity: the estimators cannot tell a coating's face from the metal's"
            );
        double about = outcome.SpacingSeconds * _record.Scale.SampleRateHz;
        double reach = 0.6 * _record.Scale.Period;
        if (inTrain)
            about += _decider.Timing.ZeroSeconds * _record.Scale.SampleRateHz;
        if (!inTrain)
            cell = CellResult.Unmeasured(CellStatus.NoBackWallEcho);
        _workspace.Begin(_record, front, inTrain ? about - reach : _lowSamples, inTrain ? about + reach : _highSamples);
        estimate = _estimator.Estimate(_workspace);
        EstimatorResult.Fill(_plan, _record, _decider.Timing, front, estimate, start, ref cell);
        return "";
    }

    private static string Refuse(ref CellResult cell, CellStatus status, string why)
    {
        CellNotes notes = cell.Notes;
        cell = CellResult.Unmeasured(status);
        cell.Notes = notes;
        return why;
    }

    private bool Load(ReadOnlySpan<byte> stored)
    {
        StackInfo stack = _plan.Stack;
        StoredSamples.ToFractions(stored, stack.SampleType, stack.Amplitude, _record.Input, _path);
        return stack.SampleType is not (SampleType.Float32 or SampleType.Float64)
            || Magnitude.AllFinite(_record.Input, _path);
    }
}
