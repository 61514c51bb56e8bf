using EchoToThickness.Validation.Accuracy;
using EchoToThickness.Validation.Numerics;

namespace EchoToThickness.Validation.Detection;

/// <summary>Errors of place of found features.</summary>
/// <param name="Along">Mean error along the scan axis.</param>
/// <param name="Across">Mean error along the index axis.</param>
/// <param name="OffsetProbability">Probability of so large a mean offset when there is none (Hotelling's T² on feature means); NaN when refused.</param>
/// <param name="RootMeanSquare">Root mean square distance of all looks.</param>
/// <param name="UpperDistance">Upper tolerance limit of a feature's distance from order statistics, without a distribution.</param>
public sealed record LocationError(
    Estimate Along,
    Estimate Across,
    double OffsetProbability,
    double RootMeanSquare,
    Estimate UpperDistance
)
{
    /// <summary>Describes errors of place.</summary>
    /// <param name="along">Found minus true place along the scan axis, shape [look].</param>
    /// <param name="across">Found minus true place along the index axis, shape [look].</param>
    /// <param name="features">Feature of each look.</param>
    /// <param name="confidence">Two-sided confidence; also that of the distance.</param>
    /// <param name="share">Share of features within the distance. A feature counts by its farthest look.</param>
    public static LocationError Of(
        ReadOnlySpan<double> along,
        ReadOnlySpan<double> across,
        Factor features,
        double confidence = 0.95,
        double share = 0.95
    )
    {
        ArgumentNullException.ThrowIfNull(features);
        var a = new ClusteredSample(along, features);
        var b = new ClusteredSample(across, features);
        Estimate first = Bias.OfClusterMeans(a, confidence);
        Estimate second = Bias.OfClusterMeans(b, confidence);
        int g = a.ClusterCount;
        double probability = double.NaN;
        if (first.Refusal == null && g > 2)
        {
            double cross = 0;
            for (int k = 0; k < g; k++)
                cross += (a.Means[k] - first.Value) * (b.Means[k] - second.Value) / (g - 1.0) / g;
            double va = first.StandardError * first.StandardError;
            double vb = second.StandardError * second.StandardError;
            double square =
                (
                    first.Value * first.Value * vb
                    - 2 * first.Value * second.Value * cross
                    + second.Value * second.Value * va
                ) / (va * vb - cross * cross);
            probability = Quantile.FisherAbove(square * (g - 2) / (2.0 * (g - 1)), 2, g - 2);
        }
        double sum = 0;
        var farthest = new double[g];
        for (int i = 0; i < along.Length; i++)
        {
            double distance = Math.Sqrt(along[i] * along[i] + across[i] * across[i]);
            sum += distance * distance / along.Length;
            farthest[a.Clusters[i]] = Math.Max(farthest[a.Clusters[i]], distance);
        }
        return new LocationError(
            first,
            second,
            probability,
            Math.Sqrt(sum),
            OrderStatisticTolerance.Of(farthest, share, confidence, ToleranceSide.Upper)
        );
    }
}
