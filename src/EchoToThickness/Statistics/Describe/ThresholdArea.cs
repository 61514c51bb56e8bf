namespace EchoToThickness.Statistics.Describe;

/// <summary>Area with a wall below a threshold.</summary>
public sealed record ThresholdArea
{
    /// <summary>Threshold, metres.</summary>
    public required double ThresholdMetres { get; init; }

    /// <summary>Cells measured below.</summary>
    public required int CellsBelow { get; init; }

    /// <summary>Their area, square metres.</summary>
    public required double AreaBelowSquareMetres { get; init; }

    /// <summary>Their share of the measured area.</summary>
    public required double FractionBelow { get; init; }

    /// <summary>Sum of area times probability of being below, square metres.</summary>
    public required double ExpectedAreaSquareMetres { get; init; }

    /// <summary>Area of cells whose probability reaches the sure one, square metres.</summary>
    public required double SurelyBelowSquareMetres { get; init; }

    /// <summary>Area of cells whose probability exceeds one minus the sure one, square metres.</summary>
    public required double PossiblyBelowSquareMetres { get; init; }

    /// <summary>Probability that at least the most likely cell is below.</summary>
    public required double LargestProbability { get; init; }
}
