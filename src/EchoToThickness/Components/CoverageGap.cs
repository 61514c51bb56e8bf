namespace EchoToThickness.Components;

/// <summary>A connected area that no line covered.</summary>
/// <param name="Cells">Cells.</param>
/// <param name="AreaSquareMetres">True area.</param>
/// <param name="AlongFromMetres">Beginning along, outer edge.</param>
/// <param name="AlongToMetres">End along.</param>
/// <param name="AroundFromMetres">Beginning around; the gap may lie across the extrados, then the end is beyond the girth.</param>
/// <param name="AroundToMetres">End around.</param>
/// <param name="WidestAlongMetres">Longest unscanned run along in metres of metal: where lines go around, it grows to the extrados.</param>
/// <param name="Disc">Largest disc in it.</param>
public sealed record CoverageGap(
    int Cells,
    double AreaSquareMetres,
    double AlongFromMetres,
    double AlongToMetres,
    double AroundFromMetres,
    double AroundToMetres,
    double WidestAlongMetres,
    UnsampledDisc Disc
);
