namespace EchoToThickness.Reporting.Documents;

/// <summary>A cell measured again from its A-scan, for a report.</summary>
/// <param name="Png">Its figure, as <c>ett explain</c> draws it.</param>
/// <param name="Page">Its decisions in words, as <c>ett explain</c> prints them.</param>
/// <param name="WallMetres">Wall; NaN for none.</param>
/// <param name="UncertaintyMetres">Combined standard uncertainty; NaN for none.</param>
/// <param name="Budget">Sources of uncertainty in words, standard uncertainties in metres.</param>
public sealed record ExplainedCell(
    byte[] Png,
    string Page,
    double WallMetres,
    double UncertaintyMetres,
    IReadOnlyList<(string Source, double Metres)> Budget
);
