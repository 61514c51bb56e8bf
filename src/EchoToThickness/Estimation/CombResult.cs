namespace EchoToThickness.Estimation;

/// <summary>What a search of the whole record for an evenly spaced train found.</summary>
/// <param name="SpacingSamples">Spacing of the best comb.</param>
/// <param name="Evidence">Log likelihood ratio (coherent) or minus log chance under noise (incoherent), nats.</param>
/// <param name="RunnerUp">Evidence of the best comb more than two periods away, nats.</param>
/// <param name="AtEdge">The best lies at an end of the range searched.</param>
/// <param name="MayHide">A first wall at half or a third of the spacing would lie under a couplant echo.</param>
/// <param name="UncertaintySeconds">Standard uncertainty of the spacing from noise, seconds; NaN for the incoherent comb.</param>
/// <param name="Excess">By what the evidence was divided, since clutter about the spacing stands above the noise; 1 for none.</param>
public readonly record struct CombResult(
    double SpacingSamples,
    double Evidence,
    double RunnerUp,
    bool AtEdge,
    bool MayHide,
    double UncertaintySeconds,
    double Excess
);
