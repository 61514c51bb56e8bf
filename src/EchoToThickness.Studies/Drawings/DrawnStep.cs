using EchoToThickness.Procedures;
using EchoToThickness.Units;

namespace EchoToThickness.Studies.Drawings;

/// <summary>One <c>[[step]]</c>: a rectangle with one certified wall.</summary>
public sealed record DrawnStep
{
    /// <summary>Name.</summary>
    [ProcedureKey("name", "Name in tables; each feature has its own.", Required = true)]
    public string Name { get; init; } = "";

    /// <summary>Centre along, metres.</summary>
    [ProcedureKey("along", "Centre along the scan axis.", Dimension.Length, Required = true)]
    public double AlongMetres { get; init; }

    /// <summary>Centre across, metres.</summary>
    [ProcedureKey("across", "Centre across the scan axis.", Dimension.Length, Required = true)]
    public double AcrossMetres { get; init; }

    /// <summary>Extent along, metres.</summary>
    [ProcedureKey("length", "Extent along.", Dimension.Length, Minimum = 1e-4, Maximum = 100, Required = true)]
    public double LengthMetres { get; init; }

    /// <summary>Extent across, metres.</summary>
    [ProcedureKey("width", "Extent across.", Dimension.Length, Minimum = 1e-4, Maximum = 100, Required = true)]
    public double WidthMetres { get; init; }

    /// <summary>Certified wall, metres.</summary>
    [ProcedureKey("wall", "Certified wall.", Dimension.Length, Minimum = 1e-4, Maximum = 1, Required = true)]
    public double WallMetres { get; init; }

    /// <summary>Expanded uncertainty, metres; null: the block's.</summary>
    [ProcedureKey(
        "uncertainty",
        "Expanded uncertainty of the wall; left out: the block's.",
        Dimension.Length,
        Minimum = 0,
        Maximum = 1e-2
    )]
    public double? UncertaintyMetres { get; init; }
}
