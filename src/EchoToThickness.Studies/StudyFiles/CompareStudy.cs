using EchoToThickness.Procedures;

namespace EchoToThickness.Studies.StudyFiles;

/// <summary>A comparison as its file describes it: where A-scans come from, what is swept, which methods measure them.</summary>
public sealed record CompareStudy
{
    /// <summary>What the study is.</summary>
    [ProcedureKey("study", "What the study is.")]
    public StudyHeader Header { get; init; } = new();

    /// <summary>Exact plane layers with white noise.</summary>
    [ProcedureKey("plate", "An exact plane layer in white noise, for which the Cramér-Rao bound is known; any number.")]
    public IReadOnlyList<PlateSettings> Plates { get; init; } = [];

    /// <summary>Simulated scans.</summary>
    [ProcedureKey("scene", "A simulated scan; any number.")]
    public IReadOnlyList<SceneSettings> Scenes { get; init; } = [];

    /// <summary>Stacks that hold their truth.</summary>
    [ProcedureKey("stack", "Stored stacks that hold their truth; any number.")]
    public IReadOnlyList<StackSettings> Stacks { get; init; } = [];

    /// <summary>What is varied; all combinations are measured.</summary>
    [ProcedureKey("sweep", "A key of plates or scenes that is varied; all combinations of several are measured.")]
    public IReadOnlyList<SweepSettings> Sweeps { get; init; } = [];

    /// <summary>What is compared.</summary>
    [ProcedureKey("method", "A procedure that takes part; at least one.")]
    public IReadOnlyList<MethodSettings> Methods { get; init; } = [];

    /// <summary>How errors are judged and reported.</summary>
    [ProcedureKey("report", "How errors are judged and reported.")]
    public ReportSettings Report { get; init; } = new();
}
