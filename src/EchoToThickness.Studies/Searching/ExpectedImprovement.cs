using MathNet.Numerics.Distributions;

namespace EchoToThickness.Studies.Searching;

/// <summary>Where to look next for a minimum (Mockus 1975; Jones, Schonlau and Welch 1998).</summary>
public static class ExpectedImprovement
{
    private const int Scattered = 1500;
    private const int Nearby = 600;
    private const int Centres = 6;

    /// <summary>How much under the best value a normal variable lies on average, counting only what lies under it.</summary>
    /// <param name="mean">Mean.</param>
    /// <param name="deviation">Standard deviation.</param>
    /// <param name="best">Smallest value known.</param>
    public static double Of(double mean, double deviation, double best)
    {
        if (!(deviation > 0))
            return Math.Max(best - mean, 0);
        double u = (best - mean) / deviation;
        return (best - mean) * Normal.CDF(0, 1, u) + deviation * Normal.PDF(0, 1, u);
    }

    /// <summary>Proposes points to be looked at together: each as if the ones before had given what the surrogate expects of them.</summary>
    /// <param name="axes">Axes.</param>
    /// <param name="points">Shape [point][axis]: known points.</param>
    /// <param name="values">Shape [point]: their values.</param>
    /// <param name="count">How many are proposed at most.</param>
    /// <param name="random">Random numbers.</param>
    /// <returns>New points, none of them known or twice; fewer when the space is used up.</returns>
    public static IReadOnlyList<double[]> Propose(
        IReadOnlyList<SearchAxis> axes,
        IReadOnlyList<double[]> points,
        IReadOnlyList<double> values,
        int count,
        RandomStream random
    )
    {
        ArgumentNullException.ThrowIfNull(axes);
        ArgumentNullException.ThrowIfNull(points);
        ArgumentNullException.ThrowIfNull(values);
        ArgumentNullException.ThrowIfNull(random);
        var known = new HashSet<string>(points.Select(Key));
        GaussianProcess surrogate = GaussianProcess.Fit(axes, [.. points], [.. values]);
        List<double[]> all = [.. points];
        List<double> theirs = [.. values];
        var proposed = new List<double[]>();
        while (proposed.Count < count)
        {
            double least = theirs.Min();
            double[]? chosen = null;
            double most = double.NegativeInfinity;
            foreach (double[] candidate in Candidates(axes, all, theirs, random))
            {
                if (known.Contains(Key(candidate)))
                    continue;
                (double mean, double deviation) = surrogate.Predict(candidate);
                double improvement = Of(mean, deviation, least);
                if (improvement > most)
                    (most, chosen) = (improvement, candidate);
            }
            if (chosen is null)
                break;
            proposed.Add(chosen);
            known.Add(Key(chosen));
            all.Add(chosen);
            theirs.Add(surrogate.Mean(chosen));
            if (proposed.Count < count)
                surrogate = surrogate.With([.. all], [.. theirs]);
        }
        return proposed;
    }

    private static IEnumerable<double[]> Candidates(
        IReadOnlyList<SearchAxis> axes,
        List<double[]> points,
        List<double> values,
        RandomStream random
    )
    {
        for (int i = 0; i < Scattered; i++)
            yield return [.. axes.Select(axis => axis.PlaceAt(random.NextDouble()))];
        double[][] centres =
        [
            .. Enumerable
                .Range(0, points.Count)
                .OrderBy(i => values[i])
                .ThenBy(i => i)
                .Take(Centres)
                .Select(i => points[i]),
        ];
        for (int i = 0; i < Nearby; i++)
        {
            double[] near = [.. centres[i % centres.Length]];
            double width = Math.Pow(10, -0.5 - 1.5 * random.NextDouble());
            bool moved = false;
            while (!moved)
                for (int axis = 0; axis < axes.Count; axis++)
                {
                    // About two axes at a time.
                    if (random.NextDouble() > 2.0 / axes.Count && axes.Count > 1)
                        continue;
                    near[axis] = axes[axis].IsChoice
                        ? random.Next(axes[axis].Words)
                        : axes[axis].Snap(near[axis] + Step(axes[axis], width * random.NextNormal()));
                    moved = true;
                }
            yield return near;
        }
    }

    // On levels at least one level.
    private static double Step(SearchAxis axis, double step) =>
        axis.Levels > 1 && Math.Abs(step) < 0.6 / (axis.Levels - 1) ? Math.Sign(step) / (axis.Levels - 1.0) : step;

    private static string Key(double[] point) =>
        string.Join(
            ' ',
            point.Select(p =>
                BitConverter.DoubleToInt64Bits(p).ToString("x", System.Globalization.CultureInfo.InvariantCulture)
            )
        );
}
