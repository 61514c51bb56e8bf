using System.Globalization;
using EchoToThickness.Validation;
using EchoToThickness.Validation.Accuracy;

namespace EchoToThickness.Studies.Validate;

/// <summary>Accuracy of thickness: bias, spread, tolerance interval, linearity, agreement, outliers.</summary>
internal sealed class AccuracyPart
{
    private const int MostCellsOfCluster = 200;
    private readonly ValidateStudy _study;
    private readonly IReadOnlyList<Reading> _readings;
    private readonly List<Observation> _cells = [];
    private readonly List<Reading> _of = [];

    public AccuracyPart(ValidateStudy study, IReadOnlyList<Reading> readings)
    {
        _study = study;
        _readings = readings;
        foreach (Reading reading in readings)
        {
            // Many cells of one feature say little more than some: taken evenly over the feature.
            int count = Math.Min(reading.ErrorsMetres.Length, MostCellsOfCluster);
            for (int i = 0; i < count; i++)
            {
                double error = reading.ErrorsMetres[(long)i * reading.ErrorsMetres.Length / count];
                _cells.Add(
                    new Observation(
                        reading.TruthMetres + error,
                        reading.TruthMetres,
                        ClusterOf(reading),
                        reading.TruthUncertaintyMetres
                    )
                );
                _of.Add(reading);
            }
        }
        if (_cells.Count == 0)
            return;
        ClaimSettings claim = study.Claim;
        Errors = ClusteredSample.Errors(_cells);
        Whole = AccuracyStatement.Of("all", Errors, claim.ToleranceMetres, claim.Confidence, claim.Share);
    }

    /// <summary>Errors of cells in clusters (feature in one scan); null without any.</summary>
    public ClusteredSample? Errors { get; }

    /// <summary>All readings; null without any.</summary>
    public AccuracyStatement? Whole { get; }

    public static string ClusterOf(Reading reading) =>
        $"{reading.Feature} @ {reading.Scan.Name} {reading.Line}".TrimEnd();

    public IEnumerable<StatementSection> Sections()
    {
        if (Whole is null)
        {
            yield return new StatementSection
            {
                Title = "Accuracy of thickness",
                Key = "accuracy",
                Text = ["No cell with a certified wall was measured, so nothing can be said of accuracy."],
            };
            yield break;
        }
        yield return new StatementSection
        {
            Title = "Accuracy of thickness",
            Key = "accuracy",
            Text =
            [
                "Errors are measured less certified wall, of cells whose wall is even under the beam; of each feature in each scan at most "
                    + $"{MostCellsOfCluster} cells, spread evenly. Cells of one feature in one scan are not independent: n counts features in scans. Gross errors "
                    + "are among them; nothing was removed.",
            ],
            Rows = Rows(Whole, ""),
        };
        yield return Table(
            "By certified wall",
            "accuracy_by_wall",
            "Group",
            _of.ConvertAll(r => Bands.NameOf(_study.Report.WallBandsMetres, r.TruthMetres))
        );
        yield return Table("By kind of feature", "accuracy_by_kind", "Group", _of.ConvertAll(r => r.Kind));
        yield return Table("By block", "accuracy_by_block", "Block", _of.ConvertAll(r => r.Scan.Block));
        for (int f = 0; f < _study.Factors.Count; f++)
        {
            int factor = f;
            if (_of.Select(r => r.Scan.Levels[factor]).Distinct().Skip(1).Any())
                yield return Table(
                    $"By {_study.Factors[f].Name}",
                    $"accuracy_by_factor_{f + 1}",
                    "Level",
                    _of.ConvertAll(r => r.Scan.Levels[factor])
                );
        }
        yield return Linearity();
        yield return Agreement();
        yield return Outliers();
    }

    private List<StatementRow> Rows(AccuracyStatement of, string prefix)
    {
        ClaimSettings claim = _study.Claim;
        CultureInfo culture = CultureInfo.InvariantCulture;
        var rows = new List<StatementRow>
        {
            new(prefix + "bias", of.Bias, StatementUnit.Millimetres),
            new(prefix + "standard deviation of a reading", of.Deviation, StatementUnit.Millimetres),
            new(prefix + "standard deviation within a feature and scan", of.Within, StatementUnit.Millimetres),
            new(
                prefix
                    + string.Create(
                        culture,
                        $"({claim.Confidence * 100:0.##} %, {claim.Share * 100:0.##} %) tolerance interval of a reading"
                    ),
                of.Tolerance,
                StatementUnit.Millimetres,
                string.Create(culture, $"claimed: within +-{claim.ToleranceMetres * 1e3:0.###} mm")
            ),
        };
        if (of.Equivalence is { } test)
            rows.Add(
                new StatementRow(
                    prefix + "bias within the claim (two one-sided tests)",
                    test.Bias with
                    {
                        Interval = test.Interval,
                        Method = "Schuirmann 1987; the interval lies within the claim exactly when both tests reject",
                    },
                    StatementUnit.Millimetres,
                    test.Bias.Refusal is not null
                        ? ""
                        : string.Create(
                            culture,
                            $"{(test.IsEquivalent ? "shown" : "not shown")}, p = {Words.Probability(test.Probability)}"
                        )
                )
            );
        return rows;
    }

    private StatementSection Table(string title, string key, string head, IReadOnlyList<string> groups)
    {
        ClaimSettings claim = _study.Claim;
        IReadOnlyList<AccuracyStatement> parts = AccuracyStatement.ByGroup(
            _cells,
            new Factor(title, groups),
            claim.ToleranceMetres,
            claim.Confidence,
            claim.Share
        );
        return new StatementSection
        {
            Title = title,
            Key = key,
            Columns =
            [
                head,
                "n",
                "cells",
                "bias mm",
                "SD mm",
                "RMS mm",
                "largest mm",
                "tolerance interval mm",
                "bias within the claim",
            ],
            Lines =
            [
                .. parts
                    .OrderBy(p => p.Name, Comparer<string>.Create(Words.CompareNatural))
                    .Select(p =>
                        (IReadOnlyList<string>)
                            [
                                p.Name,
                                Words.Count(p.Bias.Units),
                                Words.Count(p.Bias.Observations),
                                Words.Figure(p.Bias, StatementUnit.Millimetres),
                                Words.Value(p.Deviation.Value, StatementUnit.Millimetres),
                                Words.Value(p.RootMeanSquare, StatementUnit.Millimetres),
                                Words.Value(p.Largest, StatementUnit.Millimetres),
                                Words.IntervalOf(p.Tolerance, StatementUnit.Millimetres),
                                p.Equivalence is not { } test || test.Bias.Refusal is not null ? "not enough data"
                                : test.IsEquivalent ? "shown"
                                : "not shown",
                            ]
                    ),
            ],
        };
    }

    private StatementSection Linearity()
    {
        double confidence = _study.Claim.Confidence;
        var rows = new List<StatementRow>();
        var text = new List<string>();
        MeasuredOnTrue? line = MeasuredOnTrue.Of(_cells, out Refusal? refusal, confidence);
        if (line is null)
            text.Add("No line of measured on certified walls: " + refusal!.Message);
        else
        {
            rows.Add(new StatementRow("slope of measured on certified wall", line.Slope, StatementUnit.Number));
            rows.Add(
                new StatementRow("measured wall at the middle of the walls", line.Middle, StatementUnit.Millimetres)
            );
            rows.Add(
                new StatementRow(
                    "largest departure of the line over the walls",
                    line.LargestDeparture,
                    StatementUnit.Millimetres,
                    "simultaneous band"
                )
            );
            text.Add(
                $"Joint test of slope 1 and intercept 0: p = {Words.Probability(line.Identity.Probability)}."
                    + (
                        line.LackOfFit is { } lack
                            ? $" Lack of fit of the line: p = {Words.Probability(lack.Probability)}."
                            : " No certified wall is repeated, so lack of fit cannot be tested."
                    )
            );
        }
        (double Truth, double TruthU, double Value, double ValueU)[] means =
        [
            .. _readings
                .Where(r => r.ErrorsMetres.Length >= 3)
                .GroupBy(r => r.Feature)
                .Where(g => g.Count() >= 2)
                .Select(g =>
                {
                    double[] values = [.. g.Select(r => r.MeanErrorMetres)];
                    double mean = values.Average();
                    double variance = values.Sum(v => (v - mean) * (v - mean)) / (values.Length - 1) / values.Length;
                    return (
                        g.First().TruthMetres,
                        g.First().TruthUncertaintyMetres,
                        g.First().TruthMetres + mean,
                        Math.Max(Math.Sqrt(variance), 1e-7)
                    );
                }),
        ];
        if (means.Length >= 3)
        {
            ErrorsInVariables? fit = ErrorsInVariables.Weighted(
                [.. means.Select(m => m.Truth)],
                [.. means.Select(m => m.TruthU)],
                [.. means.Select(m => m.Value)],
                [.. means.Select(m => m.ValueU)],
                out Refusal? why,
                confidence
            );
            if (fit is null)
                text.Add("Line with uncertain certified walls: " + why!.Message);
            else
                rows.Add(
                    new StatementRow(
                        "slope with the uncertainty of the certificate",
                        fit.Slope,
                        StatementUnit.Number,
                        $"chi-squared p = {Words.Probability(fit.Probability)}"
                    )
                );
        }
        return new StatementSection
        {
            Title = "Linearity",
            Key = "linearity",
            Text = text,
            Rows = rows,
        };
    }

    private StatementSection Agreement()
    {
        BlandAltman limits = BlandAltman.Of(
            Errors!,
            [.. _cells.Select(c => (c.Value + c.Truth) / 2)],
            confidence: _study.Claim.Confidence
        );
        var rows = new List<StatementRow>
        {
            new("lower limit of agreement", limits.LowerLimit, StatementUnit.Millimetres),
            new("upper limit of agreement", limits.UpperLimit, StatementUnit.Millimetres),
        };
        if (limits.Trend is { } trend)
            rows.Add(
                new StatementRow(
                    "trend of the difference with the wall",
                    trend,
                    StatementUnit.Number,
                    "mm of error for each mm of wall"
                )
            );
        return new StatementSection
        {
            Title = "Limits of agreement (Bland and Altman)",
            Key = "agreement",
            Rows = rows,
        };
    }

    private StatementSection Outliers()
    {
        Reading[] tested = [.. _readings.Where(r => r.ErrorsMetres.Length > 0)];
        double[] means = [.. tested.Select(r => r.MeanErrorMetres)];
        int most = Math.Min(_study.Report.MostOutliers, means.Length - 2);
        if (most < 1)
            return new StatementSection
            {
                Title = "Outliers",
                Key = "outliers",
                Text = ["Too few readings for a test."],
            };
        OutlierResult result = OutlierTest.GeneralisedDeviate(means, most, _study.Report.OutlierLevel);
        return new StatementSection
        {
            Title = "Outliers",
            Key = "outliers",
            Text =
            [
                $"{result.Method} on mean errors of features in scans, level {Words.Value(_study.Report.OutlierLevel, StatementUnit.Percent)} %, up to {most}: "
                    + (
                        result.Flagged.Count == 0
                            ? "none flagged."
                            : $"{result.Flagged.Count} flagged. They stay in every figure; a person has to find out why."
                    ),
            ],
            Columns = result.Flagged.Count == 0 ? [] : ["feature", "scan", "mean error mm", "cells"],
            Lines =
            [
                .. result.Flagged.Select(i =>
                    (IReadOnlyList<string>)
                        [
                            tested[i].Feature,
                            tested[i].Scan.Name,
                            Words.Value(means[i], StatementUnit.Millimetres),
                            Words.Count(tested[i].ErrorsMetres.Length),
                        ]
                ),
            ],
        };
    }
}
