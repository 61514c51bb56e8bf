namespace EchoToThickness.Validation.Detection;

/// <summary>A size that is detected with a probability.</summary>
/// <param name="Probability">Probability of detection.</param>
/// <param name="Size">Best estimate of the size, in the unit of the sizes given.</param>
/// <param name="Wald">Its upper confidence limit from the normal approximation (cluster-robust where features were looked at more than once).</param>
/// <param name="LikelihoodRatio">Its upper confidence limit from the likelihood ratio.</param>
public sealed record SizeLimit(double Probability, double Size, Estimate Wald, Estimate LikelihoodRatio);
