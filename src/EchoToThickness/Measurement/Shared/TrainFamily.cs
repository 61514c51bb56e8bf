using EchoToThickness.Echoes;
using EchoToThickness.Evidence;
using EchoToThickness.Grids;
using EchoToThickness.Pairing;
using EchoToThickness.Procedures;
using EchoToThickness.Signals;
using EchoToThickness.Stacks;

namespace EchoToThickness.Measurement.Shared;

/// <summary>
/// The train rule and the estimators for many plans: a tree of filter, candidates and decision, each node worked once an A-scan. Does for each plan
/// what <see cref="TrainMeasurer"/> and <see cref="EstimatorMeasurer"/> do. One a thread; allocates nothing per A-scan.
/// </summary>
internal sealed class TrainFamily
{
    private readonly StackInfo _stack;
    private readonly KernelPath _path;
    private readonly Filtered[] _filtered;
    private readonly TrainMeasurer?[] _trains;
    private readonly EstimatorMeasurer?[] _estimators;
    private readonly CellResult[][] _lines;

    public TrainFamily(IReadOnlyList<MeasurementPlan> plans, KernelPath path)
    {
        _stack = plans[0].Stack;
        _path = path;
        _trains = new TrainMeasurer?[plans.Count];
        _estimators = new EstimatorMeasurer?[plans.Count];
        _lines = new CellResult[plans.Count][];
        _filtered =
        [
            .. Enumerable
                .Range(0, plans.Count)
                .GroupBy(i =>
                {
                    EchoScale scale = TrainPlan.ScaleOf(plans[i].Procedure, _stack);
                    return (scale.FrequencyHz, scale.BandwidthFraction);
                })
                .Select(same =>
                {
                    EchoRecord record = TrainPlan.RecordOf(plans[same.First()], path);
                    return new Filtered(
                        record,
                        [.. same.GroupBy(i => SearchOf(plans[i].Procedure)).Select(g => Search(plans, [.. g], record))]
                    );
                }),
        ];
    }

    /// <summary>The measurer of a plan whose walls are chosen over the map.</summary>
    public TrainMeasurer MeasurerOf(int plan) => _trains[plan]!;

    /// <summary>Measures the rectangle on which the tiles are placed.</summary>
    public void Measure(in AScanBlock block, GridTile[] tiles)
    {
        GridTile place = tiles[0];
        (int from, int to) = _trains.FirstOrDefault(t => t is not null) is { } any
            ? any.Reach(block, place.FirstBeam, place.BeamCount)
            : (place.FirstBeam, place.FirstBeam + place.BeamCount);
        for (int row = 0; row < place.ScanCount; row++)
        {
            for (int beam = from; beam < to; beam++)
                MeasureAlone(block, place.FirstScan + row, beam, beam - from);
            for (int plan = 0; plan < tiles.Length; plan++)
            {
                if (_trains[plan] is { } train)
                    train.FinishLine(tiles[plan], row, from, to);
                else
                    for (int column = 0; column < place.BeamCount; column++)
                        tiles[plan].Set(row * place.BeamCount + column, _lines[plan][place.FirstBeam + column - from]);
            }
        }
    }

    /// <summary>First pass of a choice over the map: the cells of a rectangle by themselves, for every plan.</summary>
    public void Collect(
        in AScanBlock block,
        int firstScan,
        int scanCount,
        int firstBeam,
        int beamCount,
        MapStrip[] strips
    )
    {
        (int from, int to) = _trains[0]!.Reach(block, firstBeam, beamCount);
        for (int scan = firstScan; scan < firstScan + scanCount; scan++)
        {
            for (int beam = from; beam < to; beam++)
                MeasureAlone(block, scan, beam, beam - from);
            for (int plan = 0; plan < strips.Length; plan++)
                _trains[plan]!.KeepLine(strips[plan], scan, firstBeam, beamCount, from, to);
        }
    }

    private void MeasureAlone(in AScanBlock block, int scan, int beam, int at)
    {
        int row = scan - block.FirstScan;
        int column = beam - block.FirstBeam;
        double start = _stack.TimeBase.StartOf(beam);
        bool present = block.IsPresent(row, column);
        foreach (Filtered filtered in _filtered)
        {
            EchoRecord record = filtered.Record;
            CellStatus recordless =
                !present ? CellStatus.NotScanned
                : !Load(record, block.AScanBytes(row, column)) ? CellStatus.InvalidSamples
                : CellStatus.Measured;
            if (recordless == CellStatus.Measured)
                record.Filter();
            foreach (Searched searched in filtered.Searches)
            {
                if (recordless == CellStatus.Measured)
                    FindEchoes(record, searched, start);
                foreach (Decided decided in searched.Decisions)
                {
                    TrainOutcome outcome =
                        recordless == CellStatus.Measured ? decided.Decider.Decide(record, start) : default;
                    foreach (int plan in decided.Plans)
                        Conclude(plan, outcome, recordless, at, start);
                }
            }
        }
    }

    private void Conclude(int plan, in TrainOutcome outcome, CellStatus recordless, int at, double start)
    {
        if (_trains[plan] is { } train)
            train.Take(outcome, recordless, at, start);
        else
            _lines[plan][at] =
                recordless == CellStatus.Measured
                    ? _estimators[plan]!.Conclude(outcome, start, out _, out _)
                    : CellResult.Unmeasured(recordless);
    }

    private static void FindEchoes(EchoRecord record, Searched searched, double start)
    {
        (int searchFrom, int interfaceEnd) = TrainPlan.SearchOf(searched.Interface, start, record.Scale.SampleRateHz);
        record.FindEchoes(
            searched.Train.CandidateLevel,
            searched.Train.InterfaceFraction,
            searchFrom,
            interfaceEnd,
            TrainPlan.PulseEndOf(searched.Interface, start, record.Scale)
        );
    }

    private bool Load(EchoRecord record, ReadOnlySpan<byte> stored)
    {
        StoredSamples.ToFractions(stored, _stack.SampleType, _stack.Amplitude, record.Input, _path);
        return _stack.SampleType is not (SampleType.Float32 or SampleType.Float64)
            || Magnitude.AllFinite(record.Input, _path);
    }

    private static (double, double, double?, double?) SearchOf(Procedure procedure) =>
        (
            procedure.Train.CandidateLevel,
            procedure.Train.InterfaceFraction,
            procedure.Interface.SearchStartSeconds,
            procedure.Interface.SearchEndSeconds
        );

    private Searched Search(IReadOnlyList<MeasurementPlan> plans, int[] members, EchoRecord record) =>
        new(
            plans[members[0]].Procedure.Train,
            plans[members[0]].Procedure.Interface,
            [
                .. members
                    .GroupBy(i => DecisionOf(plans[i]))
                    .Select(same =>
                    {
                        TrainDecider decider = TrainPlan.DeciderOf(plans[same.First()]);
                        foreach (int i in same)
                            Make(i, plans[i], record, decider);
                        return new Decided(decider, [.. same]);
                    }),
            ]
        );

    private void Make(int number, MeasurementPlan plan, EchoRecord record, TrainDecider decider)
    {
        if (plan.Procedure.Estimation.Method == EstimationMethod.Train)
        {
            _trains[number] = new TrainMeasurer(plan, _path, record, decider);
            _lines[number] = [];
            return;
        }
        _estimators[number] = new EstimatorMeasurer(plan, _path, record, decider);
        _lines[number] = new CellResult[plan.Stack.Shape.Beams];
    }

    // All that a decider is made of; the stack is the same for all.
    private static object DecisionOf(MeasurementPlan plan)
    {
        CorrectionSettings correction = plan.Procedure.Correction;
        return (
            plan.Procedure.Train with
            {
                Neighbours = true,
            },
            correction.Diffraction,
            correction.ApertureMetres,
            correction.ElevationMetres,
            plan.Velocity.MetresPerSecond,
            plan.Velocity.ZeroSeconds + plan.Velocity.CoatingSeconds
        );
    }

    private sealed record Filtered(EchoRecord Record, Searched[] Searches);

    private sealed record Searched(TrainSettings Train, InterfaceSettings Interface, Decided[] Decisions);

    private sealed record Decided(TrainDecider Decider, int[] Plans);
}
