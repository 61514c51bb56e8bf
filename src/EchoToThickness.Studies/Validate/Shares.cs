using EchoToThickness.Validation;
using EchoToThickness.Validation.Accuracy;

namespace EchoToThickness.Studies.Validate;

/// <summary>Shares of cells that come in clusters.</summary>
internal static class Shares
{
    /// <summary>Share of events among cells, clusters being features in scans.</summary>
    /// <remarks>
    /// Ratio of sums with the cluster-robust variance CR2. Where no cluster (or every one) is touched, or the interval would leave 0 to 1, the limit
    /// is that of the share of clusters (Clopper and Pearson), as a cluster that holds an event need not hold more than one.
    /// </remarks>
    public static Estimate Of(IReadOnlyList<(string Cluster, int Events, int Cells)> clusters, double confidence)
    {
        var values = new List<double>();
        var names = new List<string>();
        foreach ((string cluster, int events, int cells) in clusters)
            for (int i = 0; i < cells; i++)
            {
                values.Add(i < events ? 1 : 0);
                names.Add(cluster);
            }
        if (values.Count == 0)
            return new Estimate(
                "share of cells",
                double.NaN,
                double.NaN,
                ConfidenceInterval.None,
                0,
                0,
                double.NaN,
                new Refusal(RefusalReason.TooFewObservations, 0, 1, "0 cells; at least 1 is needed.")
            );
        Estimate robust = Bias.OfReadings(
            new ClusteredSample(values.ToArray(), new Factor("cluster", names)),
            confidence
        );
        if (robust.Refusal is not null)
            return robust with { Method = "share of cells" };
        int groups = clusters.Where(c => c.Cells > 0).Select(c => c.Cluster).Distinct().Count();
        int touched = clusters.Where(c => c.Events > 0).Select(c => c.Cluster).Distinct().Count();
        ConfidenceInterval ofClusters = BinomialInterval.ClopperPearson(touched, groups, confidence);
        bool none = touched == 0 || clusters.All(c => c.Events == c.Cells);
        return none
            ? robust with
            {
                Method = "share of cells; limit from clusters (Clopper and Pearson)",
                StandardError = double.NaN,
                DegreesOfFreedom = double.NaN,
                Interval = touched == 0 ? ofClusters with { Low = 0 } : ofClusters with { High = 1 },
            }
            : robust with
            {
                Method = "share of cells, cluster-robust CR2",
                Interval = robust.Interval with
                {
                    Low = Math.Max(0, robust.Interval.Low),
                    High = Math.Min(1, robust.Interval.High),
                },
            };
    }
}
