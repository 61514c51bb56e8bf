using EchoToThickness.Validation.Numerics;

namespace EchoToThickness.Validation.Effects;

/// <summary>Effects of two-level factors: full or fractional factorial designs, in blocks or not.</summary>
public sealed record TwoLevelDesign
{
    /// <summary>Effects, main effects first; of aliased effects the one of lowest order stands for all.</summary>
    public required IReadOnlyList<FactorialEffect> Effects { get; init; }

    /// <summary>Effects that are aliased with the mean or with blocks, and therefore not estimated.</summary>
    public required IReadOnlyList<string> Lost { get; init; }

    /// <summary>The fitted model; its residual degrees of freedom are 0 when the design is saturated.</summary>
    public required LinearModel Model { get; init; }

    /// <summary>Estimates effects.</summary>
    /// <param name="values">One mean for each run: cells of one scan are one run.</param>
    /// <param name="factors">Factors with two levels each; the level that appears first in the data is the low one.</param>
    /// <param name="refusal">Why nothing was estimated; null when it was.</param>
    /// <param name="order">Highest order of interactions.</param>
    /// <param name="blocks">Blocks, or null.</param>
    /// <param name="confidence">Two-sided confidence of each effect by itself.</param>
    /// <remarks>
    /// Least squares on columns of -1 and +1. A saturated design has no spread of its own: intervals then use the pseudo standard error of
    /// Lenth (Technometrics 31, 1989), <c>1.5 median |effect|</c> of those below 2.5 times the first such figure, with a third of the number of
    /// effects as degrees of freedom.
    /// </remarks>
    public static TwoLevelDesign? Of(
        ReadOnlySpan<double> values,
        IReadOnlyList<Factor> factors,
        out Refusal? refusal,
        int order = 2,
        Factor? blocks = null,
        double confidence = 0.95
    )
    {
        ArgumentNullException.ThrowIfNull(factors);
        int n = values.Length;
        foreach (Factor factor in factors)
            if (factor.Levels.Count != 2)
            {
                refusal = new Refusal(
                    RefusalReason.NotIdentified,
                    factor.Levels.Count,
                    2,
                    $"The factor {factor.Name} has {factor.Levels.Count} levels in the data; a two-level design needs two."
                );
                return null;
            }
        double[][] signs = factors.Select(f => f.Codes.ToArray().Select(c => 2.0 * c - 1).ToArray()).ToArray();
        var columns = new List<LinearColumn> { LinearColumn.One(n) };
        if (blocks != null)
            columns.AddRange(GeneralLinearModel.Contrasts(blocks));
        int fixedColumns = columns.Count;
        var names = new List<List<string>>();
        var lost = new List<string>();
        foreach (int[] subset in Subsets(factors.Count, order))
        {
            double[] column = Enumerable
                .Range(0, n)
                .Select(i => subset.Aggregate(1.0, (product, k) => product * signs[k][i]))
                .ToArray();
            string name = string.Join(" × ", subset.Select(k => factors[k].Name));
            int alias = columns.FindIndex(fixedColumns, c => Same(c.Values, column, 1) || Same(c.Values, column, -1));
            if (alias >= 0)
                names[alias - fixedColumns].Add(name);
            else if (
                LinearModel.Fit(column, columns[..fixedColumns], confidence, out _) is { } explained
                && explained.ResidualSumOfSquares < 1e-9 * n
            )
                lost.Add(name);
            else
            {
                columns.Add(new LinearColumn(name, column));
                names.Add([name]);
            }
        }
        LinearModel? model = LinearModel.Fit(values, columns, confidence, out refusal);
        if (model == null)
            return null;
        double[] effect = names.Select((_, k) => 2 * model.Coefficients[fixedColumns + k].Value).ToArray();
        bool saturated = model.ResidualDegreesOfFreedom < 1;
        double pseudo = saturated && effect.Length >= 3 ? Lenth(effect) : double.NaN;
        double third = effect.Length / 3.0;
        return new TwoLevelDesign
        {
            Model = model,
            Lost = lost,
            Effects = names
                .Select(
                    (alike, k) =>
                    {
                        Estimate half = model.Coefficients[fixedColumns + k];
                        Estimate made = saturated
                            ? double.IsNaN(pseudo)
                                ? Estimate.Refused(
                                    "least squares",
                                    effect[k],
                                    n,
                                    n,
                                    Refusal.Observations(n, n + 1, "runs")
                                )
                                : new Estimate(
                                    "effect, pseudo standard error (Lenth 1989)",
                                    effect[k],
                                    pseudo,
                                    ConfidenceInterval.About(
                                        effect[k],
                                        Quantile.Student((1 + confidence) / 2, third) * pseudo,
                                        confidence
                                    ),
                                    n,
                                    n,
                                    third
                                )
                            : half with
                            {
                                Method = "effect, least squares, Student's t",
                                Value = effect[k],
                                StandardError = 2 * half.StandardError,
                                Interval = new(2 * half.Interval.Low, 2 * half.Interval.High, confidence),
                            };
                        return new FactorialEffect(alike[0], alike.Skip(1).ToArray(), made);
                    }
                )
                .ToArray(),
        };
    }

    private static double Lenth(double[] effects)
    {
        double[] sizes = effects.Select(Math.Abs).OrderBy(e => e).ToArray();
        double first = 1.5 * Median(sizes);
        return 1.5 * Median(sizes.Where(e => e < 2.5 * first).DefaultIfEmpty(0).ToArray());
    }

    private static double Median(double[] sorted) =>
        0.5 * (sorted[(sorted.Length - 1) / 2] + sorted[sorted.Length / 2]);

    private static bool Same(IReadOnlyList<double> a, double[] b, double sign)
    {
        for (int i = 0; i < b.Length; i++)
            if (a[i] != sign * b[i])
                return false;
        return true;
    }

    private static IEnumerable<int[]> Subsets(int count, int order)
    {
        for (int size = 1; size <= Math.Min(order, count); size++)
        {
            int[] at = Enumerable.Range(0, size).ToArray();
            while (true)
            {
                yield return (int[])at.Clone();
                int k = size - 1;
                while (k >= 0 && at[k] == count - size + k)
                    k--;
                if (k < 0)
                    break;
                at[k]++;
                for (int j = k + 1; j < size; j++)
                    at[j] = at[j - 1] + 1;
            }
        }
    }
}
