using EchoToThickness.Procedures;
using EchoToThickness.Units;

namespace EchoToThickness.Simulation.Scenes;

/// <summary>Section <c>[surface]</c>: the outer surface and its coats.</summary>
public sealed record SurfaceSection
{
    /// <summary>Root mean square roughness of the outer surface.</summary>
    [ProcedureKey("roughness_rms", "Root mean square roughness of the outer surface.", Dimension.Length, Minimum = 0)]
    public double RoughnessRmsMetres { get; init; } = 0;

    /// <summary>Its correlation length.</summary>
    [ProcedureKey("roughness_correlation", "Its correlation length.", Dimension.Length, Minimum = 0)]
    public double RoughnessCorrelationMetres { get; init; } = 1e-3;

    /// <summary>A coat of paint.</summary>
    [ProcedureKey("paint", "A coat of paint.")]
    public IReadOnlyList<CoatLayer> Paint { get; init; } = [];

    /// <summary>A layer of scale.</summary>
    [ProcedureKey("scale", "A layer of scale.")]
    public IReadOnlyList<CoatLayer> Scale { get; init; } = [];
}
