namespace EchoToThickness.Studies.Review;

/// <summary>From where on a cell is worth a look. Common practice, no source; the limits are choices of convenience, not of safety.</summary>
public sealed record DoubtRules
{
    /// <summary>Difference from the cells around, metres.</summary>
    public double JumpMetres { get; init; } = 0.5e-3;

    /// <summary>How near a ratio of walls is to 2 or a half, as a fraction.</summary>
    public double RatioFraction { get; init; } = 0.05;

    /// <summary>Margin under which the runner-up was close.</summary>
    public double Margin { get; init; } = 0.25;

    /// <summary>Part of the map, with the lowest margins, that a close runner-up has to belong to.</summary>
    public double MarginShare { get; init; } = 0.01;

    /// <summary>Chance of a wrong echo from which on it is high.</summary>
    public double WrongEcho { get; init; } = 0.05;

    /// <summary>Cells around that have to be measured before a cell is compared with them.</summary>
    public int LeastNeighbours { get; init; } = 3;
}
