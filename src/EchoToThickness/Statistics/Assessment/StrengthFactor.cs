namespace EchoToThickness.Statistics.Assessment;

/// <summary>Remaining strength of a local thin area.</summary>
/// <param name="RemainingRatio">Rt.</param>
/// <param name="Lambda">Shell parameter.</param>
/// <param name="Folias">Folias factor Mt.</param>
/// <param name="Factor">Remaining strength factor RSF.</param>
/// <param name="PressureShare">Share of the allowable pressure that is left: RSF / RSFa, at most 1.</param>
public sealed record StrengthFactor(
    double RemainingRatio,
    double Lambda,
    double Folias,
    double Factor,
    double PressureShare
);
