using EchoToThickness.Studies.Resampling;

namespace EchoToThickness.Studies.Compare;

/// <summary>One method against the reference on one group: what the paired tests need.</summary>
internal sealed class PairTotals(int resamples)
{
    private const int Width = 3;
    private readonly double[] _sums = new double[Width];
    private readonly double[] _resampled = new double[resamples * Width];
    private readonly List<double> _differences = [];
    private readonly long[] _wins = new long[4];

    /// <summary>Judges the pairs of one point, by cluster.</summary>
    /// <param name="method">Cells of the method.</param>
    /// <param name="reference">Cells of the reference, the same A-scans.</param>
    /// <param name="weights">Shape [resample, cluster].</param>
    public void Add(CellSample method, CellSample reference, ushort[][] weights)
    {
        int clusters = method.Clusters;
        var squares = new double[clusters * Width];
        var difference = new double[clusters];
        var both = new int[clusters];
        var gross = new int[clusters];
        var missing = new int[clusters];
        for (int cell = 0; cell < method.Cluster.Length; cell++)
        {
            if (!method.IsPresent(cell))
                continue;
            int cluster = method.Cluster[cell];
            double a = method.ErrorMetres[cell];
            double b = reference.ErrorMetres[cell];
            gross[cluster] += (method.IsGross(cell) ? 1 : 0) - (reference.IsGross(cell) ? 1 : 0);
            missing[cluster] += (double.IsNaN(a) ? 1 : 0) - (double.IsNaN(b) ? 1 : 0);
            if (double.IsNaN(a) || double.IsNaN(b))
                continue;
            both[cluster]++;
            difference[cluster] += Math.Abs(a) - Math.Abs(b);
            if (method.IsGross(cell) || reference.IsGross(cell))
                continue;
            squares[cluster * Width] += a * a;
            squares[cluster * Width + 1] += b * b;
            squares[cluster * Width + 2]++;
        }
        for (int cluster = 0; cluster < clusters; cluster++)
        {
            if (both[cluster] > 0)
                _differences.Add(difference[cluster] / both[cluster]);
            _wins[0] += gross[cluster] > 0 ? 1 : 0;
            _wins[1] += gross[cluster] < 0 ? 1 : 0;
            _wins[2] += missing[cluster] > 0 ? 1 : 0;
            _wins[3] += missing[cluster] < 0 ? 1 : 0;
            for (int k = 0; k < Width; k++)
                _sums[k] += squares[cluster * Width + k];
        }
        Parallel.For(
            0,
            weights.Length,
            resample =>
            {
                ushort[] counts = weights[resample];
                for (int cluster = 0; cluster < clusters; cluster++)
                for (int k = 0; k < Width; k++)
                    _resampled[resample * Width + k] += counts[cluster] * squares[cluster * Width + k];
            }
        );
    }

    /// <summary>The tests, without correction for several of them.</summary>
    public PairedRow Row(CompareGroup group, string method, string reference, double level)
    {
        var ratios = new double[resamples];
        for (int b = 0; b < resamples; b++)
            ratios[b] = Math.Sqrt(_resampled[b * Width] / _resampled[b * Width + 1]);
        double wilcoxon = _differences.Count == 0 ? double.NaN : SignedRank.PValue(_differences.ToArray());
        double gross = ExactBinomial.SignTest(_wins[0], _wins[1]);
        double missing = ExactBinomial.SignTest(_wins[2], _wins[3]);
        return new PairedRow
        {
            Method = method,
            Reference = reference,
            Group = group,
            BothSound = (long)_sums[2],
            RmseRatio = new FigureValue(Math.Sqrt(_sums[0] / _sums[1]), BootstrapInterval.Percentile(ratios, level)),
            WilcoxonPValue = wilcoxon,
            WilcoxonAdjusted = wilcoxon,
            MoreGross = _wins[0],
            FewerGross = _wins[1],
            GrossPValue = gross,
            GrossAdjusted = gross,
            MoreMissing = _wins[2],
            FewerMissing = _wins[3],
            MissingPValue = missing,
            MissingAdjusted = missing,
        };
    }

    /// <summary>Corrects rows of one kind for their number.</summary>
    public static IEnumerable<PairedRow> Adjust(IReadOnlyList<PairedRow> rows)
    {
        double[] wilcoxon = Holm.Adjust([.. rows.Select(r => r.WilcoxonPValue)]);
        double[] gross = Holm.Adjust([.. rows.Select(r => r.GrossPValue)]);
        double[] missing = Holm.Adjust([.. rows.Select(r => r.MissingPValue)]);
        return rows.Select(
            (row, i) =>
                row with
                {
                    WilcoxonAdjusted = wilcoxon[i],
                    GrossAdjusted = gross[i],
                    MissingAdjusted = missing[i],
                }
        );
    }
}
