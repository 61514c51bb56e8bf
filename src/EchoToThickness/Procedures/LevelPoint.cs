using EchoToThickness.Units;

namespace EchoToThickness.Procedures;

/// <summary>One point of a distance-dependent level (<c>[[gate.level_by_depth]]</c>); linear in decibels between points.</summary>
public sealed record LevelPoint
{
    /// <summary>Depth of metal behind the followed echo, metres.</summary>
    [ProcedureKey("depth", "Depth of metal behind the followed echo.", Dimension.Length, Minimum = 0, Required = true)]
    public double DepthMetres { get; init; }

    /// <summary>Decibels added to the gate's level there.</summary>
    [ProcedureKey("change", "Decibels added to the gate's level at that depth.", Dimension.Decibel, Required = true)]
    public double ChangeDecibels { get; init; }
}
