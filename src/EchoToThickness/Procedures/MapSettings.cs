using EchoToThickness.Units;

namespace EchoToThickness.Procedures;

/// <summary>Section <c>[map]</c>: the joint choice of walls over true neighbours, for the pairing rule <c>train</c>.</summary>
public sealed record MapSettings
{
    /// <summary>Cells on either side that a cell's choice may depend on, whatever the size of the map.</summary>
    public const int ReachCells = 6;

    /// <summary>Which method chooses.</summary>
    [ProcedureKey(
        "choice",
        "How a wall is chosen among a cell's hypotheses with a look at true neighbours; needs the pairing rule 'train'."
    )]
    public MapChoice Choice { get; init; } = MapChoice.Off;

    /// <summary>Change of wall from one cell to the next that costs one nat, metres.</summary>
    [ProcedureKey(
        "change",
        "Change of wall from one cell to the next that costs one nat of evidence.",
        Dimension.Length,
        Minimum = 1e-6,
        Maximum = 0.1
    )]
    public double ChangeMetres { get; init; } = 0.2e-3;

    /// <summary>Largest cost of a change, nats: no step, however high, costs more.</summary>
    [ProcedureKey(
        "jump",
        "Largest cost of a change, in nats: no step, however high, costs more.",
        Minimum = 0,
        Maximum = 20
    )]
    public double JumpNats { get; init; } = 3;

    /// <summary>Evidence of a cell's own from which neighbours are not heard, nats.</summary>
    [ProcedureKey(
        "guard",
        "A hypothesis that a cell's own evidence puts this far under its best, in nats, is never chosen, whatever the neighbours say.",
        Minimum = 0,
        Maximum = 100
    )]
    public double GuardNats { get; init; } = 12;
}
