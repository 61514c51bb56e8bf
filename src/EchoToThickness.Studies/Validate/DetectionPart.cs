using System.Globalization;
using EchoToThickness.Studies.Drawings;
using EchoToThickness.Validation;
using EchoToThickness.Validation.Accuracy;
using EchoToThickness.Validation.Detection;

namespace EchoToThickness.Studies.Validate;

/// <summary>Detection and sizing of holes and pits, and false calls.</summary>
internal sealed class DetectionPart
{
    private const int CurvePoints = 81;
    private readonly ValidateStudy _study;
    private readonly IReadOnlyList<Indication> _looks;
    private readonly List<StatementSection> _sections = [];

    public DetectionPart(ValidateStudy study, IReadOnlyList<Indication> looks, IReadOnlyList<BlankMetal> blank)
    {
        _study = study;
        _looks = looks;
        Limit = Refused("probability of detection", 0, HitMissSettings.CommonLeastFeatures, "features");
        Sizing = Refused("root mean square error of the remaining wall", 0, Bias.LeastClusters, "features found");
        FalseCallRate = Refused("false calls", 0, 1, "blank areas");
        if (looks.Count > 0)
        {
            Detection();
            SizingAndPlace();
        }
        if (blank.Count > 0)
            False(blank);
    }

    /// <summary>a90/95.</summary>
    public Estimate Limit { get; private set; }

    /// <summary>Root mean square error of the remaining wall of found features.</summary>
    public Estimate Sizing { get; private set; }

    /// <summary>False calls in a square metre.</summary>
    public Estimate FalseCallRate { get; private set; }

    /// <summary>The curve; null when there is none.</summary>
    public DetectionCurve? Curve { get; private set; }

    public IEnumerable<StatementSection> Sections() => _sections;

    private double SizeOf(Indication look) =>
        _study.Detection.Size == DetectionSize.Diameter ? look.DiameterMetres : look.DepthMetres;

    private void Detection()
    {
        CultureInfo culture = CultureInfo.InvariantCulture;
        DetectionSettings settings = _study.Detection;
        double confidence = _study.Claim.Confidence;
        string size = settings.Size == DetectionSize.Diameter ? "diameter" : "depth";
        double[] sizes = [.. _looks.Select(SizeOf)];
        bool[] hits = [.. _looks.Select(l => l.Found)];
        var features = new Factor("feature", [.. _looks.Select(l => l.Feature)]);
        var rows = new List<StatementRow>();
        var text = new List<string>
        {
            string.Create(
                culture,
                $"Found: at least {settings.LeastCells} connected cells over the mouth or within {settings.ReachMetres * 1e3:0.##} mm of it that read thinner than the wall around by {settings.LeastDepthMetres * 1e3:0.##} mm or more{(settings.LaminarIndicates ? ", or are named laminar reflector" : "")}. {_looks.Count(l => l.Found)} of {_looks.Count} looks at {features.Levels.Count} features found them. n counts features."
            ),
        };
        var hitMiss = new HitMissSettings { Confidence = confidence };
        HitMissModel? model = HitMissModel.Fit(sizes, hits, features, hitMiss, out Refusal? refusal);
        bool penalised = false;
        if (model is null && hits.Any(h => h) && hits.Any(h => !h))
        {
            model = HitMissModel.Fit(sizes, hits, features, hitMiss with { IsPenalised = true }, out Refusal? second);
            penalised = model is not null;
            refusal = second ?? refusal;
        }
        if (model is null)
            text.Add("No curve by hits and misses: " + refusal!.Message);
        else
        {
            if (penalised)
                text.Add("Hits and misses separate by size: the curve is fitted with Firth's penalty.");
            SizeLimit half = model.At(0.5);
            SizeLimit ninety = model.At(0.9);
            rows.Add(new StatementRow($"a50, {size}", half.Wald, StatementUnit.Millimetres, "hits and misses"));
            rows.Add(
                new StatementRow(
                    $"a90, {size}, limit by likelihood ratio",
                    ninety.LikelihoodRatio,
                    StatementUnit.Millimetres,
                    "hits and misses"
                )
            );
            rows.Add(
                new StatementRow(
                    $"a90, {size}, limit by the normal approximation",
                    ninety.Wald,
                    StatementUnit.Millimetres,
                    "hits and misses"
                )
            );
            // Looks at one feature again carry no likelihood of their own: then the cluster-robust limit stands.
            Limit = model.HasRepeatedLooks ? ninety.Wald : ninety.LikelihoodRatio;
            double from = sizes.Min() * 0.8;
            double to = sizes.Max() * 1.1;
            Curve = new DetectionCurve(
                settings.Size,
                [
                    .. Enumerable
                        .Range(0, CurvePoints)
                        .Select(i => model.Band(from * Math.Pow(to / from, i / (CurvePoints - 1.0)))),
                ],
                [.. Groups().Select(g => SizeOf(g.First()))],
                [.. Groups().Select(g => g.Average(l => l.Found ? 1.0 : 0))],
                [.. Groups().Select(g => g.Count())]
            );
        }
        Signals(rows, text, size, features, sizes);
        _sections.Add(
            new StatementSection
            {
                Title = "Detection of holes and pits",
                Key = "detection",
                Text = text,
                Rows = rows,
                Columns = ["feature", "diameter mm", "depth mm", "looks", "found", "share found %"],
                Lines =
                [
                    .. Groups()
                        .OrderBy(g => g.First().Feature, StringComparer.Ordinal)
                        .Select(g =>
                            (IReadOnlyList<string>)
                                [
                                    g.Key,
                                    (g.First().DiameterMetres * 1e3).ToString("0.##", culture),
                                    (g.First().DepthMetres * 1e3).ToString("0.##", culture),
                                    Words.Count(g.Count()),
                                    Words.Count(g.Count(l => l.Found)),
                                    Words.Figure(Exact(g.Count(l => l.Found), g.Count()), StatementUnit.Percent),
                                ]
                        ),
                ],
            }
        );
        return;

        IEnumerable<IGrouping<string, Indication>> Groups() => _looks.GroupBy(l => l.Feature);
    }

    private Estimate Exact(int events, int trials) =>
        new(
            "Clopper and Pearson",
            (double)events / trials,
            double.NaN,
            BinomialInterval.ClopperPearson(events, trials, _study.Claim.Confidence),
            trials,
            trials,
            double.NaN
        );

    private void Signals(List<StatementRow> rows, List<string> text, string size, Factor features, double[] sizes)
    {
        double level = _study.Detection.LeastDepthMetres;
        double floor = level / 5;
        SignalResponseModel? model = SignalResponseModel.Fit(
            sizes,
            [.. _looks.Select(l => l.SignalMetres)],
            features,
            new SignalResponseSettings
            {
                DecisionLevel = level,
                LeftLimit = floor,
                Confidence = _study.Claim.Confidence,
            },
            out Refusal? refusal
        );
        if (model is null)
        {
            text.Add("No curve by signal response: " + refusal!.Message);
            return;
        }
        SizeLimit ninety = model.At(0.9);
        rows.Add(
            new StatementRow(
                $"a90, {size}",
                ninety.Wald,
                StatementUnit.Millimetres,
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"signal response: loss read against size, losses below {floor * 1e3:0.##} mm censored"
                )
            )
        );
    }

    private void SizingAndPlace()
    {
        double confidence = _study.Claim.Confidence;
        Indication[] found = [.. _looks.Where(l => l.Found && !double.IsNaN(l.WallMetres))];
        int missed = _looks.GroupBy(l => l.Feature).Count(g => !g.Any(l => l.Found));
        if (found.Length == 0)
        {
            _sections.Add(
                new StatementSection
                {
                    Title = "Sizing",
                    Key = "sizing",
                    Text = ["No feature was found, so none was sized."],
                }
            );
            return;
        }
        var rows = new List<StatementRow>();
        var text = new List<string>
        {
            $"Of features that were found; {missed} features that no look found are in no figure here. The smallest wall of the indication stands against the "
                + "certified wall at the deepest point; its diameter is that of a circle of its area, which the beam makes larger.",
        };
        SizingError wall = Sized(
            "remaining wall",
            l => l.WallMetres,
            l => l.Drawn.WallMetres,
            l => l.Drawn.StandardUncertaintyMetres,
            _study.Claim.ToleranceMetres
        );
        SizingError diameter = Sized(
            "diameter",
            l => l.MeasuredDiameterMetres,
            l => l.DiameterMetres,
            _ => 0,
            double.NaN
        );
        Sizing = RootMeanSquare(found, confidence);
        rows.Add(new StatementRow("root mean square error of the remaining wall", Sizing, StatementUnit.Millimetres));
        // Areas have their own unit; as a table of lengths they would mislead, so the ratio is given.
        SizingError area = Sized(
            "area, measured over true",
            l => l.AreaSquareMetres / (Math.PI / 4 * l.Drawn.LengthMetres * l.Drawn.WidthMetres),
            _ => 1,
            _ => 0,
            double.NaN
        );
        foreach (SizingError size in new[] { wall, diameter })
        {
            rows.Add(new StatementRow($"{size.Quantity}: bias", size.Accuracy.Bias, StatementUnit.Millimetres));
            rows.Add(
                new StatementRow(
                    $"{size.Quantity}: tolerance interval",
                    size.Accuracy.Tolerance,
                    StatementUnit.Millimetres
                )
            );
            if (size.Line is { } line)
                rows.Add(new StatementRow($"{size.Quantity}: slope on true", line.Slope, StatementUnit.Number));
        }
        rows.Add(
            new StatementRow(
                "area, measured over true: bias",
                area.Accuracy.Bias,
                StatementUnit.Number,
                "0: the same area"
            )
        );
        LocationError place = LocationError.Of(
            [.. found.Select(l => l.OffAlongMetres)],
            [.. found.Select(l => l.OffAcrossMetres)],
            new Factor("feature", [.. found.Select(l => l.Feature)]),
            confidence,
            _study.Claim.Share
        );
        rows.Add(new StatementRow("place: mean error along", place.Along, StatementUnit.Millimetres));
        rows.Add(new StatementRow("place: mean error across", place.Across, StatementUnit.Millimetres));
        rows.Add(
            new StatementRow("place: upper limit of the distance", place.UpperDistance, StatementUnit.Millimetres)
        );
        _sections.Add(
            new StatementSection
            {
                Title = "Sizing and place",
                Key = "sizing",
                Text = text,
                Rows = rows,
            }
        );

        SizingError Sized(
            string quantity,
            Func<Indication, double> value,
            Func<Indication, double> truth,
            Func<Indication, double> uncertainty,
            double tolerance
        ) =>
            SizingError.Of(
                quantity,
                [.. found.Select(l => new Observation(value(l), truth(l), l.Feature, uncertainty(l)))],
                missed,
                tolerance,
                confidence
            );
    }

    /// <summary>Root of the mean square error over features, its interval from that of the mean of squares.</summary>
    private static Estimate RootMeanSquare(Indication[] found, double confidence)
    {
        Estimate square = Bias.OfClusterMeans(
            new ClusteredSample(
                found.Select(l => Math.Pow(l.WallMetres - l.Drawn.WallMetres, 2)).ToArray(),
                new Factor("feature", [.. found.Select(l => l.Feature)])
            ),
            confidence
        );
        return square with
        {
            Method = "root mean square over features, from Student's t of the mean square",
            Value = Math.Sqrt(square.Value),
            StandardError = square.StandardError / (2 * Math.Sqrt(square.Value)),
            Interval = square.Interval.IsKnown
                ? new ConfidenceInterval(
                    Math.Sqrt(Math.Max(0, square.Interval.Low)),
                    Math.Sqrt(Math.Max(0, square.Interval.High)),
                    confidence
                )
                : square.Interval,
        };
    }

    private void False(IReadOnlyList<BlankMetal> blank)
    {
        FalseCalls calls = FalseCalls.Of(
            [.. blank.Select(b => b.FalseCalls)],
            [.. blank.Select(b => b.AreaSquareMetres)],
            _study.Claim.Confidence
        );
        FalseCallRate = calls.PoissonRate.Refusal is null ? calls.PoissonRate : calls.RatioRate;
        _sections.Add(
            new StatementSection
            {
                Title = "False calls",
                Key = "false_calls",
                Text =
                [
                    string.Create(
                        CultureInfo.InvariantCulture,
                        $"{blank.Sum(b => b.FalseCalls)} on {blank.Sum(b => b.AreaSquareMetres) * 1e4:0.#} square centimetres of blank metal in {blank.Count} scans; blank is further than {_study.Detection.ClearanceMetres * 1e3:0.##} mm from every hole and pit and not at the edge of a step."
                    ),
                ],
                Rows =
                [
                    new StatementRow("false calls", FalseCallRate, StatementUnit.PerSquareMetre),
                    new StatementRow("share of scans with a false call", calls.UnitShare, StatementUnit.Percent),
                ],
            }
        );
    }

    private static Estimate Refused(string method, int found, int needed, string what) =>
        new(
            method,
            double.NaN,
            double.NaN,
            ConfidenceInterval.None,
            found,
            found,
            double.NaN,
            new Refusal(RefusalReason.TooFewFeatures, found, needed, $"{found} {what}; at least {needed} are needed.")
        );
}
