namespace EchoToThickness.Validation.Detection;

/// <summary>Probability of detection at one size with its band.</summary>
/// <param name="Size">Size.</param>
/// <param name="Probability">Best estimate.</param>
/// <param name="Wald">Pointwise two-sided band from the normal approximation.</param>
/// <param name="LikelihoodRatio">Pointwise two-sided band from the likelihood ratio; none where looks are repeated.</param>
public sealed record DetectionBand(
    double Size,
    double Probability,
    ConfidenceInterval Wald,
    ConfidenceInterval LikelihoodRatio
);
