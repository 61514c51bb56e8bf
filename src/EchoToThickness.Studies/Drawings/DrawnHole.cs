using EchoToThickness.Procedures;
using EchoToThickness.Units;

namespace EchoToThickness.Studies.Drawings;

/// <summary>One <c>[[hole]]</c>: a flat-bottom hole from the far side.</summary>
public sealed record DrawnHole
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

    /// <summary>Diameter, metres.</summary>
    [ProcedureKey("diameter", "Diameter.", Dimension.Length, Minimum = 1e-4, Maximum = 1, Required = true)]
    public double DiameterMetres { get; init; }

    /// <summary>Certified wall over the hole, metres.</summary>
    [ProcedureKey(
        "wall",
        "Certified wall that remains over the hole.",
        Dimension.Length,
        Minimum = 1e-4,
        Maximum = 1,
        Required = true
    )]
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
