using EchoToThickness.Procedures;

namespace EchoToThickness.Simulation.Scenes;

/// <summary>Section <c>[scene]</c>: what the scene is.</summary>
public sealed record SceneHeader
{
    /// <summary>Version of the scene format.</summary>
    [ProcedureKey("format_version", "Version of the scene format.", Minimum = 1, Maximum = 1)]
    public int FormatVersion { get; init; } = 1;

    /// <summary>Short name.</summary>
    [ProcedureKey("name", "Short name.")]
    public string Name { get; init; } = "scene";

    /// <summary>For people.</summary>
    [ProcedureKey("description", "For people.")]
    public string Description { get; init; } = "";

    /// <summary>Seed of everything random: the same scene gives the same bytes.</summary>
    [ProcedureKey("seed", "Seed of everything random: the same scene gives the same bytes.", Minimum = 0)]
    public long Seed { get; init; } = 1;

    /// <summary>Seed of what another scan of the same component would draw anew; null: <see cref="Seed"/>.</summary>
    [ProcedureKey(
        "noise_seed",
        "Seed of what another scan of the same wall would draw anew: noise, spikes, trigger jitter, couplant jitter and bubbles; left out: seed.",
        Minimum = 0
    )]
    public long? NoiseSeed { get; init; }
}
