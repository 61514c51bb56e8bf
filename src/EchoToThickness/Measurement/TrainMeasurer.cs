using EchoToThickness.Echoes;
using EchoToThickness.Evidence;
using EchoToThickness.Grids;
using EchoToThickness.Pairing;
using EchoToThickness.Procedures;
using EchoToThickness.Signals;
using EchoToThickness.Stacks;

namespace EchoToThickness.Measurement;

/// <summary>Measures by the pairing rule <c>train</c>: the hypothesis about all echoes that explains the A-scan best.</summary>
public sealed partial class TrainMeasurer : LineMeasurer
{
    private readonly MeasurementPlan _plan;
    private readonly EchoRecord _record;
    private readonly TrainDecider _decider;
    private readonly KernelPath _path;
    private readonly bool _asksNeighbours;
    private readonly TrainCell[] _line;
    private readonly HypothesisSet[] _sets;
    private readonly TrainEvidence _evidence;
    private readonly bool _listsHypotheses;
    private readonly double _convertedRatio;

    /// <summary>Prepares scratch for one thread.</summary>
    /// <param name="plan">The compiled procedure.</param>
    /// <param name="path">Kernel implementation; all give the same bits.</param>
    /// <exception cref="ProcedureException">The stack is rectified, or nobody states its frequency.</exception>
    public TrainMeasurer(MeasurementPlan plan, KernelPath path)
        : this(plan, path, null, null) { }

    /// <summary>The same with a record and a decider that measurers of other plans use too.</summary>
    internal TrainMeasurer(MeasurementPlan plan, KernelPath path, EchoRecord? record, TrainDecider? decider)
    {
        ArgumentNullException.ThrowIfNull(plan);
        _plan = plan;
        StackInfo stack = plan.Stack;
        Scale = TrainPlan.ScaleOf(plan.Procedure, stack);
        _path = path;
        _asksNeighbours = TrainPlan.AsksNeighbours(plan.Procedure, stack);
        _line = new TrainCell[stack.Shape.Beams];
        _sets = new HypothesisSet[stack.Shape.Beams];
        _listsHypotheses =
            plan.Layers.Contains(GridLayer.WrongEchoProbability) || TrainPlan.ChoosesOverMap(plan.Procedure);
        _convertedRatio = MapRules.ConvertedRatio(stack, plan.Velocity);
        _evidence = new TrainEvidence(
            plan.Procedure.Wall,
            plan.Velocity,
            plan.Procedure.Wall.NominalMetres ?? stack.Component.NominalWallMetres
        );
        _record = record ?? TrainPlan.RecordOf(plan, path);
        _decider = decider ?? TrainPlan.DeciderOf(plan);
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
        (int from, int to) = Reach(block, tile.FirstBeam, tile.BeamCount);
        Span<TrainCell> line = _line.AsSpan(0, to - from);
        for (int row = 0; row < tile.ScanCount; row++)
        {
            for (int beam = from; beam < to; beam++)
                MeasureAlone(block, tile.FirstScan + row, beam, null, out line[beam - from], ref _sets[beam - from]);
            FinishLine(tile, row, from, to);
        }
    }

    /// <summary>Lets neighbours of one line speak and writes its cells; the cells from <paramref name="from"/> to <paramref name="to"/> are measured.</summary>
    internal void FinishLine(GridTile tile, int row, int from, int to)
    {
        Span<TrainCell> line = _line.AsSpan(0, to - from);
        for (int column = 0; column < tile.BeamCount; column++)
        {
            int at = tile.FirstBeam + column - from;
            CellResult result = line[at].Result;
            TrainReason reason = line[at].Reason;
            bool changed = _asksNeighbours && AskNeighbours(line, at, ref result, out reason);
            result.WrongEchoProbability = WrongAlone(_sets[at], result, reason, changed);
            tile.Set(row * tile.BeamCount + column, result);
        }
    }

    /// <summary>Takes what the shared decider made of a cell of the line being measured.</summary>
    /// <param name="outcome">The decision; ignored when there is no record.</param>
    /// <param name="recordless">Why there is no record to decide on; <see cref="CellStatus.Measured"/> when there is one.</param>
    /// <param name="at">Place in the line.</param>
    /// <param name="startSeconds">Time of sample 0.</param>
    internal void Take(in TrainOutcome outcome, CellStatus recordless, int at, double startSeconds)
    {
        ref TrainCell cell = ref _line[at];
        cell = default;
        _sets[at].Clear();
        if (recordless == CellStatus.Measured)
            Conclude(outcome, startSeconds, ref cell, ref _sets[at]);
        else
            cell.Result = CellResult.Unmeasured(recordless);
    }

    /// <summary>Beams that have to be measured for some of a line: those that neighbours are asked of, as far as the block holds them.</summary>
    internal (int From, int To) Reach(in AScanBlock block, int firstBeam, int beamCount)
    {
        int halo = _asksNeighbours ? TrainNeighbours.LineReach : 0;
        return (
            Math.Max(block.FirstBeam, firstBeam - halo),
            Math.Min(block.FirstBeam + block.BeamCount, firstBeam + beamCount + halo)
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
        if (!_asksNeighbours)
        {
            MeasureAlone(block, scan, beam, trace, out TrainCell alone, ref _sets[0]);
            alone.Result.WrongEchoProbability = WrongAlone(_sets[0], alone.Result, alone.Reason, false);
            if (trace is not null)
                trace.Result = alone.Result;
            return alone.Result;
        }
        int from = Math.Max(block.FirstBeam, beam - TrainNeighbours.LineReach);
        int to = Math.Min(block.FirstBeam + block.BeamCount, beam + TrainNeighbours.LineReach + 1);
        Span<TrainCell> line = _line.AsSpan(0, to - from);
        for (int other = from; other < to; other++)
            MeasureAlone(
                block,
                scan,
                other,
                other == beam ? trace : null,
                out line[other - from],
                ref _sets[other - from]
            );
        CellResult result = line[beam - from].Result;
        bool changed = AskNeighbours(line, beam - from, ref result, out TrainReason reason);
        result.WrongEchoProbability = WrongAlone(_sets[beam - from], result, reason, changed);
        if (trace is not null)
        {
            trace.Say(
                "neighbours",
                changed ? TrainReasons.Describe(reason) : "true neighbours along the beam axis change nothing"
            );
            trace.Result = result;
        }
        return result;
    }

    /// <summary>Probability that a wall is the wrong one, no map heard; NaN where nobody listed hypotheses or neighbours along the line supplied it.</summary>
    private double WrongAlone(in HypothesisSet set, in CellResult result, TrainReason reason, bool changed) =>
        changed || set.Own < 0 || double.IsNaN(result.ThicknessMetres)
            ? double.NaN
            : WrongEchoModel.Probability(
                WrongEchoSigns.Of(set, result, reason),
                MapChoice.Off,
                _plan.Procedure.Train.Expect
            );

    private bool AskNeighbours(ReadOnlySpan<TrainCell> line, int at, ref CellResult result, out TrainReason reason)
    {
        reason = line[at].Reason;
        bool changed = TrainNeighbours.Apply(
            line,
            at,
            _plan.Procedure.Train,
            _plan.Velocity.MetresPerSecond / Scale.FrequencyHz,
            _plan.Velocity.WallToWallMetres(1),
            Scale.PulseSigma / Scale.SampleRateHz,
            ref result,
            ref reason
        );
        if (changed && reason == TrainReason.SuppliedByNeighbours)
            TrainResult.AddCalibration(_plan, 1, ref result);
        return changed;
    }

    /// <summary>Measures one cell by its own evidence.</summary>
    private void MeasureAlone(
        in AScanBlock block,
        int scan,
        int beam,
        MeasurementTrace? trace,
        out TrainCell cell,
        ref HypothesisSet set
    )
    {
        cell = default;
        set.Clear();
        int row = scan - block.FirstScan;
        int column = beam - block.FirstBeam;
        if (!block.IsPresent(row, column) || !Load(block.AScanBytes(row, column)))
        {
            cell.Result = CellResult.Unmeasured(
                block.IsPresent(row, column) ? CellStatus.InvalidSamples : CellStatus.NotScanned
            );
            return;
        }
        double start = _plan.Stack.TimeBase.StartOf(beam);
        if (trace is not null)
            trace.Raw = _record.Input.ToArray();
        TrainSettings settings = _plan.Procedure.Train;
        (int searchFrom, int interfaceEnd) = TrainPlan.SearchOf(_plan.Procedure.Interface, start, Scale.SampleRateHz);
        _record.Prepare(
            settings.CandidateLevel,
            settings.InterfaceFraction,
            searchFrom,
            interfaceEnd,
            TrainPlan.PulseEndOf(_plan.Procedure.Interface, start, Scale)
        );
        TrainOutcome outcome = _decider.Decide(_record, start);
        Conclude(outcome, start, ref cell, ref set);
        if (trace is not null)
            TrainExplanation.Fill(trace, _plan, _record, _decider, outcome, cell.Result, scan, beam, start);
    }

    private void Conclude(in TrainOutcome outcome, double start, ref TrainCell cell, ref HypothesisSet set)
    {
        cell.Result = TrainResult.Build(_plan, _record, _decider, outcome, start);
        cell.Reason = outcome.Reason;
        cell.HasTrain = outcome.HasTrain && outcome.Train.Interface >= 0;
        cell.IsSingle = !outcome.HasTrain || outcome.Train.Interface < 0 || outcome.Train.IsSingle;
        cell.RelativeDecibels = outcome.RelativeDecibels;
        if (_asksNeighbours && cell.HasTrain)
            TrainResult.Keep(_record, outcome, start, ref cell.Evidence);
        if (_listsHypotheses)
            _evidence.List(_decider.Context, outcome, cell.Result.ThicknessMetres, ref set);
    }

    private bool Load(ReadOnlySpan<byte> stored)
    {
        StackInfo stack = _plan.Stack;
        StoredSamples.ToFractions(stored, stack.SampleType, stack.Amplitude, _record.Input, _path);
        return stack.SampleType is not (SampleType.Float32 or SampleType.Float64)
            || Magnitude.AllFinite(_record.Input, _path);
    }
}
