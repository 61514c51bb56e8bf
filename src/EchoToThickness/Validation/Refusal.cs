using System.Globalization;

namespace EchoToThickness.Validation;

/// <summary>A statement that was not made, with the number that stood in its way.</summary>
/// <param name="Reason">Why.</param>
/// <param name="Found">The number found.</param>
/// <param name="Needed">The number needed; NaN where there is none.</param>
/// <param name="Message">One sentence for the reader, with both numbers.</param>
public sealed record Refusal(RefusalReason Reason, double Found, double Needed, string Message)
{
    internal static Refusal Clusters(int found, int needed) =>
        new(
            RefusalReason.TooFewClusters,
            found,
            needed,
            string.Create(
                CultureInfo.InvariantCulture,
                $"{found} independent clusters; at least {needed} are needed. Add features, placements or scans, not cells."
            )
        );

    internal static Refusal Observations(int found, int needed, string what) =>
        new(
            RefusalReason.TooFewObservations,
            found,
            needed,
            string.Create(CultureInfo.InvariantCulture, $"{found} {what}; at least {needed} are needed.")
        );
}
