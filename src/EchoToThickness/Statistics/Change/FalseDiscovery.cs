namespace EchoToThickness.Statistics.Change;

/// <summary>Control of the false-discovery rate.</summary>
public static class FalseDiscovery
{
    /// <summary>Benjamini and Hochberg's step-up rule (J. R. Stat. Soc. B 57 (1995) 289).</summary>
    /// <param name="probabilities">Shape [test]: p-values.</param>
    /// <param name="rate">Wanted share of false ones among the rejected.</param>
    /// <returns>Shape [test]: whether it is rejected. Holds for independent and for positively dependent tests (neighbouring cells).</returns>
    public static bool[] Reject(ReadOnlySpan<double> probabilities, double rate)
    {
        int n = probabilities.Length;
        double[] sorted = probabilities.ToArray();
        Array.Sort(sorted);
        double limit = -1;
        for (int k = n - 1; k >= 0; k--)
            if (sorted[k] <= rate * (k + 1) / n)
            {
                limit = sorted[k];
                break;
            }
        var rejected = new bool[n];
        for (int k = 0; k < n; k++)
            rejected[k] = probabilities[k] <= limit;
        return rejected;
    }
}
