using EchoToThickness.Statistics;

namespace EchoToThickness.Validation;

/// <summary>Values that belong to clusters; the clusters are independent of each other, values of one cluster are not.</summary>
public sealed class ClusteredSample
{
    private readonly double[] _values;
    private readonly int[] _clusters;
    private readonly double[] _means;
    private readonly int[] _sizes;

    /// <summary>Makes a sample.</summary>
    /// <param name="values">Finite values, at least one.</param>
    /// <param name="clusters">Which cluster each belongs to.</param>
    /// <exception cref="StatisticsException">No values, or one that is not finite.</exception>
    public ClusteredSample(ReadOnlySpan<double> values, Factor clusters)
    {
        ArgumentNullException.ThrowIfNull(clusters);
        if (values.Length != clusters.Count)
            throw new ArgumentException($"{values.Length} values, {clusters.Count} cluster keys.", nameof(clusters));
        if (values.IsEmpty)
            throw new StatisticsException("There are no values.", "sample", "measure something first.");
        _values = values.ToArray();
        _clusters = clusters.Codes.ToArray();
        _means = new double[clusters.Levels.Count];
        _sizes = new int[_means.Length];
        for (int i = 0; i < _values.Length; i++)
        {
            if (!double.IsFinite(_values[i]))
                throw new StatisticsException(
                    $"The value {_values[i]} is not finite.",
                    $"observation {i}",
                    "leave out what was not measured, and count it as missing."
                );
            _sizes[_clusters[i]]++;
        }
        for (int i = 0; i < _values.Length; i++)
            _means[_clusters[i]] += (_values[i] - _values[0]) / _sizes[_clusters[i]];
        for (int g = 0; g < _means.Length; g++)
            _means[g] += _values[0];
    }

    /// <summary>Values, shape [observation].</summary>
    public ReadOnlySpan<double> Values => _values;

    /// <summary>Cluster numbers, shape [observation].</summary>
    public ReadOnlySpan<int> Clusters => _clusters;

    /// <summary>Means of the clusters, shape [cluster].</summary>
    public ReadOnlySpan<double> Means => _means;

    /// <summary>Sizes of the clusters, shape [cluster].</summary>
    public ReadOnlySpan<int> Sizes => _sizes;

    /// <summary>Number of clusters.</summary>
    public int ClusterCount => _means.Length;

    /// <summary>Number of values.</summary>
    public int Count => _values.Length;

    /// <summary>Errors (measured minus true) of observations.</summary>
    /// <param name="observations">Observations.</param>
    public static ClusteredSample Errors(IReadOnlyList<Observation> observations)
    {
        ArgumentNullException.ThrowIfNull(observations);
        return new ClusteredSample(
            observations.Select(o => o.Error).ToArray(),
            new Factor("cluster", observations.Select(o => o.Cluster).ToArray())
        );
    }

    /// <summary>Values that are all independent: each its own cluster.</summary>
    /// <param name="values">Finite values.</param>
    public static ClusteredSample Independent(ReadOnlySpan<double> values)
    {
        var names = new string[values.Length];
        for (int i = 0; i < names.Length; i++)
            names[i] = i.ToString(System.Globalization.CultureInfo.InvariantCulture);
        return new ClusteredSample(values, new Factor("observation", names));
    }
}
