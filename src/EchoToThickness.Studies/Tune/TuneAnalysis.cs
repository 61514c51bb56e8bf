using System.Globalization;
using EchoToThickness.Stacks;
using EchoToThickness.Studies.Searching;
using EchoToThickness.Studies.Sources;

namespace EchoToThickness.Studies.Tune;

/// <summary>Runs a search from beginning to end.</summary>
public static class TuneAnalysis
{
    private const int FewestStacks = 3;
    private const int Apart = 3;

    /// <summary>Searches, chooses, tries the choice.</summary>
    /// <param name="plan">The study.</param>
    /// <param name="runner">Measures rule sets.</param>
    /// <exception cref="OperationCanceledException">The caller cancelled; what was finished stays.</exception>
    public static TuneReport Run(TunePlan plan, TuneRunner runner)
    {
        ArgumentNullException.ThrowIfNull(plan);
        ArgumentNullException.ThrowIfNull(runner);
        ChoiceSettings choice = plan.Study.Choice;
        int ordered = plan.Axes.Count(a => a.Ordered);
        runner.Expected = plan.Cells * (1 + plan.Study.Search.RuleSets + 2L * ordered * choice.Best);
        var search = new TuneSearch(plan, runner);
        IReadOnlyList<RuleSetResult> found = search.Run();
        RuleSetResult @base = found[0];
        RobustRow[] best = [.. Choose(plan, search, found)];
        RuleSetResult[] all =
        [
            .. search.Results.OrderBy(r => r.Loss).ThenBy(r => r.RuleSet.Sha256, StringComparer.Ordinal),
        ];
        int[] ranks = ParetoFront.Ranks([.. all.Select(r => r.Value)]);
        RuleSetResult[] ranked = [.. all.Select((r, i) => r with { ParetoRank = ranks[i] })];
        RuleSetResult[] searched = [.. ranked.Where(r => r.RuleSet.Point.Length > 0)];
        RuleSetResult Ranked(RuleSetResult result) => ranked.First(r => r.RuleSet.Sha256 == result.RuleSet.Sha256);
        best = [.. best.Select(b => b with { Result = Ranked(b.Result) })];
        (IReadOnlyList<FlipRow> flips, FlipRow gain, IReadOnlyList<BreakMap> maps, IReadOnlyList<WorstCell> worst) =
            Cells(plan, runner, @base.RuleSet, best[0]);
        return new TuneReport
        {
            Plan = plan,
            Ranked = ranked,
            Base = Ranked(@base),
            Best = best,
            Dropped = search.Dropped,
            Validation = Validate(plan, runner, searched),
            Sensitivity = Sensitivity.Of(
                plan.Space,
                [.. searched.Select(r => r.RuleSet.Point)],
                searched.Length > 0 ? TuneSearch.LogarithmsOf(searched) : [],
                plan.Study.Header.Seed
            ),
            Flips = flips,
            Gain = gain,
            Maps = maps,
            Worst = worst,
            Work = (runner.Measured, runner.Found),
        };
    }

    /// <summary>The best rule sets with their neighbours, the chosen one first.</summary>
    private static IEnumerable<RobustRow> Choose(TunePlan plan, TuneSearch search, IReadOnlyList<RuleSetResult> found)
    {
        ChoiceSettings choice = plan.Study.Choice;
        RuleSetResult[] best =
        [
            .. found
                .Where(r => r.RuleSet.Point.Length > 0)
                .OrderBy(r => r.KeepsLimits ? 0 : 1)
                .ThenBy(r => r.Loss)
                .ThenBy(r => r.RuleSet.Sha256, StringComparer.Ordinal)
                .Take(choice.Best),
        ];
        var rows = new List<RobustRow>();
        foreach (RuleSetResult result in best)
        {
            var changes = new List<(int Axis, string Text, RuleSet RuleSet)>();
            for (int axis = 0; axis < plan.Axes.Count; axis++)
            {
                if (!plan.Axes[axis].Ordered)
                    continue;
                double step =
                    plan.Axes[axis].Axis.Levels > 1 ? 1.0 / (plan.Axes[axis].Axis.Levels - 1) : choice.StepFraction;
                foreach (double sign in new[] { -1.0, 1.0 })
                {
                    double[] point = [.. result.RuleSet.Point];
                    point[axis] = plan.Axes[axis].Axis.Snap(point[axis] + sign * step);
                    if (
                        plan.At(point, RuleSetOrigin.Neighbour) is { } near
                        && near.Sha256 != result.RuleSet.Sha256
                        && changes.All(c => c.RuleSet.Sha256 != near.Sha256)
                    )
                        changes.Add((axis, near.Texts[axis], near));
                }
            }
            IReadOnlyList<RuleSetResult> results = search.Finish([.. changes.Select(c => c.RuleSet)]);
            rows.Add(new RobustRow(result, [.. changes.Select((c, i) => (c.Axis, c.Text, results[i]))]));
        }
        return choice.Robust
            ? rows.OrderBy(r =>
                    r.KeepsLimits ? 0
                    : r.Result.KeepsLimits ? 1
                    : 2
                )
                .ThenBy(r => r.WorstLoss)
                .ThenBy(r => r.Result.Loss)
            : rows;
    }

    private static CrossValidation? Validate(TunePlan plan, TuneRunner runner, RuleSetResult[] results)
    {
        var rule = new LossRule(plan.Objectives, plan.Study.Judge);
        if (plan.Points.Count >= FewestStacks)
        {
            int points = plan.Points.Count;
            double[][] on = [.. results.Select(r => Each(points, p => rule.Of(r.RuleSet, [r.Scores[p]]).Loss))];
            double[][] without =
            [
                .. results.Select(r =>
                    Each(points, p => rule.Of(r.RuleSet, [.. r.Scores.Where((_, i) => i != p)]).Loss)
                ),
            ];
            return CrossValidation.Of(
                "one stack",
                [.. plan.Points.Select(p => p.ToString())],
                results.Length,
                (i, p) => on[i][p],
                (i, p) => without[i][p],
                i => results[i].Loss
            );
        }
        int folds = plan.Study.Choice.Folds;
        // A stack of few lines has fewer windows than folds.
        folds = Math.Min(
            folds,
            plan.Points.Max(p => Enumerable.Range(0, p.Blocks).Max(b => ScanWindows.Count(p.InfoOf(b).Shape)))
        );
        WindowScore[][][] scores = [.. results.Select(r => runner.ScoresOf(r.RuleSet, 1, folds))];
        double[][] onFold =
        [
            .. results.Select((r, i) => Each(folds, f => rule.Of(r.RuleSet, [.. scores[i].Select(s => s[f])]).Loss)),
        ];
        double[][] withoutFold =
        [
            .. results.Select(
                (r, i) => Each(folds, f => rule.Of(r.RuleSet, [.. scores[i].Select(s => Sum(s, f))]).Loss)
            ),
        ];
        return CrossValidation.Of(
            "one contiguous part of every stack",
            [
                .. Enumerable
                    .Range(1, folds)
                    .Select(f => string.Create(CultureInfo.InvariantCulture, $"part {f} of {folds}")),
            ],
            results.Length,
            (i, f) => onFold[i][f],
            (i, f) => withoutFold[i][f],
            i => results[i].Loss
        );
    }

    private static double[] Each(int count, Func<int, double> value) => [.. Enumerable.Range(0, count).Select(value)];

    private static WindowScore Sum(WindowScore[] folds, int without)
    {
        var sum = new WindowScore();
        for (int f = 0; f < folds.Length; f++)
            if (f != without)
                sum.Add(folds[f]);
        return sum;
    }

    private static (IReadOnlyList<FlipRow>, FlipRow, IReadOnlyList<BreakMap>, IReadOnlyList<WorstCell>) Cells(
        TunePlan plan,
        TuneRunner runner,
        RuleSet @base,
        RobustRow chosen
    )
    {
        RuleSet[] ruleSets = [chosen.Result.RuleSet, @base, .. chosen.Neighbours.Select(n => n.Result.RuleSet)];
        int kindCount = Enum.GetValues<CellKind>().Length;
        var changes = new long[ruleSets.Length][,];
        for (int i = 0; i < changes.Length; i++)
            changes[i] = new long[kindCount, kindCount];
        var looked = new long[ruleSets.Length];
        var changed = new long[ruleSets.Length];
        var maps = new List<BreakMap>();
        var worst = new List<WorstCell>();
        for (int point = 0; point < plan.Points.Count; point++)
        for (int block = 0; block < plan.Points[point].Blocks; block++)
        {
            (BlockFacts facts, TuneResult[] results, _) = runner.Cells(point, block, ruleSets);
            StackShape shape = facts.Info.Shape;
            var kinds = new CellKind[ruleSets.Length][];
            var errors = new float[shape.Cells];
            var others = new float[shape.Cells];
            for (int i = 0; i < ruleSets.Length; i++)
            {
                kinds[i] = new CellKind[shape.Cells];
                // Windows, as the search saw them: the zero of a lost interface is told window by window.
                for (int window = 0; window < ScanWindows.Count(shape); window++)
                {
                    (int first, int count) = ScanWindows.Of(shape, window);
                    TuneScorer.Judge(
                        facts,
                        results[i],
                        first,
                        count,
                        plan.KnowsTruth,
                        kinds[i],
                        i == 0 ? errors : others
                    );
                }
            }
            var flips = new int[shape.Cells];
            for (int i = 1; i < ruleSets.Length; i++)
            {
                // From base to chosen; from chosen to neighbour.
                (int from, int to) = i == 1 ? (1, 0) : (0, i);
                (long cells, long flipped) = FlipCounter.Add(
                    kinds[from],
                    kinds[to],
                    results[from].ThicknessMetres,
                    results[to].ThicknessMetres,
                    facts.Rules,
                    changes[i],
                    i == 1 ? [] : flips
                );
                looked[i] += cells;
                changed[i] += flipped;
            }
            maps.Add(
                new BreakMap
                {
                    Name = NameOf(plan, point, block),
                    Point = point,
                    Block = block,
                    Info = facts.Info,
                    Kinds = kinds[0],
                    BaseKinds = kinds[1],
                    Flips = flips,
                }
            );
            maps = [.. maps.OrderByDescending(m => m.Broken).Take(plan.Study.Report.Maps)];
            worst.AddRange(Worst(plan, point, block, facts, results[0], kinds[0], errors));
            worst = [.. worst.OrderByDescending(Severity).Take(plan.Study.Report.Worst)];
        }
        FlipRow Row(int i, string change) => new(change, looked[i], changed[i], changes[i]);
        return (
            [
                .. chosen
                    .Neighbours.Select(
                        (n, i) =>
                            Row(i + 2, $"{plan.Axes[n.Axis].Name}: {chosen.Result.RuleSet.Texts[n.Axis]} to {n.Text}")
                    )
                    .OrderByDescending(r => r.Changed),
            ],
            Row(1, "from the base procedure to the chosen one"),
            [.. maps.OrderBy(m => m.Point).ThenBy(m => m.Block)],
            worst
        );
    }

    /// <summary>Name of a line of a stack.</summary>
    /// <param name="plan">The study.</param>
    /// <param name="point">Number of the stack.</param>
    /// <param name="block">Number of its line.</param>
    public static string NameOf(TunePlan plan, int point, int block)
    {
        ArgumentNullException.ThrowIfNull(plan);
        StudyPoint at = plan.Points[point];
        return at.Blocks == 1 ? at.ToString() : string.Create(CultureInfo.InvariantCulture, $"{at}, line {block + 1}");
    }

    // Reading thick is the dangerous side; a gross error is worse than any refusal.
    private static double Severity(WorstCell cell) =>
        cell.Kind == CellKind.Missing ? 0.2e-3
        : cell.ErrorMetres > 0 ? 2 * cell.ErrorMetres
        : -cell.ErrorMetres;

    private static List<WorstCell> Worst(
        TunePlan plan,
        int point,
        int block,
        BlockFacts facts,
        TuneResult result,
        CellKind[] kinds,
        float[] errors
    )
    {
        int beams = facts.Info.Shape.Beams;
        IEnumerable<WorstCell> cells = Enumerable
            .Range(0, kinds.Length)
            .Where(c => kinds[c] != CellKind.LeftOut && (plan.KnowsTruth || kinds[c] == CellKind.Missing))
            .Select(c => new WorstCell(
                point,
                block,
                c / beams,
                c % beams,
                kinds[c],
                facts.ThicknessMetres[c],
                result.ThicknessMetres[c],
                errors[c]
            ))
            .OrderByDescending(Severity);
        // Cells side by side break for the same reason: one of them is enough.
        var chosen = new List<WorstCell>();
        foreach (WorstCell cell in cells)
        {
            if (chosen.Count == plan.Study.Report.Worst)
                break;
            if (chosen.All(c => Math.Abs(c.Scan - cell.Scan) > Apart || Math.Abs(c.Beam - cell.Beam) > Apart))
                chosen.Add(cell);
        }
        return chosen;
    }
}
