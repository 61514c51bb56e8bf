namespace EchoToThickness.Studies.Searching;

/// <summary>Sets of points that are chosen before anything is known.</summary>
public static class SearchDesign
{
    /// <summary>Every combination of levels and words, the last axis running fastest.</summary>
    /// <param name="axes">Axes, all with places.</param>
    public static IEnumerable<double[]> Grid(IReadOnlyList<SearchAxis> axes)
    {
        ArgumentNullException.ThrowIfNull(axes);
        if (axes.Any(a => a.Places == 0))
            throw new ArgumentException("A grid needs levels on every axis.", nameof(axes));
        var at = new int[axes.Count];
        while (true)
        {
            yield return [.. axes.Select((axis, i) => axis.LevelAt(at[i]))];
            int last = axes.Count - 1;
            while (last >= 0 && ++at[last] == axes[last].Places)
                at[last--] = 0;
            if (last < 0)
                yield break;
        }
    }

    /// <summary>Number of combinations of <see cref="Grid"/>; infinity when an axis has no levels.</summary>
    /// <param name="axes">Axes.</param>
    public static double GridSize(IReadOnlyList<SearchAxis> axes)
    {
        ArgumentNullException.ThrowIfNull(axes);
        return axes.Aggregate(
            1.0,
            (product, axis) => axis.Places == 0 ? double.PositiveInfinity : product * axis.Places
        );
    }

    /// <summary>
    /// A Latin hypercube (McKay, Beckman and Conover 1979): every axis is cut into as many strata as there are points, and every stratum holds one.
    /// </summary>
    /// <param name="axes">Axes; levels and words are met equally often, up to rounding.</param>
    /// <param name="count">Points.</param>
    /// <param name="random">Random numbers.</param>
    public static double[][] LatinHypercube(IReadOnlyList<SearchAxis> axes, int count, RandomStream random)
    {
        ArgumentNullException.ThrowIfNull(axes);
        ArgumentNullException.ThrowIfNull(random);
        var points = new double[count][];
        for (int i = 0; i < count; i++)
            points[i] = new double[axes.Count];
        for (int axis = 0; axis < axes.Count; axis++)
        {
            int[] stratum = random.Permutation(count);
            for (int i = 0; i < count; i++)
                points[i][axis] = axes[axis].PlaceAt((stratum[i] + random.NextDouble()) / count);
        }
        return points;
    }
}
