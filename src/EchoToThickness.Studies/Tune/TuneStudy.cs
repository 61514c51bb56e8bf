using EchoToThickness.Procedures;
using EchoToThickness.Studies.StudyFiles;

namespace EchoToThickness.Studies.Tune;

/// <summary>A search for a procedure as its file describes it.</summary>
public sealed record TuneStudy
{
    /// <summary>What the study is.</summary>
    [ProcedureKey("study", "What the study is.")]
    public TuneHeader Header { get; init; } = new();

    /// <summary>The procedure to begin with.</summary>
    [ProcedureKey("base", "The procedure to begin with; whatever is not varied stays as it is there.")]
    public TuneBase Base { get; init; } = new();

    /// <summary>What is varied.</summary>
    [ProcedureKey(
        "vary",
        "A key of the procedure, or several keys that change together, that are varied; at least one."
    )]
    public IReadOnlyList<VarySettings> Vary { get; init; } = [];

    /// <summary>Simulated scans.</summary>
    [ProcedureKey("scene", "A simulated scan; any number.")]
    public IReadOnlyList<SceneSettings> Scenes { get; init; } = [];

    /// <summary>Stored stacks.</summary>
    [ProcedureKey("stack", "Stored stacks; any number. With truth = \"known\" they hold their true wall.")]
    public IReadOnlyList<StackSettings> Stacks { get; init; } = [];

    /// <summary>Scans of one place.</summary>
    [ProcedureKey(
        "repeat",
        "Two stacks that are scans of the same place, cell by cell; for the figure 'repeatability'."
    )]
    public IReadOnlyList<RepeatSettings> Repeats { get; init; } = [];

    /// <summary>How rule sets are looked for.</summary>
    [ProcedureKey("search", "How rule sets are looked for.")]
    public SearchSettings Search { get; init; } = new();

    /// <summary>How a cell is judged.</summary>
    [ProcedureKey("judge", "How cells are judged, and how figures of several stacks become one.")]
    public JudgeSettings Judge { get; init; } = new();

    /// <summary>What is wanted.</summary>
    [ProcedureKey(
        "objective",
        "A figure that is to be small; any number. Left out: gross, missing and rmse-sound; without truth missing, disagreement and jumps."
    )]
    public IReadOnlyList<ObjectiveSettings> Objectives { get; init; } = [];

    /// <summary>What is done with the best rule sets.</summary>
    [ProcedureKey("choice", "How one of the best rule sets is chosen and tried.")]
    public ChoiceSettings Choice { get; init; } = new();

    /// <summary>What is reported.</summary>
    [ProcedureKey("report", "What is drawn and listed.")]
    public TuneReportSettings Report { get; init; } = new();
}
