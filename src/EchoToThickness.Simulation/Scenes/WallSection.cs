using EchoToThickness.Procedures;
using EchoToThickness.Units;

namespace EchoToThickness.Simulation.Scenes;

/// <summary>Section <c>[wall]</c>: the wall, feature by feature. Losses of all features add up; where machined features overlap the deepest counts.</summary>
public sealed record WallSection
{
    /// <summary>Elbow: fraction of the wall lost at the extrados, as cosine of the angle around.</summary>
    [ProcedureKey(
        "bend_thinning",
        "Elbow: fraction of the wall lost at the extrados, as cosine of the angle around.",
        Dimension.Fraction,
        Minimum = 0,
        Maximum = 0.9
    )]
    public double BendThinningFraction { get; init; } = 0;

    /// <summary>Elbow: fraction of the wall gained at the intrados.</summary>
    [ProcedureKey(
        "bend_thickening",
        "Elbow: fraction of the wall gained at the intrados.",
        Dimension.Fraction,
        Minimum = 0,
        Maximum = 2
    )]
    public double BendThickeningFraction { get; init; } = 0;

    /// <summary>A machined step.</summary>
    [ProcedureKey("step", "A machined step.")]
    public IReadOnlyList<StepFeature> Steps { get; init; } = [];

    /// <summary>A flat-bottom hole from the inside.</summary>
    [ProcedureKey("hole", "A flat-bottom hole from the inside.")]
    public IReadOnlyList<HoleFeature> Holes { get; init; } = [];

    /// <summary>A single pit.</summary>
    [ProcedureKey("pit", "A single pit.")]
    public IReadOnlyList<PitFeature> Pits { get; init; } = [];

    /// <summary>A groove.</summary>
    [ProcedureKey("groove", "A groove.")]
    public IReadOnlyList<GrooveFeature> Grooves { get; init; } = [];

    /// <summary>A large, smooth corroded area.</summary>
    [ProcedureKey("patch", "A large, smooth corroded area.")]
    public IReadOnlyList<PatchFeature> Patches { get; init; } = [];

    /// <summary>General corrosion as a random field.</summary>
    [ProcedureKey("roughness", "General corrosion as a random field.")]
    public IReadOnlyList<RoughnessField> Roughness { get; init; } = [];

    /// <summary>A field of pits at random.</summary>
    [ProcedureKey("cluster", "A field of pits at random.")]
    public IReadOnlyList<PitCluster> Clusters { get; init; } = [];

    /// <summary>A reflector parallel to the surface inside the metal.</summary>
    [ProcedureKey("lamination", "A reflector parallel to the surface inside the metal.")]
    public IReadOnlyList<LaminationFeature> Laminations { get; init; } = [];

    /// <summary>Small reflectors scattered in the metal.</summary>
    [ProcedureKey("inclusion", "Small reflectors scattered in the metal.")]
    public IReadOnlyList<InclusionFeature> Inclusions { get; init; } = [];

    /// <summary>A deposit on the inside.</summary>
    [ProcedureKey("deposit", "A deposit on the inside.")]
    public IReadOnlyList<DepositFeature> Deposits { get; init; } = [];

    /// <summary>A measured profile from a file.</summary>
    [ProcedureKey("profile", "A measured profile from a file.")]
    public IReadOnlyList<MeasuredProfile> Profiles { get; init; } = [];
}
