namespace EchoToThickness.Reporting.Inspection;

/// <summary>A quantile of the corrosion rate.</summary>
/// <param name="Probability">Share of the area with a smaller rate.</param>
/// <param name="MetresPerYear">Rate; loss above zero.</param>
public sealed record RateQuantile(double Probability, double MetresPerYear);
