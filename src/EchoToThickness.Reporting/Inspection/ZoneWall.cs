namespace EchoToThickness.Reporting.Inspection;

/// <summary>The measured minimum of a zone beside its required wall.</summary>
/// <param name="Zone">Zone.</param>
/// <param name="SmallestMetres">Smallest measured wall; never a corrected one.</param>
/// <param name="UncertaintyMetres">Combined standard uncertainty of that cell.</param>
/// <param name="AlongMetres">Its place along.</param>
/// <param name="AroundMetres">Its place around.</param>
/// <param name="RequiredMetres">Required wall with allowances; null where there is none.</param>
/// <param name="RequiredSource">Where the required wall comes from, or why there is none.</param>
/// <param name="ProbabilityBelow">Probability that the true wall of that cell lies below the required one, given that the echo is the right one.</param>
public sealed record ZoneWall(
    string Zone,
    double SmallestMetres,
    double UncertaintyMetres,
    double AlongMetres,
    double AroundMetres,
    double? RequiredMetres,
    string RequiredSource,
    double? ProbabilityBelow
);
