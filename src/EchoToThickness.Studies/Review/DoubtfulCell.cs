namespace EchoToThickness.Studies.Review;

/// <summary>One cell worth a look.</summary>
/// <param name="Scan">Scan position.</param>
/// <param name="Beam">Beam.</param>
/// <param name="Reasons">Why.</param>
/// <param name="Rank">What the list is sorted by, largest first.</param>
/// <param name="ThicknessMetres">Its wall; NaN where none was measured.</param>
/// <param name="AroundMetres">Median wall of the cells around it; NaN where too few are measured.</param>
public readonly record struct DoubtfulCell(
    int Scan,
    int Beam,
    DoubtReason Reasons,
    double Rank,
    double ThicknessMetres,
    double AroundMetres
);
