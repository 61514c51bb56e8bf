namespace EchoToThickness.Studies.Validate;

/// <summary>What one scan says of one feature (step, hole, pit, the block itself, or a cluster of a stack with its own truth).</summary>
public sealed record Reading
{
    /// <summary>The scan.</summary>
    public required PlacedScan Scan { get; init; }

    /// <summary>Line of the scan.</summary>
    public required string Line { get; init; }

    /// <summary>Block and feature: the same in every scan of the block.</summary>
    public required string Feature { get; init; }

    /// <summary>Kind: block, step, hole, pit, or cells.</summary>
    public required string Kind { get; init; }

    /// <summary>Certified wall, mean over the judged cells, metres; NaN when no cell was judged.</summary>
    public required double TruthMetres { get; init; }

    /// <summary>Standard uncertainty of it, metres.</summary>
    public required double TruthUncertaintyMetres { get; init; }

    /// <summary>Cells whose wall is even under the beam.</summary>
    public required int Cells { get; init; }

    /// <summary>Those without a wall.</summary>
    public required int Missing { get; init; }

    /// <summary>Those with a gross error.</summary>
    public required int Gross { get; init; }

    /// <summary>Errors of the cells that have a wall, gross errors among them, metres.</summary>
    public required double[] ErrorsMetres { get; init; }

    /// <summary>Combined standard uncertainty that each states, metres.</summary>
    public required double[] UncertaintiesMetres { get; init; }

    /// <summary>Mean error of the measured cells, metres; NaN when there are none.</summary>
    public double MeanErrorMetres => ErrorsMetres.Length > 0 ? ErrorsMetres.Average() : double.NaN;
}
