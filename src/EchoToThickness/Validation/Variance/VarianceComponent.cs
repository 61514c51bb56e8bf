namespace EchoToThickness.Validation.Variance;

/// <summary>One component of variance.</summary>
/// <param name="Source">What varies.</param>
/// <param name="Variance">Its variance, square of the unit of the data; 0 where the estimate would be negative.</param>
/// <param name="RawVariance">The estimate as it came out, possibly negative.</param>
/// <param name="Deviation">Its standard deviation with interval.</param>
public sealed record VarianceComponent(string Source, double Variance, double RawVariance, Estimate Deviation);
