using EchoToThickness.Procedures;
using EchoToThickness.Simulation.Scenes;
using EchoToThickness.Units;

namespace EchoToThickness.Studies.Drawings;

/// <summary>One <c>[[pit]]</c>: a pit whose deepest point is certified.</summary>
public sealed record DrawnPit
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

    /// <summary>Shape.</summary>
    [ProcedureKey("shape", "Shape; the deepest point is the centre.")]
    public PitShape Shape { get; init; } = PitShape.Spherical;

    /// <summary>Diameter of the mouth along, metres.</summary>
    [ProcedureKey(
        "diameter",
        "Diameter of the mouth, along before it is turned.",
        Dimension.Length,
        Minimum = 1e-4,
        Maximum = 10,
        Required = true
    )]
    public double DiameterMetres { get; init; }

    /// <summary>Width across, metres; null: the diameter.</summary>
    [ProcedureKey(
        "width",
        "Width of the mouth across, for pits that are not round; left out: the diameter.",
        Dimension.Length,
        Minimum = 1e-4,
        Maximum = 10
    )]
    public double? WidthMetres { get; init; }

    /// <summary>Turn of the diameter from along towards across, radians.</summary>
    [ProcedureKey("angle", "Turn of the diameter's direction from along towards across.", Dimension.Angle)]
    public double AngleRadians { get; init; }

    /// <summary>Certified wall at the deepest point, metres.</summary>
    [ProcedureKey(
        "wall",
        "Certified wall that remains at the deepest point.",
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
