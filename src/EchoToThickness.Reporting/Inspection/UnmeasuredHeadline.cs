namespace EchoToThickness.Reporting.Inspection;

/// <summary>The one bound to quote about all metal without a wall.</summary>
/// <param name="LowerBoundMetres">The thinnest of the bounds that carry the statement; null where some of the metal has none.</param>
/// <param name="Confidence">Confidence of that bound for all of the metal together.</param>
/// <param name="Source">Which analysis and method it comes from.</param>
/// <param name="Overruled">A person's decision behind it; null for the thinnest result of the machine.</param>
/// <param name="WithoutBound">Zones with unmeasured metal for which nothing is supported.</param>
public sealed record UnmeasuredHeadline(
    double? LowerBoundMetres,
    double Confidence,
    string Source,
    string? Overruled,
    IReadOnlyList<string> WithoutBound
);
