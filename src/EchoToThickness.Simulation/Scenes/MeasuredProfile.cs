using EchoToThickness.Procedures;
using EchoToThickness.Units;

namespace EchoToThickness.Simulation.Scenes;

/// <summary>One <c>[[wall.profile]]</c>: a measured profile of loss or wall from a file.</summary>
public sealed record MeasuredProfile
{
    /// <summary>For people.</summary>
    [ProcedureKey("name", "For people.")]
    public string Name { get; init; } = "";

    /// <summary>Centre along the component: a length from its start, an angle of the bend, or a fraction of the length.</summary>
    [ProcedureKey(
        "along",
        "Centre along the component: a length from its start, an angle of the bend, or a fraction of the length."
    )]
    public SceneLength Along { get; init; } = SceneLength.FromMetres(0);

    /// <summary>Centre around the girth (a plate: across): a length, an angle from the extrados, or a fraction of the girth.</summary>
    [ProcedureKey(
        "around",
        "Centre around the girth (a plate: across): a length, an angle from the extrados, or a fraction of the girth."
    )]
    public SceneLength Around { get; init; } = SceneLength.FromMetres(0);

    /// <summary>CSV file with one row a step along, one column a step around, in millimetres; or a grid (.h5). A path counts from the scene's folder.</summary>
    [ProcedureKey(
        "file",
        "CSV file with one row a step along, one column a step around, in millimetres; or a grid (.h5). A path counts from the scene's folder.",
        Required = true
    )]
    public string File { get; init; } = "";

    /// <summary>Grid: layer that is read.</summary>
    [ProcedureKey("layer", "Grid: layer that is read.")]
    public string Layer { get; init; } = "thickness";

    /// <summary>CSV: distance of rows.</summary>
    [ProcedureKey("step_along", "CSV: distance of rows.", Dimension.Length, Minimum = 0)]
    public double? StepAlongMetres { get; init; }

    /// <summary>CSV: distance of columns.</summary>
    [ProcedureKey("step_around", "CSV: distance of columns.", Dimension.Length, Minimum = 0)]
    public double? StepAroundMetres { get; init; }

    /// <summary>Numbers are walls, not losses.</summary>
    [ProcedureKey("is_wall", "Numbers are walls, not losses.")]
    public bool IsWall { get; init; } = true;

    /// <summary>Factor on the numbers.</summary>
    [ProcedureKey("scale", "Factor on the numbers.")]
    public double Scale { get; init; } = 1;
}
