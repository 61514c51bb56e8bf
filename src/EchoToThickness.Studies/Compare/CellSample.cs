using EchoToThickness.Pairing;
using EchoToThickness.Studies.Running;
using EchoToThickness.Studies.Sources;
using EchoToThickness.Studies.StudyFiles;

namespace EchoToThickness.Studies.Compare;

/// <summary>The judged cells of one method at one point, all blocks joined, with their clusters.</summary>
internal sealed class CellSample
{
    private readonly double[] _error;
    private readonly double[] _bound;
    private readonly float[] _wrong;
    private readonly Marks[] _marks;

    private CellSample(int cells, int clusters)
    {
        Clusters = clusters;
        Cluster = new int[cells];
        TruthMetres = new double[cells];
        _error = new double[cells];
        _bound = new double[cells];
        _wrong = new float[cells];
        _marks = new Marks[cells];
    }

    [Flags]
    private enum Marks : ushort
    {
        None = 0,
        Present = 1,
        Gross = 2,
        Doubled = 4,
        Halved = 8,
        Cycle = 16,
        Uncertain = 32,
        InNoise = 64,
        InCombined = 128,
    }

    /// <summary>Number of clusters.</summary>
    public int Clusters { get; }

    /// <summary>Shape [cell]: cluster.</summary>
    public int[] Cluster { get; }

    /// <summary>Shape [cell]: true wall, metres.</summary>
    public double[] TruthMetres { get; }

    /// <summary>Shape [cell]: bits of what was planted; empty when not known.</summary>
    public uint[] Planted { get; private set; } = [];

    /// <summary>Shape [cell]: error, metres; NaN when not measured.</summary>
    public ReadOnlySpan<double> ErrorMetres => _error;

    /// <summary>Shape [cell]: stated probability that the echo is the wrong one; NaN where not measured or not stated.</summary>
    public ReadOnlySpan<float> WrongProbability => _wrong;

    /// <summary>Whether a cell counts.</summary>
    public bool IsPresent(int cell) => _marks[cell].HasFlag(Marks.Present);

    /// <summary>Whether a cell is grossly wrong.</summary>
    public bool IsGross(int cell) => _marks[cell].HasFlag(Marks.Gross);

    /// <summary>Joins and judges blocks.</summary>
    /// <param name="blocks">Blocks of one point, in order.</param>
    /// <param name="rulesOf">Limits for a block.</param>
    /// <param name="quantile">Half width of an interval in standard uncertainties.</param>
    /// <param name="bound">Which echoes the bound may use; null: the source's own choice.</param>
    public static CellSample Of(
        IReadOnlyList<(BlockTruth Truth, MethodResult Result)> blocks,
        Func<BlockTruth, AccuracyRules> rulesOf,
        double quantile,
        BoundChoice? bound
    )
    {
        int[] clusters = [.. blocks.Select(b => b.Truth.Cluster.Length == 0 ? 0 : b.Truth.Cluster.Max() + 1)];
        var sample = new CellSample(blocks.Sum(b => b.Truth.Cluster.Length), clusters.Sum());
        if (blocks.All(b => b.Truth.Planted.Length == b.Truth.Cluster.Length))
            sample.Planted = [.. blocks.SelectMany(b => b.Truth.Planted)];
        int cell = 0;
        int firstCluster = 0;
        for (int block = 0; block < blocks.Count; block++)
        {
            (BlockTruth truth, MethodResult result) = blocks[block];
            AccuracyRules rules = rulesOf(truth);
            double[] bounds = truth.BoundMetres(bound);
            for (int i = 0; i < truth.Cluster.Length; i++, cell++)
            {
                sample.Cluster[cell] = firstCluster + truth.Cluster[i];
                sample._bound[cell] = bounds.Length > 0 ? bounds[i] : double.NaN;
                sample.Judge(cell, i, truth, result, rules, quantile);
            }
            firstCluster += clusters[block];
        }
        return sample;
    }

    /// <summary>Sums by cluster of the cells that a filter lets pass, shape [cluster, sum].</summary>
    public double[] ByCluster(Func<int, bool> passes)
    {
        var rows = new double[(long)Clusters * CellSums.Width];
        for (int cell = 0; cell < Cluster.Length; cell++)
            if (passes(cell))
                AddTo(rows.AsSpan(Cluster[cell] * CellSums.Width, CellSums.Width), cell);
        return rows;
    }

    private void AddTo(Span<double> row, int cell)
    {
        Marks marks = _marks[cell];
        if (!marks.HasFlag(Marks.Present))
        {
            row[CellSums.LeftOut]++;
            return;
        }
        void Count(Span<double> sums, int sum, Marks mark) => sums[sum] += marks.HasFlag(mark) ? 1 : 0;
        double bound = _bound[cell];
        double error = _error[cell];
        row[CellSums.Cells]++;
        if (bound > 0)
        {
            row[CellSums.BoundCells]++;
            row[CellSums.BoundSquared] += bound * bound;
        }
        if (double.IsNaN(error))
            return;
        row[CellSums.Measured]++;
        row[CellSums.Error] += error;
        row[CellSums.ErrorSquared] += error * error;
        Count(row, CellSums.Gross, Marks.Gross);
        Count(row, CellSums.Doubled, Marks.Doubled);
        Count(row, CellSums.Halved, Marks.Halved);
        Count(row, CellSums.Cycle, Marks.Cycle);
        Count(row, CellSums.Uncertain, Marks.Uncertain);
        Count(row, CellSums.InNoise, Marks.InNoise);
        Count(row, CellSums.InCombined, Marks.InCombined);
        bool gross = marks.HasFlag(Marks.Gross);
        row[CellSums.Thick] += gross && error > 0 ? 1 : 0;
        double squared = bound > 0 ? error / bound * (error / bound) : 0;
        row[CellSums.Bounded] += bound > 0 ? 1 : 0;
        row[CellSums.BoundedSquared] += squared;
        if (gross)
            return;
        row[CellSums.Sound]++;
        row[CellSums.SoundSquared] += error * error;
        row[CellSums.SoundBounded] += bound > 0 ? 1 : 0;
        row[CellSums.SoundBoundedSquared] += squared;
    }

    private void Judge(int cell, int i, BlockTruth truth, MethodResult result, AccuracyRules rules, double quantile)
    {
        double wall = truth.ThicknessMetres[i];
        TruthMetres[cell] = wall;
        _error[cell] = double.NaN;
        _wrong[cell] = float.NaN;
        if (double.IsNaN(wall) || result.Status[i] == (byte)CellStatus.NotScanned)
            return;
        Marks marks = Marks.Present;
        double value = result.ThicknessMetres[i];
        if (!double.IsNaN(value))
        {
            double minimum = truth.MinimumMetres.Length > 0 ? truth.MinimumMetres[i] : double.NaN;
            CellVerdict verdict = rules.Judge(value, wall, minimum);
            _error[cell] = verdict.ErrorMetres;
            _wrong[cell] = result.WrongProbability[i];
            marks |=
                (verdict.Gross ? Marks.Gross : 0)
                | (verdict.Doubled ? Marks.Doubled : 0)
                | (verdict.Halved ? Marks.Halved : 0)
                | (verdict.Cycle ? Marks.Cycle : 0);
            double size = Math.Abs(verdict.ErrorMetres);
            if (!verdict.Gross && !float.IsNaN(result.UncertaintyMetres[i]))
                marks |=
                    Marks.Uncertain
                    | (size <= quantile * result.NoiseMetres[i] ? Marks.InNoise : 0)
                    | (size <= quantile * result.UncertaintyMetres[i] ? Marks.InCombined : 0);
        }
        _marks[cell] = marks;
    }
}
