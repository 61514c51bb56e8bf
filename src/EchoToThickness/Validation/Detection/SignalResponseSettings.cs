namespace EchoToThickness.Validation.Detection;

/// <summary>Settings of a signal-response analysis.</summary>
public sealed record SignalResponseSettings
{
    /// <summary>Features below which no a90/95 is stated: common practice after MIL-HDBK-1823A, from memory.</summary>
    public const int CommonLeastFeatures = 40;

    /// <summary>Axis of the size.</summary>
    public SizeScale SizeScale { get; init; } = SizeScale.Logarithmic;

    /// <summary>Axis of the signal.</summary>
    public SizeScale SignalScale { get; init; } = SizeScale.Logarithmic;

    /// <summary>Signals at or below are known only to be below (noise); 0 or less on a logarithmic axis: none.</summary>
    public double LeftLimit { get; init; } = double.NegativeInfinity;

    /// <summary>Signals at or above are known only to be above (saturation).</summary>
    public double RightLimit { get; init; } = double.PositiveInfinity;

    /// <summary>A signal above this is a detection.</summary>
    public required double DecisionLevel { get; init; }

    /// <summary>One-sided confidence of limits.</summary>
    public double Confidence { get; init; } = 0.95;

    /// <summary>No limit with confidence below this many features.</summary>
    public int LeastFeatures { get; init; } = CommonLeastFeatures;
}
