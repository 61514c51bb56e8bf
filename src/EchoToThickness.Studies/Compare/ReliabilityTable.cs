using EchoToThickness.Studies.Resampling;

namespace EchoToThickness.Studies.Compare;

/// <summary>
/// Counts measured and wrong cells by stated probability of a wrong echo: twenty narrow logarithmic steps a decade, joined from the low end
/// into bins half a decade wide, and wider where fewer than <see cref="FewestCells"/> cells would fall into one.
/// </summary>
internal sealed class ReliabilityTable
{
    /// <summary>Fewest cells of a bin.</summary>
    public const int FewestCells = 400;

    private const int StepsPerDecade = 20;
    private const int Decades = 8;
    private const double BinDecades = 0.5;

    private readonly long[] _cells = new long[StepsPerDecade * Decades + 1];
    private readonly long[] _wrong = new long[StepsPerDecade * Decades + 1];
    private readonly double[] _stated = new double[StepsPerDecade * Decades + 1];
    private readonly double[] _lowest = new double[StepsPerDecade * Decades + 1];
    private readonly double[] _highest = new double[StepsPerDecade * Decades + 1];

    /// <summary>Counts one cell.</summary>
    /// <param name="stated">Stated probability; NaN counts nothing.</param>
    /// <param name="wrong">Whether the cell is grossly wrong.</param>
    public void Add(double stated, bool wrong)
    {
        if (double.IsNaN(stated))
            return;
        double decades = Decades + Math.Log10(Math.Clamp(stated, 1e-8, 1));
        int step = (int)(decades * StepsPerDecade);
        _lowest[step] = _cells[step] == 0 ? stated : Math.Min(_lowest[step], stated);
        _highest[step] = Math.Max(_highest[step], stated);
        _cells[step]++;
        _wrong[step] += wrong ? 1 : 0;
        _stated[step] += stated;
    }

    /// <summary>The bins that hold enough cells, from the low end; what is left over at the high end joins the last.</summary>
    /// <param name="source">Name of the source.</param>
    /// <param name="method">Name of the method.</param>
    /// <param name="level">Confidence level.</param>
    public IReadOnlyList<ReliabilityRow> Rows(string source, string method, double level)
    {
        var ends = new List<(int From, int To)>();
        int from = 0;
        long cells = 0;
        for (int step = 0; step < _cells.Length; step++)
        {
            if (cells == 0)
                from = step;
            cells += _cells[step];
            if (cells < FewestCells || step + 1 - from < BinDecades * StepsPerDecade)
                continue;
            ends.Add((from, step + 1));
            cells = 0;
        }
        if (cells >= FewestCells)
            ends.Add((from, _cells.Length));
        else if (cells > 0 && ends.Count > 0)
            ends[^1] = (ends[^1].From, _cells.Length);
        return [.. ends.Select(end => Row(source, method, level, end.From, end.To))];
    }

    private ReliabilityRow Row(string source, string method, double level, int from, int to)
    {
        int[] steps = [.. Enumerable.Range(from, to - from).Where(s => _cells[s] > 0)];
        long cells = steps.Sum(s => _cells[s]);
        long wrong = steps.Sum(s => _wrong[s]);
        return new ReliabilityRow(
            source,
            method,
            steps.Min(s => _lowest[s]),
            steps.Max(s => _highest[s]),
            cells,
            wrong,
            steps.Sum(s => _stated[s]) / cells,
            new FigureValue((double)wrong / cells, ExactBinomial.ClopperPearson(wrong, cells, level))
        );
    }
}
