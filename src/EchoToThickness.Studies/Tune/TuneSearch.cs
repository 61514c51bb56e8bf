using EchoToThickness.Studies.Searching;

namespace EchoToThickness.Studies.Tune;

/// <summary>Goes through the space of rule sets by the study's method.</summary>
internal sealed class TuneSearch(TunePlan plan, TuneRunner runner)
{
    /// <summary>Refused combinations are drawn anew, but not for ever.</summary>
    private const int MostTries = 20;
    private readonly LossRule _loss = new(plan.Objectives, plan.Study.Judge);
    private readonly Dictionary<string, RuleSet> _known = [];
    private readonly Dictionary<string, RuleSetResult> _results = [];

    // Points that gave no new rule set, so that the surrogate does not propose them again: refused ones, and other ways to write a known one.
    private readonly List<(double[] Point, RuleSet? Same)> _spent = [];

    /// <summary>Rule sets that were dropped before they had seen all cells.</summary>
    public int Dropped { get; private set; }

    /// <summary>Looks at rule sets.</summary>
    /// <returns>Those measured on all cells, the base first.</returns>
    public IReadOnlyList<RuleSetResult> Run()
    {
        SearchSettings settings = plan.Study.Search;
        var random = new RandomStream((ulong)plan.Study.Header.Seed);
        Finish([plan.Base]);
        switch (settings.Method)
        {
            case SearchMethod.Grid:
                Finish(Made(SearchDesign.Grid(plan.Space), RuleSetOrigin.Design));
                break;
            case SearchMethod.LatinHypercube:
                Finish(Drawn(settings.RuleSets, random));
                break;
            case SearchMethod.Halving:
                Halve(Drawn(settings.RuleSets, random), settings);
                break;
            default:
                Model(settings, random);
                break;
        }
        if (_results.Count == 1)
            throw new Procedures.ProcedureException(
                "Every combination of the varied values is refused: "
                    + (plan.Refusals is [var first, ..] ? first.Reason : ""),
                "vary",
                "change the base procedure or the values so that they go together."
            );
        return [.. _results.Values];
    }

    /// <summary>Measures further rule sets on all cells.</summary>
    public IReadOnlyList<RuleSetResult> Finish(IReadOnlyList<RuleSet> ruleSets)
    {
        runner.Measure(ruleSets);
        var results = new List<RuleSetResult>();
        foreach (RuleSet ruleSet in ruleSets)
        {
            if (!_results.TryGetValue(ruleSet.Sha256, out RuleSetResult? result))
                _results[ruleSet.Sha256] = result = Result(ruleSet, 1);
            results.Add(result);
        }
        return results;
    }

    /// <summary>All that was measured on all cells.</summary>
    public IReadOnlyList<RuleSetResult> Results => [.. _results.Values];

    private RuleSetResult Result(RuleSet ruleSet, double part) =>
        _loss.Of(ruleSet, [.. runner.ScoresOf(ruleSet, part).Select(s => s[0])]);

    private List<RuleSet> Made(IEnumerable<double[]> points, RuleSetOrigin origin)
    {
        var made = new List<RuleSet>();
        foreach (double[] point in points)
        {
            RuleSet? ruleSet = plan.At(point, origin);
            if (ruleSet is not null && _known.TryAdd(ruleSet.Sha256, ruleSet))
                made.Add(ruleSet);
            else
                _spent.Add((point, ruleSet is null ? null : _known[ruleSet.Sha256]));
        }
        return made;
    }

    private List<RuleSet> Drawn(int count, RandomStream random)
    {
        var drawn = new List<RuleSet>();
        for (int tries = 0; tries < MostTries && drawn.Count < count; tries++)
            drawn.AddRange(
                Made(SearchDesign.LatinHypercube(plan.Space, count - drawn.Count, random), RuleSetOrigin.Design)
            );
        return drawn;
    }

    private void Halve(List<RuleSet> drawn, SearchSettings settings)
    {
        IReadOnlyList<(RuleSet Point, double Loss)> last = SuccessiveHalving.Run(
            drawn,
            settings.Keep,
            settings.Rungs,
            (left, part) =>
            {
                runner.Measure(left, part);
                return [.. left.Select(r => Result(r, part).Loss)];
            }
        );
        Dropped = drawn.Count - last.Count;
        Finish([.. last.Select(l => l.Point)]);
    }

    private void Model(SearchSettings settings, RandomStream random)
    {
        int initial = Math.Clamp(
            (int)Math.Round(settings.InitialFraction * settings.RuleSets),
            Math.Min(settings.RuleSets, 2 * plan.Axes.Count + 2),
            settings.RuleSets
        );
        Finish(Drawn(initial, random));
        for (int idle = 0; _known.Count < settings.RuleSets && idle < MostTries; )
        {
            RuleSetResult[] seen = [.. _results.Values.Where(r => r.RuleSet.Point.Length > 0)];
            if (seen.Length < 2)
                break;
            double[] values = LogarithmsOf(seen);
            double[] spent =
            [
                .. _spent.Select(s =>
                    Array.FindIndex(seen, r => r.RuleSet.Sha256 == s.Same?.Sha256) is var at && at >= 0
                        ? values[at]
                        : values.Max()
                ),
            ];
            IReadOnlyList<double[]> proposed = ExpectedImprovement.Propose(
                plan.Space,
                [.. seen.Select(r => r.RuleSet.Point), .. _spent.Select(s => s.Point)],
                [.. values, .. spent],
                Math.Min(settings.Batch, settings.RuleSets - _known.Count),
                random
            );
            if (proposed.Count == 0)
                break;
            List<RuleSet> made = Made(proposed, RuleSetOrigin.Model);
            idle = made.Count == 0 ? idle + 1 : 0;
            Finish(made);
        }
    }

    /// <summary>Logarithms of losses, so that the surrogate sees ratios: a loss of 2 against 1 matters as much as 200 against 100.</summary>
    public static double[] LogarithmsOf(IReadOnlyList<RuleSetResult> results)
    {
        double[] losses = [.. results.Select(r => r.Loss)];
        double least = 1e-3 * losses.Order().ElementAt(losses.Length / 2) + 1e-9;
        return Array.ConvertAll(losses, l => Math.Log(least + l));
    }
}
