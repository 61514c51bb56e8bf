using EchoToThickness.Statistics;
using EchoToThickness.Validation.Numerics;

namespace EchoToThickness.Validation.Budget;

/// <summary>Uncertainty of a result by the law of propagation (JCGM 100:2008, clauses 5 and 6, annex G).</summary>
public sealed record MeasurementBudget
{
    /// <summary>Result.</summary>
    public required double Value { get; init; }

    /// <summary>Lines in the order of the inputs.</summary>
    public required IReadOnlyList<BudgetLine> Lines { get; init; }

    /// <summary>Combined standard uncertainty, first order (equations 10 and 13).</summary>
    public required double StandardUncertainty { get; init; }

    /// <summary>Combined standard uncertainty with the second-order terms of 5.1.2, note; for independent inputs that are normal.</summary>
    public required double SecondOrderStandardUncertainty { get; init; }

    /// <summary>Effective degrees of freedom (Welch and Satterthwaite, G.2b); NaN where correlated inputs have finite ones.</summary>
    public required double DegreesOfFreedom { get; init; }

    /// <summary>k.</summary>
    public required double CoverageFactor { get; init; }

    /// <summary>Result with its coverage interval value ± k u.</summary>
    public required Estimate Expanded { get; init; }

    /// <summary>k u.</summary>
    public double ExpandedUncertainty => CoverageFactor * StandardUncertainty;

    /// <summary>Makes a budget.</summary>
    /// <param name="inputs">Inputs.</param>
    /// <param name="model">The result from values of the inputs, in their order.</param>
    /// <param name="correlation">Correlation coefficients, shape [input, input]; null when all are independent.</param>
    /// <param name="sensitivities">Analytic sensitivities; null to take derivatives by differences over a quarter and a half of each uncertainty.</param>
    /// <param name="coverage">Probability of the coverage interval, 0 to 1.</param>
    /// <param name="truncate">Round the effective degrees of freedom down to a whole number, as JCGM 100 G.4.1 does for tables.</param>
    /// <exception cref="StatisticsException">An impossible uncertainty or correlation.</exception>
    public static MeasurementBudget Of(
        IReadOnlyList<UncertaintyInput> inputs,
        Func<double[], double> model,
        double[,]? correlation = null,
        IReadOnlyList<double>? sensitivities = null,
        double coverage = 0.95,
        bool truncate = false
    )
    {
        ArgumentNullException.ThrowIfNull(inputs);
        ArgumentNullException.ThrowIfNull(model);
        InputChecks.Check(inputs, correlation);
        int n = inputs.Count;
        double[] at = inputs.Select(i => i.Value).ToArray();
        double[] u = inputs.Select(i => i.StandardUncertainty).ToArray();
        var differences = new ModelDifferences(model, at, u);
        double[] c = sensitivities?.ToArray() ?? Enumerable.Range(0, n).Select(differences.First).ToArray();
        double variance = 0;
        for (int i = 0; i < n; i++)
        for (int j = 0; j < n; j++)
            variance += c[i] * c[j] * u[i] * u[j] * (i == j ? 1 : correlation?[i, j] ?? 0);
        variance = Math.Max(variance, 0);
        double combined = Math.Sqrt(variance);
        double second = variance;
        for (int i = 0; i < n; i++)
        for (int j = 0; j < n; j++)
            if (u[i] > 0 && u[j] > 0)
            {
                double mixed = differences.Second(i, j);
                second += (0.5 * mixed * mixed + c[i] * differences.Third(i, j)) * u[i] * u[i] * u[j] * u[j];
            }
        double sum = 0;
        bool clash = false;
        for (int i = 0; i < n; i++)
        {
            sum += Math.Pow(c[i] * u[i], 4) / inputs[i].DegreesOfFreedom;
            for (int j = 0; j < n; j++)
                clash |=
                    j != i
                    && correlation != null
                    && correlation[i, j] != 0
                    && double.IsFinite(inputs[i].DegreesOfFreedom)
                    && c[i] * u[i] != 0;
        }
        double dof =
            clash ? double.NaN
            : sum > 0 ? variance * variance / sum
            : double.PositiveInfinity;
        if (truncate && double.IsFinite(dof))
            dof = Math.Floor(dof);
        double k = clash ? double.NaN : Quantile.Student((1 + coverage) / 2, dof);
        double value = model(at);
        const string method = "law of propagation, effective degrees of freedom (JCGM 100:2008)";
        Estimate expanded = clash
            ? Estimate.Refused(
                method,
                value,
                n,
                n,
                new Refusal(
                    RefusalReason.NotIdentified,
                    double.NaN,
                    double.NaN,
                    "Correlated inputs have finite degrees of freedom: their combination has none (JCGM 100 G.4.1). Use Monte Carlo."
                )
            )
            : new Estimate(method, value, combined, ConfidenceInterval.About(value, k * combined, coverage), n, n, dof);
        return new MeasurementBudget
        {
            Value = value,
            Lines = inputs
                .Select(
                    (input, i) =>
                        new BudgetLine(
                            input,
                            c[i],
                            c[i] * u[i],
                            variance > 0 ? c[i] * c[i] * u[i] * u[i] / variance : 0
                        )
                )
                .ToArray(),
            StandardUncertainty = combined,
            SecondOrderStandardUncertainty = correlation == null ? Math.Sqrt(Math.Max(second, 0)) : double.NaN,
            DegreesOfFreedom = dof,
            CoverageFactor = k,
            Expanded = expanded,
        };
    }
}
