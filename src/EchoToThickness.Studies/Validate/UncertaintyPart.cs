using System.Globalization;
using EchoToThickness.Validation;
using EchoToThickness.Validation.Budget;
using EchoToThickness.Validation.Variance;

namespace EchoToThickness.Studies.Validate;

/// <summary>Claimed against observed uncertainty, and the budget of a reading.</summary>
internal sealed class UncertaintyPart
{
    private readonly ValidateStudy _study;
    private readonly IReadOnlyList<Reading> _readings;

    public UncertaintyPart(
        ValidateStudy study,
        IReadOnlyList<Reading> readings,
        AccuracyPart accuracy,
        VariancePart variance
    )
    {
        _study = study;
        _readings = readings;
        Coverage = new Estimate(
            "share of readings within the stated interval",
            double.NaN,
            double.NaN,
            ConfidenceInterval.None,
            0,
            0,
            double.NaN,
            new Refusal(
                RefusalReason.TooFewObservations,
                0,
                1,
                "0 readings with a stated uncertainty; at least 1 is needed."
            )
        );
        var sections = new List<StatementSection>();
        if (readings.Any(r => r.ErrorsMetres.Length > 0))
        {
            sections.Add(Claimed());
            if (accuracy.Whole is { } whole)
                sections.Add(Budget(whole.Bias, variance));
        }
        Sections = sections;
    }

    public Estimate Coverage { get; private set; }

    public IReadOnlyList<StatementSection> Sections { get; }

    private StatementSection Claimed()
    {
        var cells = new List<Observation>();
        var claimed = new List<double>();
        foreach (Reading reading in _readings)
            for (int i = 0; i < reading.ErrorsMetres.Length; i++)
            {
                double u = _study.Claim.StandardUncertaintyMetres ?? reading.UncertaintiesMetres[i];
                if (!(u > 0))
                    continue;
                cells.Add(
                    new Observation(
                        reading.TruthMetres + reading.ErrorsMetres[i],
                        reading.TruthMetres,
                        AccuracyPart.ClusterOf(reading),
                        reading.TruthUncertaintyMetres
                    )
                );
                claimed.Add(u);
            }
        if (cells.Count == 0)
            return new StatementSection
            {
                Title = "Stated against observed uncertainty",
                Key = "stated_uncertainty",
                Text = ["No reading states an uncertainty."],
            };
        ClaimedUncertainty result = ClaimedUncertainty.Of(cells, [.. claimed], confidence: _study.Claim.Confidence);
        Coverage = result.Coverage;
        return new StatementSection
        {
            Title = "Stated against observed uncertainty",
            Key = "stated_uncertainty",
            Text =
            [
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"{(_study.Claim.StandardUncertaintyMetres is { } stated ? $"The claim is a standard uncertainty of {stated * 1e3:0.####} mm." : $"Each cell states its own combined standard uncertainty, {claimed.Order().ElementAt(claimed.Count / 2) * 1e3:0.####} mm at the median.")} Errors stand against it together with the uncertainty of the certificate. {Words.Count(result.ReadingsAboveOne)} of {Words.Count(cells.Count)} readings have an E_n number above 1 (ISO/IEC 17043), the largest {result.LargestNormalisedError:0.0}."
                ),
            ],
            Rows =
            [
                new StatementRow(
                    "certified wall within 2 standard uncertainties",
                    result.Coverage,
                    StatementUnit.Percent,
                    "95.4 % when errors are normal and the uncertainty is right"
                ),
                new StatementRow(
                    "observed over stated",
                    result.Ratio,
                    StatementUnit.Number,
                    "root mean square of zeta scores (ISO 13528); 1 when right"
                ),
            ],
        };
    }

    private StatementSection Budget(Estimate bias, VariancePart variance)
    {
        CultureInfo culture = CultureInfo.InvariantCulture;
        double wall = _readings
            .Where(r => r.ErrorsMetres.Length > 0)
            .Select(r => r.TruthMetres)
            .Order()
            .ElementAt(_readings.Count(r => r.ErrorsMetres.Length > 0) / 2);
        var inputs = new List<UncertaintyInput> { new("wall as read", wall, 0) };
        var sources = new List<string> { "" };
        void Add(UncertaintyInput input, string source)
        {
            if (!(input.StandardUncertainty > 0))
                return;
            inputs.Add(input);
            sources.Add(source);
        }
        // Without repeated scans the spread of cells of one feature is all that is known of repeating.
        bool repeated = variance.Repeatability.Refusal is null;
        Estimate repeat = repeated ? variance.Repeatability : variance.Within;
        Add(
            new UncertaintyInput(
                repeated ? "repeatability" : "spread of cells (no scan was repeated)",
                0,
                double.IsNaN(repeat.Value) ? 0 : repeat.Value,
                Freedom(repeat.DegreesOfFreedom)
            )
            {
                IsTypeA = true,
            },
            "this study"
        );
        foreach (VarianceComponent part in variance.Sources.Take(Math.Max(0, variance.Sources.Count - 1)))
            Add(
                new UncertaintyInput(
                    part.Source == "feature"
                        ? "bias that differs from feature to feature"
                        : "between levels of " + part.Source,
                    0,
                    Math.Sqrt(part.Variance),
                    Freedom(part.Deviation.DegreesOfFreedom)
                )
                {
                    IsTypeA = true,
                },
                "this study"
            );
        double biasError = double.IsNaN(bias.StandardError) ? 0 : bias.StandardError;
        Add(
            new UncertaintyInput(
                "bias, not corrected",
                0,
                Math.Sqrt(bias.Value * bias.Value + biasError * biasError),
                Freedom(bias.DegreesOfFreedom)
            ),
            "this study; enters with its size, JCGM 100 F.2.4.5"
        );
        double certificate = Math.Sqrt(_readings.Average(r => r.TruthUncertaintyMetres * r.TruthUncertaintyMetres));
        Add(new UncertaintyInput("certified walls of the blocks", 0, certificate), "certificates");
        int firstRelative = inputs.Count;
        foreach (InputSettings input in _study.Inputs.Where(i => i.RelativeFraction is not null))
            Add(
                Of(input, input.RelativeFraction!.Value),
                input.Source.Length > 0 ? input.Source : "stated by the study"
            );
        int firstOther = inputs.Count;
        foreach (InputSettings input in _study.Inputs.Where(i => i.StandardUncertaintyMetres is not null))
            Add(
                Of(input, input.StandardUncertaintyMetres!.Value),
                input.Source.Length > 0 ? input.Source : "stated by the study"
            );
        if (inputs.Count < 2)
            return new StatementSection
            {
                Title = "Measurement uncertainty of a reading",
                Key = "budget",
                Text = ["There is no contribution to add."],
            };
        double Model(double[] x)
        {
            double relative = 1;
            double sum = 0;
            for (int i = 1; i < x.Length; i++)
                if (i >= firstRelative && i < firstOther)
                    relative += x[i];
                else
                    sum += x[i];
            return x[0] * relative + sum;
        }
        MeasurementBudget budget = MeasurementBudget.Of(inputs, Model, coverage: _study.Claim.Confidence);
        MonteCarloResult drawn = MonteCarloPropagation.Run(
            inputs,
            Model,
            (ulong)_study.Header.Seed,
            coverage: _study.Claim.Confidence
        );
        BudgetValidation check = drawn.Validate(budget);
        return new StatementSection
        {
            Title = "Measurement uncertainty of a reading",
            Key = "budget",
            Text =
            [
                string.Create(
                    culture,
                    $"Of one cell of {wall * 1e3:0.00} mm, the median certified wall (JCGM 100): standard uncertainty {budget.StandardUncertainty * 1e3:0.0000} mm, {Words.Freedom(budget.DegreesOfFreedom)} effective degrees of freedom (Welch and Satterthwaite), coverage factor {budget.CoverageFactor:0.00}, expanded uncertainty {budget.ExpandedUncertainty * 1e3:0.0000} mm at {_study.Claim.Confidence * 100:0.##} %."
                ),
                string.Create(
                    culture,
                    $"By Monte Carlo (JCGM 101, {drawn.Trials:#,0} trials{(drawn.IsSettled ? "" : ", not settled")}): standard uncertainty {drawn.StandardUncertainty * 1e3:0.0000} mm, shortest interval {drawn.Shortest.Low * 1e3:0.0000} to {drawn.Shortest.High * 1e3:0.0000} mm. The budget is {(check.IsValidated ? "" : "not ")}validated by it (clause 8: ends differ by {check.LowDifference * 1e6:0.0} and {check.HighDifference * 1e6:0.0} um, {check.Tolerance * 1e6:0.0} allowed)."
                ),
            ],
            Columns =
            [
                "input",
                "standard uncertainty",
                "degrees of freedom",
                "sensitivity",
                "contribution mm",
                "share %",
                "source",
            ],
            Lines =
            [
                .. budget
                    .Lines.Select((line, i) => (line, i))
                    .Skip(1)
                    .Select(x =>
                        (IReadOnlyList<string>)
                            [
                                x.line.Input.Name,
                                x.i >= firstRelative && x.i < firstOther
                                    ? Words.Value(x.line.Input.StandardUncertainty, StatementUnit.Percent) + " %"
                                    : Words.Value(x.line.Input.StandardUncertainty, StatementUnit.Millimetres) + " mm",
                                Words.Freedom(x.line.Input.DegreesOfFreedom),
                                x.line.Sensitivity.ToString("0.####", culture),
                                Words.Value(Math.Abs(x.line.Contribution), StatementUnit.Millimetres),
                                Words.Value(x.line.Share, StatementUnit.Percent),
                                sources[x.i],
                            ]
                    ),
            ],
        };
    }

    private static UncertaintyInput Of(InputSettings input, double u) =>
        new(
            input.Name,
            0,
            u,
            input.DegreesOfFreedom ?? double.PositiveInfinity,
            input.Shape switch
            {
                InputShape.Rectangular => EchoToThickness.Validation.Budget.InputShape.Rectangular,
                InputShape.Triangular => EchoToThickness.Validation.Budget.InputShape.Triangular,
                _ when input.DegreesOfFreedom is not null => EchoToThickness.Validation.Budget.InputShape.StudentT,
                _ => EchoToThickness.Validation.Budget.InputShape.Normal,
            }
        );

    private static double Freedom(double degrees) => degrees > 0 ? degrees : double.PositiveInfinity;
}
