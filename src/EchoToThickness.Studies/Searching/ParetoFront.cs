namespace EchoToThickness.Studies.Searching;

/// <summary>What is not beaten in everything at once.</summary>
public static class ParetoFront
{
    /// <summary>Rank of each point: 0 on the front, 1 on the front of what is left without it, and so on. Smaller values are better.</summary>
    /// <param name="points">Shape [point][objective]; NaN counts as infinitely bad.</param>
    /// <remarks>A point beats another when it is nowhere worse and somewhere better; equal points do not beat each other. Exact, in the square of the number of points.</remarks>
    public static int[] Ranks(IReadOnlyList<double[]> points)
    {
        ArgumentNullException.ThrowIfNull(points);
        var rank = new int[points.Count];
        Array.Fill(rank, -1);
        int[] left = [.. Enumerable.Range(0, points.Count)];
        for (int front = 0; left.Length > 0; front++)
        {
            int[] best = [.. left.Where(i => !left.Any(j => Beats(points[j], points[i])))];
            foreach (int i in best)
                rank[i] = front;
            left = [.. left.Where(i => rank[i] < 0)];
        }
        return rank;
    }

    /// <summary>Whether a point is nowhere worse than another and somewhere better.</summary>
    /// <param name="one">Shape [objective].</param>
    /// <param name="other">Shape [objective].</param>
    public static bool Beats(double[] one, double[] other)
    {
        ArgumentNullException.ThrowIfNull(one);
        ArgumentNullException.ThrowIfNull(other);
        bool better = false;
        for (int k = 0; k < one.Length; k++)
        {
            double a = double.IsNaN(one[k]) ? double.PositiveInfinity : one[k];
            double b = double.IsNaN(other[k]) ? double.PositiveInfinity : other[k];
            if (a > b)
                return false;
            better |= a < b;
        }
        return better;
    }
}
