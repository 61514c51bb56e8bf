using EchoToThickness.Validation.Accuracy;

namespace EchoToThickness.Validation.Detection;

/// <summary>Errors of one size of found features: remaining wall, diameter or area.</summary>
/// <param name="Quantity">What was sized.</param>
/// <param name="Accuracy">Its accuracy; features are the clusters.</param>
/// <param name="Line">Regression of measured on true size; null when refused.</param>
/// <param name="LineRefusal">Why there is no line.</param>
/// <param name="MissedFeatures">Features that no look found: they have no size and are in no figure here.</param>
public sealed record SizingError(
    string Quantity,
    AccuracyStatement Accuracy,
    MeasuredOnTrue? Line,
    Refusal? LineRefusal,
    int MissedFeatures
)
{
    /// <summary>Describes sizes.</summary>
    /// <param name="quantity">What was sized.</param>
    /// <param name="found">Sizes of found features, the cluster being the feature; at least one.</param>
    /// <param name="missedFeatures">Features never found.</param>
    /// <param name="tolerance">Half width of the claimed tolerance; NaN for none.</param>
    /// <param name="confidence">Two-sided confidence.</param>
    public static SizingError Of(
        string quantity,
        IReadOnlyList<Observation> found,
        int missedFeatures,
        double tolerance = double.NaN,
        double confidence = 0.95
    )
    {
        ArgumentOutOfRangeException.ThrowIfNegative(missedFeatures);
        AccuracyStatement accuracy = AccuracyStatement.Of(
            quantity,
            ClusteredSample.Errors(found),
            tolerance,
            confidence
        );
        MeasuredOnTrue? line = MeasuredOnTrue.Of(found, out Refusal? refusal, confidence);
        return new SizingError(quantity, accuracy, line, refusal, missedFeatures);
    }
}
