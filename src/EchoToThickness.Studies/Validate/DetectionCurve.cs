using EchoToThickness.Validation.Detection;

namespace EchoToThickness.Studies.Validate;

/// <summary>Probability of detection against size, for drawing.</summary>
/// <param name="Size">What the size is.</param>
/// <param name="Band">Curve with band; sizes in metres.</param>
/// <param name="Sizes">Size of each feature that was scanned, metres.</param>
/// <param name="FoundShares">Share of looks that found it.</param>
/// <param name="Looks">Looks at each.</param>
public sealed record DetectionCurve(
    DetectionSize Size,
    IReadOnlyList<DetectionBand> Band,
    IReadOnlyList<double> Sizes,
    IReadOnlyList<double> FoundShares,
    IReadOnlyList<int> Looks
);
