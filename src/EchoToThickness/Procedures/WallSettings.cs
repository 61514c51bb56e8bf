using EchoToThickness.Units;

namespace EchoToThickness.Procedures;

/// <summary>Section <c>[wall]</c>: the range of walls that is believed.</summary>
public sealed record WallSettings
{
    /// <summary>Thinnest wall looked for, metres.</summary>
    [ProcedureKey("minimum", "Thinnest wall that is looked for.", Dimension.Length, Minimum = 0)]
    public double MinimumMetres { get; init; } = 1.2e-3;

    /// <summary>Thickest wall looked for, metres.</summary>
    [ProcedureKey("maximum", "Thickest wall that is looked for.", Dimension.Length, Minimum = 0)]
    public double MaximumMetres { get; init; } = 15e-3;

    /// <summary>Nominal wall, metres; null when the stack says or nobody does.</summary>
    [ProcedureKey("nominal", "Nominal wall; left out: the stack's own, if it has one.", Dimension.Length, Minimum = 0)]
    public double? NominalMetres { get; init; }
}
