namespace EchoToThickness.Studies.Compare;

/// <summary>What one method did on one group of cells.</summary>
public sealed record CompareRow
{
    /// <summary>Name of the method.</summary>
    public required string Method { get; init; }

    /// <summary>The cells.</summary>
    public required CompareGroup Group { get; init; }

    /// <summary>Cells with an A-scan and a known truth.</summary>
    public required long Cells { get; init; }

    /// <summary>Cells left out because no A-scan was stored or the truth is not known.</summary>
    public required long LeftOut { get; init; }

    /// <summary>Independent clusters that the cells form.</summary>
    public required long Clusters { get; init; }

    /// <summary>Cells with a number.</summary>
    public required long Measured { get; init; }

    /// <summary>Root mean square of the bound of the cells, metres; NaN when there is none.</summary>
    public required double BoundMetres { get; init; }

    /// <summary>Shape [figure], in the order of <see cref="CompareFigure"/>.</summary>
    public required IReadOnlyList<FigureValue> Figures { get; init; }

    /// <summary>One figure.</summary>
    /// <param name="figure">Which.</param>
    public FigureValue this[CompareFigure figure] => Figures[(int)figure];
}
