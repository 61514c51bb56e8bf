namespace EchoToThickness.Statistics.Describe;

/// <summary>The smallest measured wall.</summary>
public sealed record MinimumWall
{
    /// <summary>Cell index.</summary>
    public required int CellIndex { get; init; }

    /// <summary>Place.</summary>
    public required MapPosition Position { get; init; }

    /// <summary>The measured value, metres. This, and no other, feeds an assessment.</summary>
    public required double MeasuredMetres { get; init; }

    /// <summary>Combined standard uncertainty of that cell, metres.</summary>
    public required double StandardUncertaintyMetres { get; init; }

    /// <summary>Lower end of the interval of that cell, metres.</summary>
    public required double LowerMetres { get; init; }

    /// <summary>Upper end of the interval, metres: that of the cell, raised by the bias.</summary>
    public required double UpperMetres { get; init; }

    /// <summary>Probability that the wrong echo was measured in that cell; null when not known.</summary>
    public required double? WrongEchoProbability { get; init; }

    /// <summary>Expected smallest measured value less the smallest true one, metres; not above zero.</summary>
    public required double BiasMetres { get; init; }

    /// <summary>Measured value less bias, metres: thicker, for information; it never replaces <see cref="MeasuredMetres"/>.</summary>
    public required double BiasCorrectedMetres { get; init; }

    /// <summary>Cells close enough to the smallest to take part in the bias.</summary>
    public required int Contenders { get; init; }

    /// <summary>What the numbers mean, in words.</summary>
    public required string Note { get; init; }
}
