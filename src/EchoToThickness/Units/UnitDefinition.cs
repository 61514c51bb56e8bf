namespace EchoToThickness.Units;

/// <summary>One unit of the whitelist: <c>SI value = (number × 10^Power) × Factor + Offset</c>.</summary>
/// <param name="Symbol">Symbol as written, case-sensitive.</param>
/// <param name="Dimension">Dimension it belongs to.</param>
/// <param name="Power">Power of ten, applied to the decimal digits themselves, so that <c>"8.6 mm"</c> is exactly <c>8.6e-3</c>.</param>
/// <param name="Factor">Factor that is not a power of ten (degree, inch); 1 otherwise.</param>
/// <param name="Offset">Offset after the factor (degree Fahrenheit); 0 otherwise.</param>
internal readonly record struct UnitDefinition(
    string Symbol,
    Dimension Dimension,
    int Power,
    double Factor = 1,
    double Offset = 0
);
