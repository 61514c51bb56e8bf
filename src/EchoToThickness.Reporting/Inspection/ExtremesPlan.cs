using EchoToThickness.Procedures;

namespace EchoToThickness.Reporting.Inspection;

/// <summary>Section <c>[extremes]</c>.</summary>
public sealed record ExtremesPlan
{
    /// <summary>Switch.</summary>
    [ProcedureKey("on", "Whether a statement about metal without a measured wall is asked for.")]
    public bool On { get; init; } = true;

    /// <summary>Target.</summary>
    [ProcedureKey(
        "target_area_mm2",
        "Area the statement is about, square millimetres; 0: what was not measured.",
        Minimum = 0
    )]
    public double TargetSquareMillimetres { get; init; }

    /// <summary>Confidence.</summary>
    [ProcedureKey("confidence", "Confidence of the lower bound.", Minimum = 0.5, Maximum = 0.999)]
    public double Confidence { get; init; } = 0.95;

    /// <summary>Fields.</summary>
    [ProcedureKey(
        "self_test_fields",
        "Simulated fields of the coverage self-test; 0: none, and the best verdict is caution.",
        Minimum = 0,
        Maximum = 10000
    )]
    public int SelfTestFields { get; init; } = 20;

    /// <summary>Seed.</summary>
    [ProcedureKey("seed", "Seed of everything random.", Minimum = 0)]
    public int Seed { get; init; } = 1;

    /// <summary>By zone.</summary>
    [ProcedureKey(
        "by_zone",
        "Elbow: whether extrados, cheeks, intrados and straight ends are also analysed apart; their bounds hold together at the confidence."
    )]
    public bool ByZone { get; init; } = true;

    /// <summary>Overrules.</summary>
    [ProcedureKey("overrule", "A person's choice of another bound than the thinnest; left out with --machine-only.")]
    public IReadOnlyList<HeadlinePlan> Overrules { get; init; } = [];
}
