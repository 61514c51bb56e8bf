using EchoToThickness.Validation.Numerics;

namespace EchoToThickness.Validation.Variance;

/// <summary>Nested random factors (blocks, features in blocks, placements in features, readings): analysis of variance, equal or unequal numbers.</summary>
public sealed record NestedAnalysis
{
    private NestedAnalysis(IReadOnlyList<MeanSquare> table, IReadOnlyList<VarianceComponent> components)
    {
        Table = table;
        Components = components;
    }

    /// <summary>Lines, outermost first, the readings last.</summary>
    public IReadOnlyList<MeanSquare> Table { get; }

    /// <summary>Components in the same order.</summary>
    public IReadOnlyList<VarianceComponent> Components { get; }

    /// <summary>Analyses values.</summary>
    /// <param name="values">Values.</param>
    /// <param name="nest">Factors, outermost first; a level of an inner factor counts within its outer level only.</param>
    /// <param name="confidence">Two-sided confidence of the intervals.</param>
    /// <param name="refusal">Why nothing was made; null when it was.</param>
    /// <remarks>
    /// Sequential sums of squares; expected mean squares with the coefficients of Searle, Casella and McCulloch, Variance Components, 1992,
    /// chapter 3. Intervals: modified large sample on the estimating combination of mean squares; exact in its parts for equal
    /// numbers only, since mean squares of unequal numbers are neither independent nor chi-squared.
    /// </remarks>
    public static NestedAnalysis? Of(
        ReadOnlySpan<double> values,
        IReadOnlyList<Factor> nest,
        double confidence,
        out Refusal? refusal
    )
    {
        ArgumentNullException.ThrowIfNull(nest);
        ArgumentOutOfRangeException.ThrowIfZero(nest.Count);
        int n = values.Length;
        int depth = nest.Count;
        // groups[j]: unit of level j of each value; level 0 is the whole sample, level depth + 1 the values themselves.
        var groups = new int[depth + 2][];
        var counts = new int[depth + 2];
        groups[0] = new int[n];
        counts[0] = 1;
        Factor? chain = null;
        for (int j = 1; j <= depth; j++)
        {
            chain = chain == null ? nest[0] : Factor.Cross(chain, nest[j - 1]);
            groups[j] = chain.Codes.ToArray();
            counts[j] = chain.Levels.Count;
        }
        groups[depth + 1] = Enumerable.Range(0, n).ToArray();
        counts[depth + 1] = n;
        for (int j = 1; j <= depth + 1; j++)
            if (counts[j] <= counts[j - 1])
            {
                string what = j <= depth ? $"levels of {nest[j - 1].Name}" : "readings";
                refusal = Refusal.Observations(counts[j], counts[j - 1] + 1, what);
                return null;
            }
        var size = new double[depth + 2][];
        var mean = new double[depth + 2][];
        for (int j = 0; j <= depth + 1; j++)
        {
            size[j] = new double[counts[j]];
            mean[j] = new double[counts[j]];
            for (int i = 0; i < n; i++)
                size[j][groups[j][i]]++;
            for (int i = 0; i < n; i++)
                mean[j][groups[j][i]] += values[i] / size[j][groups[j][i]];
        }
        var table = new MeanSquare[depth + 1];
        // expected[j][m]: coefficient of component m in the sum of squares of line j.
        var expected = new double[depth + 1, depth + 1];
        for (int j = 1; j <= depth + 1; j++)
        {
            double sum = 0;
            for (int i = 0; i < n; i++)
            {
                double off = mean[j][groups[j][i]] - mean[j - 1][groups[j - 1][i]];
                sum += off * off;
            }
            table[j - 1] = new MeanSquare(j <= depth ? nest[j - 1].Name : "readings", sum, counts[j] - counts[j - 1]);
            for (int m = j; m <= depth + 1; m++)
                expected[j - 1, m - 1] = Share(groups, size, m, j) - Share(groups, size, m, j - 1);
        }
        var weights = Weights(table, expected);
        var components = new VarianceComponent[depth + 1];
        double[] squares = table.Select(line => line.Value).ToArray();
        double[] dof = table.Select(line => line.DegreesOfFreedom).ToArray();
        for (int j = 0; j <= depth; j++)
        {
            double[] c = weights[j];
            double raw = 0;
            for (int k = 0; k <= depth; k++)
                raw += c[k] * squares[k];
            components[j] = Component(table[j].Source, raw, c, squares, dof, counts[1], n, confidence);
            if (j < depth)
            {
                double f = squares[j] / squares[j + 1];
                table[j] = table[j] with { Statistic = f, Probability = Quantile.FisherAbove(f, dof[j], dof[j + 1]) };
            }
        }
        refusal = null;
        return new NestedAnalysis(table, components);
    }

    internal static VarianceComponent Component(
        string source,
        double raw,
        double[] coefficients,
        double[] squares,
        double[] dof,
        int units,
        int count,
        double confidence
    )
    {
        ConfidenceInterval square = MeanSquareCombination.ModifiedLargeSample(coefficients, squares, dof, confidence);
        double variance = Math.Max(raw, 0);
        double free = MeanSquareCombination.Satterthwaite(coefficients, squares, dof);
        var deviation = new Estimate(
            "standard deviation, analysis of variance, modified large sample interval (Ting et al. 1990)",
            Math.Sqrt(variance),
            variance > 0 ? Math.Sqrt(variance) / Math.Sqrt(2 * free) : double.NaN,
            new(Math.Sqrt(Math.Max(square.Low, 0)), Math.Sqrt(Math.Max(square.High, 0)), confidence),
            units,
            count,
            free
        );
        return new VarianceComponent(source, variance, raw, deviation);
    }

    /// <summary>Sum over units of a level of the squared sizes of their parts of an inner level, over the unit's size.</summary>
    private static double Share(int[][] groups, double[][] size, int inner, int level)
    {
        var squares = new double[size[level].Length];
        var seen = new bool[size[inner].Length];
        for (int i = 0; i < groups[inner].Length; i++)
        {
            int part = groups[inner][i];
            if (seen[part])
                continue;
            seen[part] = true;
            squares[groups[level][i]] += size[inner][part] * size[inner][part];
        }
        double sum = 0;
        for (int unit = 0; unit < squares.Length; unit++)
            sum += squares[unit] / size[level][unit];
        return sum;
    }

    /// <summary>Solves the triangular system of expected mean squares: coefficients of the mean squares for every component.</summary>
    private static double[][] Weights(MeanSquare[] table, double[,] expected)
    {
        int n = table.Length;
        var weights = new double[n][];
        for (int j = n - 1; j >= 0; j--)
        {
            weights[j] = new double[n];
            weights[j][j] = 1;
            for (int m = j + 1; m < n; m++)
            {
                double k = expected[j, m] / table[j].DegreesOfFreedom;
                for (int i = 0; i < n; i++)
                    weights[j][i] -= k * weights[m][i];
            }
            double own = expected[j, j] / table[j].DegreesOfFreedom;
            for (int i = 0; i < n; i++)
                weights[j][i] /= own;
        }
        return weights;
    }
}
