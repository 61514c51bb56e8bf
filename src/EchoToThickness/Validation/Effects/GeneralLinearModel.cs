using EchoToThickness.Validation.Numerics;
using EchoToThickness.Validation.Variance;

namespace EchoToThickness.Validation.Effects;

/// <summary>Fixed effects of factors and covariates in one model: one-factor designs, randomised blocks, factors with several levels.</summary>
public sealed record GeneralLinearModel
{
    /// <summary>A test of every term, the others being in the model (type III, contrasts that sum to zero), then the residual line.</summary>
    public required IReadOnlyList<MeanSquare> Table { get; init; }

    /// <summary>Levels against the mean of all levels of their factor.</summary>
    public required IReadOnlyList<LevelMean> Levels { get; init; }

    /// <summary>Slopes of the covariates.</summary>
    public required IReadOnlyList<Estimate> Slopes { get; init; }

    /// <summary>The fitted model.</summary>
    public required LinearModel Model { get; init; }

    /// <summary>Fits.</summary>
    /// <param name="values">One value for each independent run.</param>
    /// <param name="factors">Factors, blocks among them; an interaction is <see cref="Factor.Cross"/> with its main effects left out.</param>
    /// <param name="refusal">Why there is no model; null when there is one.</param>
    /// <param name="covariates">Columns of numbers, such as scan speed; null for none.</param>
    /// <param name="confidence">Two-sided confidence of each statement by itself.</param>
    public static GeneralLinearModel? Of(
        ReadOnlySpan<double> values,
        IReadOnlyList<Factor> factors,
        out Refusal? refusal,
        IReadOnlyList<LinearColumn>? covariates = null,
        double confidence = 0.95
    )
    {
        ArgumentNullException.ThrowIfNull(factors);
        covariates ??= [];
        int n = values.Length;
        LinearColumn[][] terms =
        [
            .. factors.Select(f => Contrasts(f).ToArray()),
            .. covariates.Select(c => new[] { c }),
        ];
        List<LinearColumn> all = [LinearColumn.One(n), .. terms.SelectMany(t => t)];
        LinearModel? model = LinearModel.Fit(values, all, confidence, out refusal);
        if (model == null)
            return null;
        if (model.ResidualDegreesOfFreedom < 1)
        {
            refusal = Refusal.Observations(n, all.Count + 1, "runs");
            return null;
        }
        var table = new List<MeanSquare>();
        for (int k = 0; k < terms.Length; k++)
        {
            List<LinearColumn> without = [LinearColumn.One(n), .. terms.Where((_, j) => j != k).SelectMany(t => t)];
            string name = k < factors.Count ? factors[k].Name : covariates[k - factors.Count].Name;
            if (terms[k].Length > 0)
                table.Add(model.Compare(LinearModel.Fit(values, without, confidence, out _)!, name));
        }
        table.Add(new MeanSquare("residual", model.ResidualSumOfSquares, model.ResidualDegreesOfFreedom));
        double t = Quantile.Student((1 + confidence) / 2, model.ResidualDegreesOfFreedom);
        var levels = new List<LevelMean>();
        int at = 1;
        foreach (Factor factor in factors)
        {
            int m = factor.Levels.Count;
            for (int level = 0; level < m && m > 1; level++)
            {
                // The last level is minus the sum of the others.
                double Weight(int j) => level < m - 1 ? (j == level ? 1 : 0) : -1;
                double value = 0;
                double variance = 0;
                for (int i = 0; i < m - 1; i++)
                {
                    value += Weight(i) * model.Coefficients[at + i].Value;
                    for (int j = 0; j < m - 1; j++)
                        variance += Weight(i) * Weight(j) * model.Covariance[at + i][at + j];
                }
                double error = Math.Sqrt(variance);
                levels.Add(
                    new LevelMean(
                        factor.Name,
                        factor.Levels[level],
                        new Estimate(
                            "level against the mean of levels, least squares",
                            value,
                            error,
                            ConfidenceInterval.About(value, t * error, confidence),
                            n,
                            n,
                            model.ResidualDegreesOfFreedom
                        )
                    )
                );
            }
            at += m - 1;
        }
        return new GeneralLinearModel
        {
            Model = model,
            Table = table,
            Levels = levels,
            Slopes = model.Coefficients.Skip(at).ToArray(),
        };
    }

    /// <summary>Columns of a factor that sum to zero over its levels: one for every level but the last.</summary>
    internal static IEnumerable<LinearColumn> Contrasts(Factor factor)
    {
        int last = factor.Levels.Count - 1;
        for (int level = 0; level < last; level++)
        {
            int own = level;
            yield return new LinearColumn(
                factor.Name + " " + factor.Levels[level],
                factor
                    .Codes.ToArray()
                    .Select(c =>
                        c == own ? 1.0
                        : c == last ? -1
                        : 0
                    )
                    .ToArray()
            );
        }
    }
}
