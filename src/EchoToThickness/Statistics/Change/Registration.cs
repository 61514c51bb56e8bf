namespace EchoToThickness.Statistics.Change;

/// <summary>Where the later survey lies on the earlier one.</summary>
/// <param name="AlongMetres">A feature at x in the earlier survey is at <c>centre + (x - centre) (1 + Stretch) + AlongMetres</c> in the later one.</param>
/// <param name="AroundMetres">The same around, without stretch.</param>
/// <param name="Stretch">Stretch along about the middle of the earlier survey.</param>
/// <param name="Correlation">Correlation of both surveys there.</param>
/// <param name="CorrelationUnmoved">Correlation without any displacement.</param>
/// <param name="Cells">Cells measured in both.</param>
/// <param name="IsReliable">Whether the correlation suffices and the best place is not at the edge of the search.</param>
/// <param name="Note">In words.</param>
public sealed record Registration(
    double AlongMetres,
    double AroundMetres,
    double Stretch,
    double Correlation,
    double CorrelationUnmoved,
    int Cells,
    bool IsReliable,
    string Note
);
