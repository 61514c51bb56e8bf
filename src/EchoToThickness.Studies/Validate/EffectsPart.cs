using EchoToThickness.Statistics;
using EchoToThickness.Validation;
using EchoToThickness.Validation.Effects;
using EchoToThickness.Validation.Variance;

namespace EchoToThickness.Studies.Validate;

/// <summary>Effects of chosen settings (gain, speed, coupling, direction) on error, spread and missing cells.</summary>
internal static class EffectsPart
{
    public static IEnumerable<StatementSection> Sections(ValidateStudy study, IReadOnlyList<Reading> readings)
    {
        int[] varied =
        [
            .. Enumerable
                .Range(0, study.Factors.Count)
                .Where(f =>
                    study.Factors[f].Role == FactorRole.Fixed
                    && readings.Select(r => r.Scan.Levels[f]).Distinct().Skip(1).Any()
                ),
        ];
        if (varied.Length == 0)
            yield break;
        yield return Of(
            study,
            [.. readings.Where(r => r.ErrorsMetres.Length > 0)],
            varied,
            "Effects on the mean error",
            "effects_error",
            r => r.MeanErrorMetres,
            StatementUnit.Millimetres
        );
        yield return Of(
            study,
            [.. readings.Where(r => r.ErrorsMetres.Length > 1)],
            varied,
            "Effects on the spread of cells",
            "effects_spread",
            Spread,
            StatementUnit.Millimetres
        );
        yield return Of(
            study,
            [.. readings.Where(r => r.Cells > 0)],
            varied,
            "Effects on missing cells",
            "effects_missing",
            r => (double)r.Missing / r.Cells,
            StatementUnit.Percent
        );
    }

    private static double Spread(Reading reading)
    {
        double mean = reading.MeanErrorMetres;
        return Math.Sqrt(reading.ErrorsMetres.Sum(e => (e - mean) * (e - mean)) / (reading.ErrorsMetres.Length - 1));
    }

    private static StatementSection Of(
        ValidateStudy study,
        Reading[] readings,
        int[] varied,
        string title,
        string key,
        Func<Reading, double> value,
        StatementUnit unit
    )
    {
        var factors = new List<Factor> { new("feature", [.. readings.Select(r => r.Feature)]) };
        factors.AddRange(
            varied.Select(f => new Factor(study.Factors[f].Name, [.. readings.Select(r => r.Scan.Levels[f])]))
        );
        if (factors[0].Levels.Count < 2)
            factors.RemoveAt(0);
        Refusal? refusal;
        GeneralLinearModel? model;
        try
        {
            model = GeneralLinearModel.Of(
                readings.Select(value).ToArray(),
                factors,
                out refusal,
                confidence: study.Claim.Confidence
            );
        }
        catch (StatisticsException error)
        {
            return new StatementSection
            {
                Title = title,
                Key = key,
                Text = [error.Message],
            };
        }
        if (model is null)
            return new StatementSection
            {
                Title = title,
                Key = key,
                Text = ["No effects can be given: " + refusal!.Message],
            };
        string[] names = [.. varied.Select(f => study.Factors[f].Name)];
        return new StatementSection
        {
            Title = title,
            Key = key,
            Text =
            [
                "One value for each feature in each scan; features are blocks of the design. Each level against the mean of all levels of its factor, the other "
                    + "factors held equal.",
            ],
            Rows =
            [
                .. model
                    .Levels.Where(l => names.Contains(l.Factor))
                    .Select(l => new StatementRow($"{l.Factor} = {l.Level}", l.Effect, unit)),
            ],
            Columns = ["source", "degrees of freedom", "F", "p"],
            Lines =
            [
                .. model.Table.Select(m =>
                    (IReadOnlyList<string>)
                        [
                            m.Source,
                            Words.Freedom(m.DegreesOfFreedom),
                            double.IsNaN(m.Statistic)
                                ? "-"
                                : m.Statistic.ToString("0.00", System.Globalization.CultureInfo.InvariantCulture),
                            double.IsNaN(m.Probability) ? "-" : Words.Probability(m.Probability),
                        ]
                ),
            ],
        };
    }
}
