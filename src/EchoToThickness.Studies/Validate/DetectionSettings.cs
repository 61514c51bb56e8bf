using EchoToThickness.Procedures;
using EchoToThickness.Units;

namespace EchoToThickness.Studies.Validate;

/// <summary>Section <c>[detection]</c>: when a hole or pit counts as found.</summary>
public sealed record DetectionSettings
{
    /// <summary>Least loss of an indication, metres.</summary>
    [ProcedureKey(
        "least_depth",
        "A cell belongs to an indication when it reads thinner than the certified wall around features by at least this.",
        Dimension.Length,
        Minimum = 1e-5,
        Maximum = 0.1
    )]
    public double LeastDepthMetres { get; init; } = 0.5e-3;

    /// <summary>Least cells of an indication.</summary>
    [ProcedureKey("least_cells", "Fewest connected cells that make an indication.", Minimum = 1, Maximum = 10_000)]
    public int LeastCells { get; init; } = 2;

    /// <summary>How far an indication may lie from the feature, metres.</summary>
    [ProcedureKey(
        "reach",
        "An indication belongs to a feature when one of its cells lies over the mouth or at most this far beside it.",
        Dimension.Length,
        Minimum = 0,
        Maximum = 0.1
    )]
    public double ReachMetres { get; init; } = 2e-3;

    /// <summary>Distance from features beyond which metal is blank, metres.</summary>
    [ProcedureKey(
        "clearance",
        "Metal further than this from every feature is blank: an indication there is a false call.",
        Dimension.Length,
        Minimum = 0,
        Maximum = 0.5
    )]
    public double ClearanceMetres { get; init; } = 6e-3;

    /// <summary>Size axis.</summary>
    [ProcedureKey("size", "What probability of detection is given against.")]
    public DetectionSize Size { get; init; } = DetectionSize.Diameter;

    /// <summary>Whether a cell named laminar reflector indicates.</summary>
    [ProcedureKey(
        "laminar_indicates",
        "Whether cells named laminar reflector belong to indications too, as an inspector would follow them up."
    )]
    public bool LaminarIndicates { get; init; }
}
