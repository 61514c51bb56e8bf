namespace EchoToThickness.Stacks;

/// <summary>Along which axes neighbouring cells lie side by side on the metal. Rules that look at neighbours obey it.</summary>
[Flags]
public enum NeighbourAxes
{
    /// <summary>Cells are unrelated; nothing may be tied to its neighbour.</summary>
    None = 0,

    /// <summary>Consecutive scan positions are neighbours.</summary>
    Scan = 1,

    /// <summary>Consecutive beams are neighbours.</summary>
    Beam = 2,

    /// <summary>Both.</summary>
    Both = Scan | Beam,
}
