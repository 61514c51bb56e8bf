using EchoToThickness.Stacks;

namespace EchoToThickness.Studies.Tune;

/// <summary>What breaks where on one line of a stack.</summary>
public sealed record BreakMap
{
    /// <summary>The stack, and its line where it has several.</summary>
    public required string Name { get; init; }

    /// <summary>Number of the stack.</summary>
    public required int Point { get; init; }

    /// <summary>Number of the line.</summary>
    public required int Block { get; init; }

    /// <summary>Facts of the line.</summary>
    public required StackInfo Info { get; init; }

    /// <summary>Shape [scan, beam]: what the chosen rule set made of each cell.</summary>
    public required CellKind[] Kinds { get; init; }

    /// <summary>Shape [scan, beam]: likewise the base procedure.</summary>
    public required CellKind[] BaseKinds { get; init; }

    /// <summary>Shape [scan, beam]: how many small changes of the chosen rule set change the cell.</summary>
    public required int[] Flips { get; init; }

    /// <summary>Cells that are gross or missing by the chosen rule set.</summary>
    public int Broken => Kinds.Count(k => k > CellKind.Sound);
}
