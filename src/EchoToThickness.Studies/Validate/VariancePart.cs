using System.Globalization;
using EchoToThickness.Statistics;
using EchoToThickness.Validation;
using EchoToThickness.Validation.Variance;
using MathNet.Numerics.Distributions;

namespace EchoToThickness.Studies.Validate;

/// <summary>Repeatability and reproducibility: components of variance over features, random factors and repeated scans.</summary>
internal sealed class VariancePart
{
    private const int LeastLevels = 2;
    private readonly ValidateStudy _study;
    private readonly Reading[] _readings;
    private readonly List<StatementRow> _rows = [];
    private readonly List<string> _text = [];
    private readonly List<IReadOnlyList<string>> _gauge = [];

    public VariancePart(ValidateStudy study, IReadOnlyList<Reading> readings, ClusteredSample? errors)
    {
        _study = study;
        _readings = [.. readings.Where(r => r.ErrorsMetres.Length > 0)];
        double confidence = study.Claim.Confidence;
        Estimate none = Refused("variance of repeated readings", _readings.Length, 2);
        (Repeatability, Reproducibility, Within) = (none, none, none);
        if (errors is null || _readings.Length < 2)
            return;
        OneWayAnalysis? cells = OneWayAnalysis.Of(errors);
        Estimate within = cells?.Repeatability(confidence) ?? none;
        Within = within;
        _rows.Add(new StatementRow("cells of one feature in one scan", within, StatementUnit.Millimetres));
        Components(within, confidence);
        Gauge(confidence);
    }

    /// <summary>Standard deviation of cells of one feature in one scan.</summary>
    public Estimate Within { get; private set; }

    /// <summary>Standard deviation of a reading of one cell repeated under the same conditions.</summary>
    public Estimate Repeatability { get; private set; }

    /// <summary>The same under all levels of the random factors.</summary>
    public Estimate Reproducibility { get; private set; }

    /// <summary>Components of the readings by source: variance, square metres.</summary>
    public IReadOnlyList<VarianceComponent> Sources { get; private set; } = [];

    public StatementSection Section() =>
        new()
        {
            Title = "Repeatability and reproducibility",
            Key = "variance",
            Text =
            [
                "Components of variance by restricted maximum likelihood on the mean errors of features in scans; the certified wall is taken out, so the "
                    + "component of the feature is what is not right about it every time. Repeatability: one cell, scanned again under the same conditions. "
                    + "Reproducibility: under other levels of the random factors too.",
                .. _text,
            ],
            Rows = _rows,
            Columns = _gauge.Count == 0 ? [] : ["source (crossed gauge study)", "SD mm", "of total %"],
            Lines = _gauge,
        };

    private void Components(Estimate within, double confidence)
    {
        string[] features = [.. _readings.Select(r => r.Feature)];
        var factors = new List<Factor>();
        if (features.Distinct().Count() >= LeastLevels && features.Distinct().Count() < features.Length)
            factors.Add(new Factor("feature", features));
        var random = new List<string>();
        for (int f = 0; f < _study.Factors.Count; f++)
        {
            if (_study.Factors[f].Role != FactorRole.Random)
                continue;
            int factor = f;
            string[] levels = [.. _readings.Select(r => r.Scan.Levels[factor])];
            string name = _study.Factors[f].Name;
            if (levels.Distinct().Count() < LeastLevels)
                _text.Add($"'{name}' has one level: nothing can be said of it.");
            else if (levels.Distinct().Count() == levels.Length)
                _text.Add($"Every reading has a '{name}' of its own: it cannot be told from repeats.");
            else
            {
                factors.Add(new Factor(name, levels));
                random.Add(name);
            }
        }
        if (factors.Count == 0)
        {
            _text.Add("No feature was scanned twice: repeats cannot be told from features.");
            Repeatability = Refused("variance of repeated scans", _readings.Length, 2);
            Reproducibility = Repeatability;
            return;
        }
        RestrictedLikelihood fit;
        try
        {
            fit = RestrictedLikelihood.Of(_readings.Select(r => r.MeanErrorMetres).ToArray(), factors, confidence);
        }
        catch (StatisticsException error)
        {
            _text.Add(error.Message);
            return;
        }
        Sources = fit.Components;
        for (int k = 0; k < fit.Components.Count; k++)
            _rows.Add(
                new StatementRow(
                    k < factors.Count ? "between levels of " + factors[k].Name : "between repeated scans",
                    fit.Components[k].Deviation,
                    StatementUnit.Millimetres
                )
            );
        int residual = fit.Components.Count - 1;
        Repeatability = Sum("repeatability", [residual]);
        int[] all =
        [
            .. Enumerable.Range(0, fit.Components.Count).Where(k => k == residual || random.Contains(factors[k].Name)),
        ];
        Reproducibility =
            random.Count > 0
                ? Sum("reproducibility", all)
                : Refused("reproducibility: no random factor with several levels", 0, 1);
        _rows.Add(new StatementRow("repeatability of a cell's reading", Repeatability, StatementUnit.Millimetres));
        _rows.Add(new StatementRow("reproducibility of a cell's reading", Reproducibility, StatementUnit.Millimetres));

        Estimate Sum(string name, int[] parts)
        {
            double variance = within.Value * within.Value + parts.Sum(k => fit.Components[k].Variance);
            // Variance of the sum of variances; components at zero have none. Then a chi-squared of the same mean and variance (Satterthwaite 1946).
            double spread = parts.Sum(j => parts.Sum(k => Known(fit.Covariance[j][k])));
            if (within.Refusal is null && within.DegreesOfFreedom > 0)
                spread += 2 * Math.Pow(within.Value, 4) / within.DegreesOfFreedom;
            double freedom = spread > 0 ? 2 * variance * variance / spread : double.NaN;
            string method = $"{name}: cells and components together, Satterthwaite";
            if (!(freedom > 0.5))
                return Refused(method, _readings.Length, 2);
            double tail = (1 - confidence) / 2;
            return new Estimate(
                method,
                Math.Sqrt(variance),
                Math.Sqrt(spread) / (2 * Math.Sqrt(variance)),
                new ConfidenceInterval(
                    Math.Sqrt(variance * freedom / ChiSquared.InvCDF(freedom, 1 - tail)),
                    Math.Sqrt(variance * freedom / ChiSquared.InvCDF(freedom, tail)),
                    confidence
                ),
                _readings.Length,
                within.Observations,
                freedom
            );
        }
    }

    /// <summary>Where exactly one random factor is crossed with features in equal numbers, the table that a gauge study shows.</summary>
    private void Gauge(double confidence)
    {
        int[] random =
        [
            .. Enumerable
                .Range(0, _study.Factors.Count)
                .Where(f =>
                    _study.Factors[f].Role == FactorRole.Random
                    && _readings.Select(r => r.Scan.Levels[f]).Distinct().Skip(1).Any()
                ),
        ];
        if (random.Length != 1)
            return;
        try
        {
            GaugeStudy gauge = GaugeStudy.Of(
                _readings.Select(r => r.TruthMetres + r.MeanErrorMetres).ToArray(),
                new Factor("feature", [.. _readings.Select(r => r.Feature)]),
                new Factor(_study.Factors[random[0]].Name, [.. _readings.Select(r => r.Scan.Levels[random[0]])]),
                confidence
            );
            double total = gauge.Gauge.Variance + gauge.Parts.Variance;
            foreach (
                VarianceComponent part in new[]
                {
                    gauge.Repeatability,
                    gauge.Operators,
                    gauge.Interaction,
                    gauge.Gauge,
                    gauge.Parts,
                }.OfType<VarianceComponent>()
            )
                _gauge.Add([
                    part.Source,
                    Words.Figure(part.Deviation, StatementUnit.Millimetres),
                    Words.Value(Math.Sqrt(part.Variance / total), StatementUnit.Percent),
                ]);
            _text.Add(
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"Crossed gauge study over features and {_study.Factors[random[0]].Name}: six gauge deviations are {gauge.ToleranceShare(2 * _study.Claim.ToleranceMetres) * 100:0.#} % of the width of the claim."
                )
            );
        }
        catch (StatisticsException)
        {
            _text.Add(
                "Features and scans are not crossed in equal numbers, so no gauge table is shown; the components above allow for that."
            );
        }
    }

    private static double Known(double value) => double.IsNaN(value) ? 0 : value;

    private static Estimate Refused(string method, int found, int needed) =>
        new(
            method,
            double.NaN,
            double.NaN,
            ConfidenceInterval.None,
            found,
            found,
            double.NaN,
            new Refusal(
                RefusalReason.TooFewObservations,
                found,
                needed,
                "Readings of the same features in several scans, under several levels, are needed."
            )
        );
}
