namespace EchoToThickness.Studies;

/// <summary>How wrong one measured wall is, by <see cref="AccuracyRules"/>.</summary>
/// <param name="ErrorMetres">Value less truth; where two truths hold, signed distance to the interval between them.</param>
/// <param name="Gross">Off by more than the limit of gross.</param>
/// <param name="Cycle">Off by more than an eighth of a wavelength; gross errors are among them.</param>
/// <param name="Doubled">Gross, and within the limit of gross of twice the wall.</param>
/// <param name="Halved">Gross, and within the limit of gross of half the wall.</param>
/// <param name="ThickOverMinimum">More than the gross limit above the smallest wall under the aperture.</param>
public readonly record struct CellVerdict(
    double ErrorMetres,
    bool Gross,
    bool Cycle,
    bool Doubled,
    bool Halved,
    bool ThickOverMinimum
);
