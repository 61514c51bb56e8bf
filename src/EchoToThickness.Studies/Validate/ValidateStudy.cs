using EchoToThickness.Procedures;

namespace EchoToThickness.Studies.Validate;

/// <summary>A validation as its file describes it: a frozen procedure, scans of reference blocks, and what is to be shown.</summary>
public sealed record ValidateStudy
{
    /// <summary>What the study is.</summary>
    [ProcedureKey("study", "What the study is.")]
    public ValidateHeader Header { get; init; } = new();

    /// <summary>The frozen procedure.</summary>
    [ProcedureKey("procedure", "The procedure that is validated, frozen by its SHA-256.")]
    public FrozenProcedure Procedure { get; init; } = new();

    /// <summary>What is claimed.</summary>
    [ProcedureKey("claim", "What is claimed of it.")]
    public ClaimSettings Claim { get; init; } = new();

    /// <summary>Scans.</summary>
    [ProcedureKey("scan", "One scan, or several under the same conditions; any number.")]
    public IReadOnlyList<ScanSettings> Scans { get; init; } = [];

    /// <summary>What scans differ in.</summary>
    [ProcedureKey("factor", "What scans differ in: operator, day, coupling, gain, speed; any number.")]
    public IReadOnlyList<FactorSettings> Factors { get; init; } = [];

    /// <summary>When a feature counts as found.</summary>
    [ProcedureKey("detection", "When a hole or pit counts as found, and how detection is reported.")]
    public DetectionSettings Detection { get; init; } = new();

    /// <summary>Further contributions to the measurement uncertainty.</summary>
    [ProcedureKey(
        "uncertainty",
        "A contribution to the measurement uncertainty that the scans do not show; any number."
    )]
    public IReadOnlyList<InputSettings> Inputs { get; init; } = [];

    /// <summary>Stacks that tuning has seen.</summary>
    [ProcedureKey("tuning", "Which stacks tuning has seen.")]
    public TuningSettings Tuning { get; init; } = new();

    /// <summary>What must hold.</summary>
    [ProcedureKey("criterion", "What must hold for the procedure to pass; any number.")]
    public IReadOnlyList<CriterionSettings> Criteria { get; init; } = [];

    /// <summary>What is expected, for the design of the study.</summary>
    [ProcedureKey("design", "What is expected, to find out how much must be scanned (ett validate --design).")]
    public DesignSettings? Design { get; init; }

    /// <summary>How results are reported.</summary>
    [ProcedureKey("report", "How results are reported.")]
    public ValidateReportSettings Report { get; init; } = new();
}
