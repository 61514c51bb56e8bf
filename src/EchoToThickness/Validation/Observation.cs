namespace EchoToThickness.Validation;

/// <summary>One reading with what is known to be true of it.</summary>
/// <param name="Value">Measured value.</param>
/// <param name="Truth">Certified value, in the same unit.</param>
/// <param name="Cluster">What makes readings alike: the feature in one placement. Readings of one cluster are not independent.</param>
/// <param name="TruthUncertainty">Standard uncertainty of the certified value; 0 when negligible.</param>
public sealed record Observation(double Value, double Truth, string Cluster, double TruthUncertainty = 0)
{
    /// <summary>Measured minus true.</summary>
    public double Error => Value - Truth;
}
