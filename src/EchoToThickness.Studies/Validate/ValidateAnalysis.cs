using EchoToThickness.Studies.Drawings;

namespace EchoToThickness.Studies.Validate;

/// <summary>Turns measured scans into a statement.</summary>
public static class ValidateAnalysis
{
    /// <summary>Makes the statement.</summary>
    /// <param name="plan">The study.</param>
    /// <param name="lines">Measured lines with truth.</param>
    /// <param name="events">Order of events of a blind study with its warnings; null for an open one.</param>
    public static ValidationStatement Run(
        ValidatePlan plan,
        IReadOnlyList<ScanCells> lines,
        (StatementSection Section, IReadOnlyList<string> Warnings)? events = null
    )
    {
        ArgumentNullException.ThrowIfNull(plan);
        ArgumentNullException.ThrowIfNull(lines);
        ValidateStudy study = plan.Study;
        IReadOnlyList<Reading> readings = ReadingMaker.Readings(lines);
        (IReadOnlyList<Indication> looks, IReadOnlyList<BlankMetal> blank) = ReadingMaker.Detections(
            lines,
            study.Detection
        );
        var accuracy = new AccuracyPart(study, readings);
        var variance = new VariancePart(study, readings, accuracy.Errors);
        var coverage = new CoveragePart(study, readings);
        var detection = new DetectionPart(study, looks, blank);
        var uncertainty = new UncertaintyPart(study, readings, accuracy, variance);
        var sections = new List<StatementSection>();
        if (events is { } known)
            sections.Add(known.Section);
        sections.AddRange(ConditionsPart.Sections(plan, readings, looks));
        if (Registrations(lines) is { } places)
            sections.Add(places);
        sections.AddRange(accuracy.Sections());
        sections.Add(variance.Section());
        sections.Add(coverage.Section());
        sections.AddRange(detection.Sections());
        sections.AddRange(EffectsPart.Sections(study, readings));
        sections.AddRange(uncertainty.Sections);
        return new ValidationStatement
        {
            Plan = plan,
            Criteria = CriteriaPart.Judge(study, accuracy, variance, coverage, detection, uncertainty),
            Sections = sections,
            Readings = readings,
            Indications = looks,
            Curve = detection.Curve,
            Warnings = [.. Warnings(plan, readings), .. events?.Warnings ?? []],
        };
    }

    private static IEnumerable<string> Warnings(ValidatePlan plan, IReadOnlyList<Reading> readings)
    {
        if (plan.SeenByTuning.Count > 0)
            yield return $"Tuning has seen {string.Join(", ", plan.SeenByTuning)}: for these scans the procedure was chosen, so they prove little.";
        if (!plan.WasFrozen)
            yield return "The procedure was not frozen beforehand: the study does not name its SHA-256.";
        if (plan.Scans.Any(s => s.IsSimulated))
            yield return plan.Scans.All(s => s.IsSimulated)
                ? "All scans are simulated: the study shows what the procedure does on the model, not on metal."
                : "Some scans are simulated.";
        double[] walls = [.. readings.Where(r => r.ErrorsMetres.Length > 0).Select(r => r.TruthMetres)];
        if (walls.Length == 0)
            yield break;
        ClaimSettings claim = plan.Study.Claim;
        if (claim.ThinnestMetres < walls.Min() - 1e-6)
            yield return string.Create(
                System.Globalization.CultureInfo.InvariantCulture,
                $"The claim reaches to {claim.ThinnestMetres * 1e3:0.##} mm, the evidence to {walls.Min() * 1e3:0.##} mm only."
            );
        if (claim.ThickestMetres > walls.Max() + 1e-6)
            yield return string.Create(
                System.Globalization.CultureInfo.InvariantCulture,
                $"The claim reaches to {claim.ThickestMetres * 1e3:0.##} mm, the evidence to {walls.Max() * 1e3:0.##} mm only."
            );
    }

    private static StatementSection? Registrations(IReadOnlyList<ScanCells> lines)
    {
        ScanCells[] placed = [.. lines.Where(l => l.Registration is not null)];
        if (placed.Length == 0)
            return null;
        return new StatementSection
        {
            Title = "Scans laid on drawings",
            Key = "registrations",
            Text = [DrawingText.Explanation],
            Columns = DrawingText.Columns,
            Lines =
            [
                .. placed.Select(l =>
                    DrawingText.Line($"{l.Scan.Name} {l.Line}".TrimEnd(), l.Scan.Block, l.Registration!)
                ),
            ],
        };
    }
}
