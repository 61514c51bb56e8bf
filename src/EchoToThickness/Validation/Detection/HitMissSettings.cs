namespace EchoToThickness.Validation.Detection;

/// <summary>Settings of a hit/miss analysis.</summary>
public sealed record HitMissSettings
{
    /// <summary>Features below which no a90/95 is stated: common practice after MIL-HDBK-1823A, from memory.</summary>
    public const int CommonLeastFeatures = 60;

    /// <summary>Link.</summary>
    public DetectionLink Link { get; init; } = DetectionLink.Logit;

    /// <summary>Axis of the size.</summary>
    public SizeScale Scale { get; init; } = SizeScale.Logarithmic;

    /// <summary>One-sided confidence of limits such as a90/95.</summary>
    public double Confidence { get; init; } = 0.95;

    /// <summary>Firth's penalty (Biometrika 80, 1993; Heinze and Schemper, Statistics in Medicine 21, 2002): finite estimates under separation. Logit only.</summary>
    public bool IsPenalised { get; init; }

    /// <summary>No limit with confidence below this many features.</summary>
    public int LeastFeatures { get; init; } = CommonLeastFeatures;
}
