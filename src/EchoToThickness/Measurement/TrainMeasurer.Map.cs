using EchoToThickness.Evidence;
using EchoToThickness.Pairing;
using EchoToThickness.Procedures;
using EchoToThickness.Stacks;

namespace EchoToThickness.Measurement;

// The two passes of the choice over the map: own evidence of every cell of a strip first, then the cells whose wall neighbours changed.
public sealed partial class TrainMeasurer
{
    /// <summary>Pass 1: measures every cell of a rectangle by itself and keeps result and hypotheses.</summary>
    /// <param name="block">A-scans that cover the rectangle, with a halo along the beam axis where neighbours are asked.</param>
    /// <param name="firstScan">First scan position.</param>
    /// <param name="scanCount">Scan positions.</param>
    /// <param name="firstBeam">First beam.</param>
    /// <param name="beamCount">Beams.</param>
    /// <param name="strip">Takes results and hypotheses.</param>
    public void Collect(in AScanBlock block, int firstScan, int scanCount, int firstBeam, int beamCount, MapStrip strip)
    {
        ArgumentNullException.ThrowIfNull(strip);
        (int from, int to) = Reach(block, firstBeam, beamCount);
        Span<TrainCell> line = _line.AsSpan(0, to - from);
        for (int scan = firstScan; scan < firstScan + scanCount; scan++)
        {
            for (int beam = from; beam < to; beam++)
                MeasureAlone(block, scan, beam, null, out line[beam - from], ref _sets[beam - from]);
            KeepLine(strip, scan, firstBeam, beamCount, from, to);
        }
    }

    /// <summary>Lets neighbours of one line speak and keeps its cells in a strip; the cells from <paramref name="from"/> to <paramref name="to"/> are measured.</summary>
    internal void KeepLine(MapStrip strip, int scan, int firstBeam, int beamCount, int from, int to)
    {
        Span<TrainCell> line = _line.AsSpan(0, to - from);
        for (int beam = firstBeam; beam < firstBeam + beamCount; beam++)
        {
            int at = beam - from;
            CellResult result = line[at].Result;
            TrainReason reason = line[at].Reason;
            if (_asksNeighbours && AskNeighbours(line, at, ref result, out reason))
                _sets[at].Disown();
            if (!double.IsNaN(result.ThicknessMetres))
                MapRules.NoteCouplantEcho(ref result, _plan.Velocity.WallToWallMetres(1), 1 / Scale.FrequencyHz);
            strip.Own(scan, beam) = result;
            strip.Reason(scan, beam) = reason;
            strip.Hypotheses(scan, beam) = _sets[at];
        }
    }

    /// <summary>What is to be done with a cell.</summary>
    /// <param name="strip">The strip, choices made.</param>
    /// <param name="scan">Scan position.</param>
    /// <param name="beam">Beam.</param>
    public MapAction Decide(MapStrip strip, int scan, int beam) =>
        MapRules.Decide(strip, scan, beam, _plan.Procedure.Train.Expect, _plan.Stack.Neighbours, _convertedRatio);

    /// <summary>Pass 2: a cell's result after neighbours were heard.</summary>
    /// <param name="block">A-scans that cover the cell.</param>
    /// <param name="scan">Scan position.</param>
    /// <param name="beam">Beam.</param>
    /// <param name="action">What is to be done; not <see cref="MapAction.Keep"/>.</param>
    /// <param name="strip">The strip, choices made.</param>
    /// <returns>The cell's own result where the chosen wall cannot be timed.</returns>
    public CellResult Apply(in AScanBlock block, int scan, int beam, MapAction action, MapStrip strip)
    {
        ArgumentNullException.ThrowIfNull(strip);
        CellResult own = strip.Own(scan, beam);
        if (action == MapAction.Refuse)
            return Refused(own, TrainReason.DoubtfulOverMap);
        WallHypothesis chosen = strip.Hypotheses(scan, beam)[strip.Chosen(scan, beam)];
        HypothesisSet again = default;
        MeasureAlone(block, scan, beam, null, out _, ref again);
        TrainOutcome outcome = _decider.Time(_record, chosen);
        CellResult cell = TrainResult.Build(_plan, _record, _decider, outcome, _plan.Stack.TimeBase.StartOf(beam));
        if (!(Math.Abs(cell.ThicknessMetres / chosen.ThicknessMetres - 1) < MapRules.AlikeFraction))
            return NotTimed(own, chosen, OwnWrong(strip, scan, beam));
        if (action == MapAction.TimeBehindReflector && !(cell.SignalToNoiseDecibels >= MapRules.ClearWallDecibels))
            return NotTimed(own, chosen, OwnWrong(strip, scan, beam));
        cell.Notes |= CellNotes.ChosenOverMap | MapRules.NotesOf(own, chosen, _convertedRatio);
        MapRules.NoteCouplantEcho(ref cell, _plan.Velocity.WallToWallMetres(1), 1 / Scale.FrequencyHz);
        cell.RunnerUpThicknessMetres = own.ThicknessMetres;
        if (action == MapAction.TimeBehindReflector)
        {
            cell.Status = CellStatus.LaminarReflector;
            cell.ReflectorDepthMetres = own.ThicknessMetres;
        }
        else if (double.IsNaN(own.ThicknessMetres))
        {
            cell.Notes |= CellNotes.SuppliedByNeighbours;
        }
        cell.WrongEchoProbability = Wrong(strip, scan, beam, strip.Chosen(scan, beam), cell);
        cell.Margin = 1 - cell.WrongEchoProbability;
        return cell;
    }

    /// <summary>Probability that a cell's own wall is not the wall, neighbours heard; NaN where it decided on none of its hypotheses.</summary>
    /// <param name="strip">The strip, choices made.</param>
    /// <param name="scan">Scan position.</param>
    /// <param name="beam">Beam.</param>
    public double OwnWrong(MapStrip strip, int scan, int beam)
    {
        ArgumentNullException.ThrowIfNull(strip);
        CellResult own = strip.Own(scan, beam);
        int hypothesis = strip.Hypotheses(scan, beam).Own;
        return hypothesis < 0 || double.IsNaN(own.ThicknessMetres)
            ? double.NaN
            : Wrong(strip, scan, beam, hypothesis, own);
    }

    private double Wrong(MapStrip strip, int scan, int beam, int hypothesis, in CellResult cell) =>
        WrongEchoModel.Probability(
            WrongEchoSigns.Of(strip, scan, beam, hypothesis, cell, _plan.Procedure.Map, _plan.Stack.Neighbours),
            _plan.Procedure.Map.Choice,
            _plan.Procedure.Train.Expect
        );

    /// <summary>A wall that neighbours contradict and that cannot be timed otherwise: thinner than the choice it stays, thicker it is refused.</summary>
    private static CellResult NotTimed(in CellResult own, in WallHypothesis chosen, double ownWrongProbability)
    {
        CellResult cell = own;
        cell.WrongEchoProbability = ownWrongProbability;
        return own.ThicknessMetres > chosen.ThicknessMetres ? Refused(own, TrainReason.ThickerThanNeighbours) : cell;
    }

    private static CellResult Refused(in CellResult own, TrainReason reason)
    {
        CellResult cell = own;
        TrainNeighbours.Refuse(ref cell, reason);
        cell.Notes |= CellNotes.ChosenOverMap;
        cell.WrongEchoProbability = double.NaN;
        return cell;
    }
}
