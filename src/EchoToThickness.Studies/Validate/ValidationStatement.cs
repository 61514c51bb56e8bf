namespace EchoToThickness.Studies.Validate;

/// <summary>What a validation found. Holds nothing that depends on the machine, the moment or the number of threads (but for the events of a blind study).</summary>
public sealed record ValidationStatement
{
    /// <summary>The study.</summary>
    public required ValidatePlan Plan { get; init; }

    /// <summary>Criteria with verdicts, in the order of the study.</summary>
    public required IReadOnlyList<CriterionResult> Criteria { get; init; }

    /// <summary>Parts in order.</summary>
    public required IReadOnlyList<StatementSection> Sections { get; init; }

    /// <summary>Readings of features, for the table of raw results and figures.</summary>
    public required IReadOnlyList<Reading> Readings { get; init; }

    /// <summary>Indications of holes and pits.</summary>
    public required IReadOnlyList<Indication> Indications { get; init; }

    /// <summary>Curve of detection; null where there is none.</summary>
    public DetectionCurve? Curve { get; init; }

    /// <summary>Warnings that belong at the head.</summary>
    public required IReadOnlyList<string> Warnings { get; init; }

    /// <summary>Passed when every criterion passed; not enough data when none failed but some could not be judged.</summary>
    public CriterionVerdict Verdict =>
        Criteria.Any(c => c.Verdict == CriterionVerdict.Fail) ? CriterionVerdict.Fail
        : Criteria.Count == 0 || Criteria.Any(c => c.Verdict == CriterionVerdict.NotEnoughData)
            ? CriterionVerdict.NotEnoughData
        : CriterionVerdict.Pass;
}
