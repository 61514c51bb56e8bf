using System.Globalization;
using EchoToThickness.Measurement;
using EchoToThickness.Measurement.Shared;
using EchoToThickness.Procedures;
using EchoToThickness.Stacks;
using EchoToThickness.Studies.Running;
using EchoToThickness.Studies.Sources;

namespace EchoToThickness.Studies.Tune;

/// <summary>Measures rule sets on the stacks of a study, as far as the journal does not hold them, and adds up their scores.</summary>
public sealed class TuneRunner : IDisposable
{
    /// <summary>Rule sets measured in one pass: their results of a block are in memory together.</summary>
    private const int MostTogether = 48;
    private const long RoomBytes = 1L << 30;

    private readonly TunePlan _plan;
    private readonly ScoreJournal _journal;
    private readonly StudyOptions _options;
    private readonly BlockCache _blocks;
    private readonly string _judge;
    private long _done;

    /// <summary>Prepares a run.</summary>
    /// <param name="plan">The study.</param>
    /// <param name="journal">Scores measured so far.</param>
    /// <param name="options">Threads, progress, cancellation.</param>
    public TuneRunner(TunePlan plan, ScoreJournal journal, StudyOptions options)
    {
        ArgumentNullException.ThrowIfNull(plan);
        ArgumentNullException.ThrowIfNull(journal);
        ArgumentNullException.ThrowIfNull(options);
        _plan = plan;
        _journal = journal;
        _options = options;
        _blocks = new BlockCache(plan.Study.Judge, RoomBytes);
        // Everything of the judge but the weights changes a score.
        _judge =
            TomlBinder.Write(plan.Study.Judge with { WorstShare = 0 })
            + string.Join(',', TuneScorer.LayersFor(plan.Objectives));
    }

    /// <summary>Cells measured, summed over rule sets; the others were found finished.</summary>
    public long Measured { get; private set; }

    /// <summary>Cells found finished.</summary>
    public long Found { get; private set; }

    /// <summary>What is expected to be measured in all, for the progress shown.</summary>
    public long Expected { get; set; }

    /// <inheritdoc/>
    public void Dispose() => _blocks.Dispose();

    /// <summary>Makes sure that rule sets are measured on a part of every stack.</summary>
    /// <param name="ruleSets">The rule sets.</param>
    /// <param name="part">Part of every stack, over 0 to 1.</param>
    /// <exception cref="OperationCanceledException">The caller cancelled; what was finished stays.</exception>
    public void Measure(IReadOnlyList<RuleSet> ruleSets, double part = 1)
    {
        ArgumentNullException.ThrowIfNull(ruleSets);
        RuleSet[] ordered = [.. ruleSets.DistinctBy(r => r.Sha256).OrderBy(StagesOf, StringComparer.Ordinal)];
        for (int point = 0; point < _plan.Points.Count; point++)
        for (int block = 0; block < _plan.Points[point].Blocks; block++)
        {
            StackInfo info = _plan.Points[point].InfoOf(block);
            int[] windows = ScanWindows.Part(ScanWindows.Count(info.Shape), part);
            string[] contexts = [.. windows.Select(w => ContextOf(point, block, w))];
            foreach (RuleSet[] together in ordered.Chunk(MostTogether))
            {
                _options.Cancellation.ThrowIfCancellationRequested();
                Measure(point, block, windows, contexts, together);
            }
        }
        _journal.Flush();
    }

    /// <summary>Scores of a rule set by stack: of all its windows, of a fold, or of all but a fold.</summary>
    /// <param name="ruleSet">A rule set that was measured.</param>
    /// <param name="part">Part of every stack that was measured.</param>
    /// <param name="folds">Folds; 0 for none.</param>
    /// <returns>Shape [stack][fold], or [stack][0] without folds.</returns>
    public WindowScore[][] ScoresOf(RuleSet ruleSet, double part = 1, int folds = 0)
    {
        ArgumentNullException.ThrowIfNull(ruleSet);
        var scores = new WindowScore[_plan.Points.Count][];
        for (int point = 0; point < scores.Length; point++)
        {
            scores[point] = [.. Enumerable.Range(0, Math.Max(1, folds)).Select(_ => new WindowScore())];
            for (int block = 0; block < _plan.Points[point].Blocks; block++)
            {
                int windows = ScanWindows.Count(_plan.Points[point].InfoOf(block).Shape);
                foreach (int window in ScanWindows.Part(windows, part))
                {
                    int fold = folds == 0 ? 0 : ScanWindows.FoldOf(window, windows, folds);
                    string name = ScoreJournal.NameOf(ContextOf(point, block, window), ruleSet.Sha256);
                    scores[point]
                        [fold]
                        .Add(
                            _journal.Read(name)
                                ?? throw new InvalidOperationException(
                                    "A rule set was asked for its scores before it was measured."
                                )
                        );
                }
            }
        }
        return scores;
    }

    /// <summary>Measures a few rule sets on one block and gives the cells themselves.</summary>
    internal (BlockFacts Facts, TuneResult[] Results, IAScanSource Source) Cells(
        int point,
        int block,
        IReadOnlyList<RuleSet> ruleSets
    )
    {
        (IAScanSource source, BlockFacts facts) = _blocks.Get(_plan.Points[point], block, _options.Cancellation);
        return (facts, Run(source, ruleSets, [], false), source);
    }

    private void Measure(int point, int block, int[] windows, string[] contexts, RuleSet[] ruleSets)
    {
        long perWindow =
            _plan.Points[point].InfoOf(block).Shape.Cells / ScanWindows.Count(_plan.Points[point].InfoOf(block).Shape);
        bool Holds(RuleSet ruleSet, int i) => _journal.Holds(ScoreJournal.NameOf(contexts[i], ruleSet.Sha256));
        int[] missing = [.. Enumerable.Range(0, windows.Length).Where(i => ruleSets.Any(r => !Holds(r, i)))];
        RuleSet[] needed = [.. ruleSets.Where(r => missing.Any(i => !Holds(r, i)))];
        Found += (ruleSets.Length * windows.Length - needed.Length * missing.Length) * perWindow;
        Report((ruleSets.Length * windows.Length - needed.Length * missing.Length) * perWindow);
        if (needed.Length == 0)
            return;
        (IAScanSource source, BlockFacts facts) = _blocks.Get(_plan.Points[point], block, _options.Cancellation);
        (int FirstScan, int ScanCount)[] wanted =
        [
            .. missing.Select(i => ScanWindows.Of(facts.Info.Shape, windows[i])),
        ];
        TuneResult[] results = Run(source, needed, wanted, true);
        TuneResult[]? partners = PartnerOf(point) is { } partner
            ? Run(_blocks.Get(_plan.Points[partner], 0, _options.Cancellation).Source, needed, wanted, false)
            : null;
        Parallel.For(
            0,
            needed.Length,
            new ParallelOptions
            {
                MaxDegreeOfParallelism = _options.Threads > 0 ? _options.Threads : Environment.ProcessorCount,
                CancellationToken = _options.Cancellation,
            },
            r =>
            {
                var kinds = new CellKind[facts.Info.Shape.Cells];
                var errors = new float[facts.Info.Shape.Cells];
                foreach (int i in missing)
                    _journal.Write(
                        ScoreJournal.NameOf(contexts[i], needed[r].Sha256),
                        TuneScorer.Score(facts, results[r], partners?[r], windows[i], _plan.Study.Judge, kinds, errors)
                    );
            }
        );
        Measured += needed.Length * missing.Length * perWindow;
    }

    private TuneResult[] Run(
        IAScanSource source,
        IReadOnlyList<RuleSet> ruleSets,
        IReadOnlyList<(int, int)> wanted,
        bool report
    )
    {
        MeasurementPlan[] plans = [.. ruleSets.Select(r => MeasurementPlan.Compile(r.Procedure, source.Info))];
        TuneResult[] results = [.. plans.Select(p => new TuneResult(source.Info.Shape, p.Layers))];
        SharedMeasurement.Run(
            source,
            plans,
            (plan, tile) => results[plan].Write(tile),
            new SharedOptions
            {
                Threads = _options.Threads,
                Wanted = wanted,
                Progress = report ? Report : null,
                Cancellation = _options.Cancellation,
            }
        );
        return results;
    }

    private int? PartnerOf(int point)
    {
        foreach ((int first, int second) in _plan.Repeats)
            if (first == point)
                return second;
        return null;
    }

    private string ContextOf(int point, int block, int window)
    {
        StudyPoint at = _plan.Points[point];
        string partner = PartnerOf(point) is { } other ? _plan.Points[other].Identity : "";
        return string.Create(
            CultureInfo.InvariantCulture,
            $"{UnitStore.Build}\n{at.Identity}\n{at.BlockIdentity(block)}\n{partner}\n{_judge}\n{window} of {ScanWindows.Most}"
        );
    }

    private void Report(long cells)
    {
        long done = Interlocked.Add(ref _done, cells);
        _options.Progress?.Invoke(done, Math.Max(done, Expected));
    }

    // Rule sets that agree in the first stages stand side by side, so that they share them.
    private static string StagesOf(RuleSet ruleSet)
    {
        Procedure p = ruleSet.Procedure;
        return ProcedureText.Write(
                new Procedure
                {
                    Conditioning = p.Conditioning,
                    Interface = p.Interface,
                    Train = p.Train,
                }
            )
            + ProcedureText.Write(new Procedure { Gates = p.Gates })
            + ruleSet.Sha256;
    }
}
