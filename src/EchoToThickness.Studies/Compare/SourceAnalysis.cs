using EchoToThickness.Studies.Resampling;
using EchoToThickness.Studies.Sources;
using EchoToThickness.Studies.StudyFiles;

namespace EchoToThickness.Studies.Compare;

/// <summary>The analysis of one source; points are added one by one and only sums are kept.</summary>
internal sealed class SourceAnalysis
{
    private readonly StudyPlan _plan;
    private readonly string _source;
    private readonly int _resamples;
    private readonly double _level;
    private readonly List<(CompareGroup Group, GroupTotals[] Totals)> _pooled = [];
    private readonly List<(CompareGroup Group, GroupTotals[] Totals)> _points = [];
    private readonly List<CompareRow> _pointRows = [];
    private readonly ReliabilityTable[] _reliability;
    private readonly PairTotals?[] _pairs;
    private readonly List<PairedRow> _pointPairs = [];

    public SourceAnalysis(StudyPlan plan, string source)
    {
        _plan = plan;
        _source = source;
        _resamples = plan.Study.Report.Bootstrap;
        _level = plan.Study.Report.Level;
        _reliability = [.. plan.Methods.Select(_ => new ReliabilityTable())];
        _pairs = [.. plan.Methods.Select((_, m) => m == plan.Reference ? null : new PairTotals(_resamples))];
    }

    public void Add(StudyPoint point, CellSample[] samples)
    {
        ushort[][] weights = Weights(point, samples[0].Clusters);
        var group = new CompareGroup(GroupKind.Point, _source, point.Values, null);
        var totals = new GroupTotals[samples.Length];
        for (int m = 0; m < samples.Length; m++)
        {
            CellSample sample = samples[m];
            for (int cell = 0; cell < sample.Cluster.Length; cell++)
                _reliability[m].Add(sample.WrongProbability[cell], sample.IsGross(cell));
            double[] rows = sample.ByCluster(_ => true);
            double[] resampled = Resample(rows, weights);
            var quantile = new WeightedQuantile(sample);
            totals[m] = new GroupTotals(_resamples);
            totals[m].Add(rows, resampled);
            totals[m].AddSizes(quantile.SortedMetres.ToArray());
            var p95 = new double[_resamples];
            Parallel.For(0, _resamples, b => p95[b] = quantile.Of(weights[b]));
            _pointRows.Add(RowBuilder.Build(group, _plan.Methods[m].Name, totals[m], rows, p95, _level));
            Pool(new CompareGroup(GroupKind.Source, _source, [], null), m, rows, resampled, quantile.SortedMetres);
            foreach (SweepValue value in point.Values)
                Pool(
                    new CompareGroup(GroupKind.Margin, _source, [value], null),
                    m,
                    rows,
                    resampled,
                    quantile.SortedMetres
                );
            foreach ((CompareGroup part, Func<int, bool> passes) in Parts(point, sample))
            {
                double[] of = sample.ByCluster(passes);
                Pool(part, m, of, Resample(of, weights), Sizes(sample, passes));
            }
        }
        _points.Add((group, totals));
        Pair(group, samples, weights);
    }

    /// <summary>Rows: all, margins, bands, points; groups that repeat another are left out.</summary>
    public IEnumerable<CompareRow> Rows()
    {
        IEnumerable<CompareRow> pooled = _pooled
            .Where(g => Tells(g.Group))
            .OrderBy(g => g.Group.Kind)
            .ThenBy(g => g.Group.BandMetres?.Low ?? 0)
            .ThenBy(g => PlantedParts.PlaceOf(g.Group.Planted))
            .ThenBy(g => g.Group.Values.Count == 0 ? 0 : KeyOrder(g.Group.Values[0].Key))
            .SelectMany(g =>
                g.Totals.Select((t, m) => RowBuilder.Build(g.Group, _plan.Methods[m].Name, t, [], [], _level))
            );
        return [.. pooled, .. _points.Count > 1 ? _pointRows : []];
    }

    public IEnumerable<PairedRow> Paired()
    {
        var group = new CompareGroup(GroupKind.Source, _source, [], null);
        IEnumerable<PairedRow> pooled = _pairs
            .Select((pair, m) => pair?.Row(group, _plan.Methods[m].Name, _plan.Methods[_plan.Reference].Name, _level))
            .OfType<PairedRow>();
        return [.. pooled, .. _points.Count > 1 ? _pointPairs : []];
    }

    public IEnumerable<ThresholdRow> Thresholds()
    {
        string[] names = [.. _plan.Methods.Select(m => m.Name)];
        bool several = _points.Any(p => p.Group.Values.Count > 1);
        IEnumerable<ThresholdRow> pooled = several
            ? ThresholdFinder.Rows(
                _source,
                names,
                [.. _pooled.Where(g => g.Group.Kind == GroupKind.Margin)],
                _resamples,
                _level
            )
            : [];
        return [.. pooled, .. ThresholdFinder.Rows(_source, names, _points, _resamples, _level)];
    }

    /// <summary>Stated against observed chance of a wrong echo, all points pooled.</summary>
    public IEnumerable<ReliabilityRow> Reliability() =>
        _plan.Methods.SelectMany((method, m) => _reliability[m].Rows(_source, method.Name, _level));

    private int KeyOrder(string key) => _plan.Study.Sweeps.ToList().FindIndex(s => s.Key == key);

    /// <summary>A margin tells something where several keys are swept; a band where there are at least two.</summary>
    private bool Tells(CompareGroup group) =>
        group.Kind switch
        {
            GroupKind.Margin => _points.Any(p => p.Group.Values.Count > 1),
            GroupKind.Band => _pooled.Count(g => g.Group.Kind == GroupKind.Band) > 1,
            _ => true,
        };

    private void Pool(CompareGroup group, int method, double[] rows, double[] resampled, ReadOnlySpan<double> sizes)
    {
        int at = _pooled.FindIndex(g =>
            g.Group.Kind == group.Kind
            && g.Group.BandMetres == group.BandMetres
            && g.Group.Planted == group.Planted
            && g.Group.Values.SequenceEqual(group.Values)
        );
        if (at < 0)
        {
            at = _pooled.Count;
            _pooled.Add((group, [.. _plan.Methods.Select(_ => new GroupTotals(_resamples))]));
        }
        _pooled[at].Totals[method].Add(rows, resampled);
        _pooled[at].Totals[method].AddSizes(sizes.ToArray());
    }

    private void Pair(CompareGroup group, CellSample[] samples, ushort[][] weights)
    {
        string reference = _plan.Methods[_plan.Reference].Name;
        for (int m = 0; m < samples.Length; m++)
        {
            if (_pairs[m] is not { } pooled)
                continue;
            pooled.Add(samples[m], samples[_plan.Reference], weights);
            var own = new PairTotals(_resamples);
            own.Add(samples[m], samples[_plan.Reference], weights);
            _pointPairs.Add(own.Row(group, _plan.Methods[m].Name, reference, _level));
        }
    }

    private ushort[][] Weights(StudyPoint point, int clusters)
    {
        ulong seed = ContentHash.Word($"bootstrap {_plan.Study.Header.Seed}\n{point.Identity}\n{point}");
        var weights = new ushort[_resamples][];
        Parallel.For(
            0,
            _resamples,
            b =>
            {
                weights[b] = new ushort[clusters];
                ClusterWeights.Draw(seed, b, weights[b]);
            }
        );
        return weights;
    }

    private double[] Resample(double[] rows, ushort[][] weights)
    {
        var sums = new double[_resamples * CellSums.Width];
        Parallel.For(
            0,
            _resamples,
            b =>
            {
                Span<double> sum = sums.AsSpan(b * CellSums.Width, CellSums.Width);
                ushort[] counts = weights[b];
                for (int cluster = 0; cluster < counts.Length; cluster++)
                    if (counts[cluster] > 0)
                        CellSums.AddWeighted(
                            rows.AsSpan(cluster * CellSums.Width, CellSums.Width),
                            counts[cluster],
                            sum
                        );
            }
        );
        return sums;
    }

    /// <summary>Parts of a point that are pooled over points: bands of true wall, and what was planted.</summary>
    private IEnumerable<(CompareGroup Group, Func<int, bool> Passes)> Parts(StudyPoint point, CellSample sample)
    {
        IReadOnlyList<double> edges = _plan.Study.Report.WallBandsMetres;
        // Where the wall itself is swept, its margins say the same.
        for (int band = 0; band + 1 < edges.Count && point.Values.All(v => v.Key != "wall"); band++)
        {
            (double low, double high) = (edges[band], edges[band + 1]);
            bool In(int cell) => sample.TruthMetres[cell] >= low && sample.TruthMetres[cell] < high;
            if (Enumerable.Range(0, sample.Cluster.Length).Any(In))
                yield return (new CompareGroup(GroupKind.Band, _source, [], (low, high)), In);
        }
        if (sample.Planted.All(p => p == 0))
            yield break;
        foreach ((string words, Func<uint, bool> has) in PlantedParts.All)
            if (sample.Planted.Any(has))
                yield return (
                    new CompareGroup(GroupKind.Planted, _source, [], null) { Planted = words },
                    cell => has(sample.Planted[cell])
                );
    }

    private static double[] Sizes(CellSample sample, Func<int, bool> passes)
    {
        var sizes = new List<double>();
        for (int cell = 0; cell < sample.Cluster.Length; cell++)
            if (!double.IsNaN(sample.ErrorMetres[cell]) && passes(cell))
                sizes.Add(Math.Abs(sample.ErrorMetres[cell]));
        return [.. sizes];
    }
}
