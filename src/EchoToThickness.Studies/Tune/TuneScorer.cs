using EchoToThickness.Pairing;
using EchoToThickness.Stacks;

namespace EchoToThickness.Studies.Tune;

/// <summary>Holds what a rule set made of cells against what is known of them.</summary>
internal static class TuneScorer
{
    private static readonly double[] Ratios = [3.0 / 2, 4.0 / 3, 2.0 / 3, 3.0 / 4, 3, 4, 1.0 / 3, 1.0 / 4];

    /// <summary>Layers that the objectives need.</summary>
    public static IReadOnlyList<string> LayersFor(IReadOnlyList<Objective> objectives)
    {
        var layers = new List<string> { "thickness", "interface_time" };
        if (objectives.Any(o => o.Figure == TuneFigure.Calibration))
            layers.Add("uncertainty");
        if (objectives.Any(o => o.Figure == TuneFigure.Disagreement))
            layers.AddRange(["thickness_interface_wall", "thickness_wall_wall"]);
        return layers;
    }

    /// <summary>What became of every cell of some scan positions, and the error of the measured ones (NaN elsewhere).</summary>
    /// <param name="facts">What is known.</param>
    /// <param name="result">What was measured.</param>
    /// <param name="firstScan">First scan position.</param>
    /// <param name="scanCount">Scan positions.</param>
    /// <param name="knowsTruth">Whether walls are known; else measured cells are sound by definition.</param>
    /// <param name="kinds">Shape [scan, beam] of the whole block; these cells are written.</param>
    /// <param name="errorsMetres">Likewise.</param>
    public static void Judge(
        BlockFacts facts,
        TuneResult result,
        int firstScan,
        int scanCount,
        bool knowsTruth,
        CellKind[] kinds,
        float[] errorsMetres
    )
    {
        int beams = facts.Info.Shape.Beams;
        int from = firstScan * beams;
        int to = (firstScan + scanCount) * beams;
        for (int cell = from; cell < to; cell++)
        {
            errorsMetres[cell] = float.NaN;
            double value = result.ThicknessMetres[cell];
            double truth = facts.ThicknessMetres[cell];
            if (result.Status[cell] == (byte)CellStatus.NotScanned || (knowsTruth && double.IsNaN(truth)))
                kinds[cell] = CellKind.LeftOut;
            else if (double.IsNaN(value))
                kinds[cell] = CellKind.Missing;
            else if (!knowsTruth)
                kinds[cell] = CellKind.Sound;
            else
                kinds[cell] = KindOf(facts, value, truth, cell, out errorsMetres[cell]);
        }
        if (facts.InterfaceSeconds.Length > 0)
            FindLostInterfaces(facts, result, from, to, kinds);
    }

    /// <summary>The score of one window.</summary>
    /// <param name="facts">What is known.</param>
    /// <param name="result">What was measured.</param>
    /// <param name="partner">What was measured in another scan of the same place; null when there is none.</param>
    /// <param name="window">Number of the window.</param>
    /// <param name="judge">Limits.</param>
    /// <param name="kinds">Scratch, shape [scan, beam].</param>
    /// <param name="errorsMetres">Scratch, shape [scan, beam].</param>
    public static WindowScore Score(
        BlockFacts facts,
        TuneResult result,
        TuneResult? partner,
        int window,
        JudgeSettings judge,
        CellKind[] kinds,
        float[] errorsMetres
    )
    {
        (int firstScan, int scanCount) = ScanWindows.Of(facts.Info.Shape, window);
        bool known = judge.Truth == TruthChoice.Known;
        Judge(facts, result, firstScan, scanCount, known, kinds, errorsMetres);
        var score = new WindowScore();
        int beams = facts.Info.Shape.Beams;
        for (int cell = firstScan * beams; cell < (firstScan + scanCount) * beams; cell++)
            if (kinds[cell] != CellKind.LeftOut)
                Count(facts, result, partner, cell, known, judge, kinds[cell], errorsMetres[cell], score);
        Pits(facts, result, window, firstScan, scanCount, score);
        Neighbours(facts, result, firstScan, scanCount, score);
        return score;
    }

    private static CellKind KindOf(BlockFacts facts, double value, double truth, int cell, out float errorMetres)
    {
        double minimum = facts.MinimumMetres.Length == 0 ? double.NaN : facts.MinimumMetres[cell];
        CellVerdict verdict = facts.Rules.Judge(value, truth, minimum);
        errorMetres = (float)verdict.ErrorMetres;
        if (!verdict.Gross)
            return CellKind.Sound;
        if (verdict.Doubled)
            return CellKind.Doubled;
        if (verdict.Halved)
            return CellKind.Halved;
        foreach (double ratio in Ratios)
            if (
                Math.Abs(value - ratio * truth)
                <= Math.Min(facts.Rules.GrossMetres, facts.Rules.GrossFraction * ratio * truth) / 2
            )
                return CellKind.Skipped;
        return verdict.ErrorMetres > 0 ? CellKind.OtherThick : CellKind.OtherThin;
    }

    // The pick of an interface lies at a constant distance from its true time; the median over sound cells tells it.
    private static void FindLostInterfaces(BlockFacts facts, TuneResult result, int from, int to, CellKind[] kinds)
    {
        var sound = new List<double>();
        var gross = false;
        for (int cell = from; cell < to; cell++)
        {
            gross |= kinds[cell] >= CellKind.InterfaceLost;
            if (kinds[cell] == CellKind.Sound && Off(cell) is var off && !double.IsNaN(off))
                sound.Add(off);
        }
        if (!gross || sound.Count == 0)
            return;
        sound.Sort();
        double usual = sound[sound.Count / 2];
        for (int cell = from; cell < to; cell++)
            if (kinds[cell] >= CellKind.InterfaceLost && Math.Abs(Off(cell) - usual) > facts.LostSeconds)
                kinds[cell] = CellKind.InterfaceLost;

        double Off(int cell) => result.InterfaceSeconds[cell] - facts.InterfaceSeconds[cell];
    }

    private static void Count(
        BlockFacts facts,
        TuneResult result,
        TuneResult? partner,
        int cell,
        bool known,
        JudgeSettings judge,
        CellKind kind,
        double error,
        WindowScore score
    )
    {
        void One(ScoreCount count) => score.Counts[(int)count]++;

        One(ScoreCount.Cells);
        double value = result.ThicknessMetres[cell];
        if (facts.SoundMetal[cell])
        {
            One(ScoreCount.SoundMetal);
            if (value < facts.FlagMetres[cell])
                One(ScoreCount.FlaggedWrongly);
        }
        if (result.Status[cell] == (byte)CellStatus.NoInterfaceEcho)
            One(ScoreCount.NoInterface);
        if (kind == CellKind.Missing)
            return;
        One(ScoreCount.Measured);
        if (result.InterfaceWallMetres.Length > 0)
        {
            double difference = Math.Abs(result.InterfaceWallMetres[cell] - result.WallWallMetres[cell]);
            if (!double.IsNaN(difference))
                One(ScoreCount.Both);
            if (difference > judge.AgreementMetres)
                One(ScoreCount.Disagree);
        }
        if (partner is not null && !float.IsNaN(partner.ThicknessMetres[cell]))
        {
            One(ScoreCount.Repeats);
            if (Math.Abs(partner.ThicknessMetres[cell] - value) > judge.AgreementMetres)
                One(ScoreCount.RepeatsDiffer);
        }
        if (known)
            Error(facts, result, cell, kind, error, score);
    }

    private static void Error(
        BlockFacts facts,
        TuneResult result,
        int cell,
        CellKind kind,
        double error,
        WindowScore score
    )
    {
        void One(ScoreCount count) => score.Counts[(int)count]++;

        One(ScoreCount.Judged);
        score.Sums[(int)ScoreSum.SquareAll] += error * error;
        score.NoteError(Math.Abs(error));
        if (Math.Abs(error) > facts.Rules.CycleMetres)
            One(ScoreCount.Cycle);
        if (kind != CellKind.Sound)
        {
            One(error > 0 ? ScoreCount.GrossThick : ScoreCount.GrossThin);
            switch (kind)
            {
                case CellKind.Doubled:
                    One(ScoreCount.Doubled);
                    break;
                case CellKind.Halved:
                    One(ScoreCount.Halved);
                    break;
                case CellKind.Skipped:
                    One(ScoreCount.Skipped);
                    break;
                case CellKind.InterfaceLost:
                    One(ScoreCount.InterfaceLost);
                    break;
            }
            return;
        }
        One(ScoreCount.Sound);
        score.Sums[(int)ScoreSum.ErrorSound] += error;
        score.Sums[(int)ScoreSum.SquareSound] += error * error;
        if (result.UncertaintyMetres.Length > 0 && result.UncertaintyMetres[cell] is var u && u > 0)
        {
            One(ScoreCount.Stated);
            score.Sums[(int)ScoreSum.Standardised] += error / u * (error / u);
        }
    }

    private static void Pits(
        BlockFacts facts,
        TuneResult result,
        int window,
        int firstScan,
        int scanCount,
        WindowScore score
    )
    {
        if (facts.WindowOfPit.Length == 0)
            return;
        int beams = facts.Info.Shape.Beams;
        var found = new HashSet<int>();
        for (int cell = firstScan * beams; cell < (firstScan + scanCount) * beams; cell++)
            if (facts.PitOf[cell] >= 0 && result.ThicknessMetres[cell] < facts.FlagMetres[cell])
                found.Add(facts.PitOf[cell]);
        for (int pit = 0; pit < facts.WindowOfPit.Length; pit++)
        {
            if (facts.WindowOfPit[pit] != window)
                continue;
            score.Counts[(int)ScoreCount.Pits]++;
            if (!found.Contains(pit))
                score.Counts[(int)ScoreCount.PitsMissed]++;
        }
    }

    private static void Neighbours(BlockFacts facts, TuneResult result, int firstScan, int scanCount, WindowScore score)
    {
        StackShape shape = facts.Info.Shape;
        bool scans = facts.Info.Neighbours.HasFlag(NeighbourAxes.Scan);
        bool beams = facts.Info.Neighbours.HasFlag(NeighbourAxes.Beam);
        for (int scan = firstScan; scan < firstScan + scanCount; scan++)
        for (int beam = 0; beam < shape.Beams; beam++)
        {
            int cell = scan * shape.Beams + beam;
            if (scans && scan + 1 < firstScan + scanCount)
                Pair(cell, cell + shape.Beams);
            if (beams && beam + 1 < shape.Beams)
                Pair(cell, cell + 1);
        }

        void Pair(int one, int other)
        {
            double a = result.ThicknessMetres[one];
            double b = result.ThicknessMetres[other];
            if (double.IsNaN(a) || double.IsNaN(b))
                return;
            score.Counts[(int)ScoreCount.Neighbours]++;
            if (Math.Abs(a - b) > Math.Min(facts.Rules.GrossMetres, facts.Rules.GrossFraction * Math.Min(a, b)))
                score.Counts[(int)ScoreCount.Jumps]++;
        }
    }
}
