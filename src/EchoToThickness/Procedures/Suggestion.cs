namespace EchoToThickness.Procedures;

/// <summary>"Did you mean" for words of a short list.</summary>
public static class Suggestion
{
    /// <summary>The known word nearest to a wrong one: fewest inserted, deleted, replaced or swapped letters, at most a third of them.</summary>
    /// <param name="wrong">Word found.</param>
    /// <param name="known">Words allowed.</param>
    /// <returns>The nearest word (the first of equals), or null when none is near.</returns>
    public static string? For(string wrong, IEnumerable<string> known)
    {
        ArgumentNullException.ThrowIfNull(wrong);
        ArgumentNullException.ThrowIfNull(known);
        string? best = null;
        int bestDistance = Math.Max(2, wrong.Length / 3) + 1;
        if (wrong.Length > 64)
            return null;
        foreach (string word in known)
        {
            int distance = Distance(wrong.ToLowerInvariant(), word.ToLowerInvariant());
            if (distance < bestDistance && distance < word.Length)
                (best, bestDistance) = (word, distance);
        }
        return best;
    }

    /// <summary>Optimal string alignment distance (Damerau 1964, Levenshtein 1966).</summary>
    private static int Distance(string a, string b)
    {
        var d = new int[a.Length + 1, b.Length + 1];
        for (int i = 0; i <= a.Length; i++)
            d[i, 0] = i;
        for (int j = 0; j <= b.Length; j++)
            d[0, j] = j;
        for (int i = 1; i <= a.Length; i++)
        for (int j = 1; j <= b.Length; j++)
        {
            int cost = a[i - 1] == b[j - 1] ? 0 : 1;
            d[i, j] = Math.Min(Math.Min(d[i - 1, j] + 1, d[i, j - 1] + 1), d[i - 1, j - 1] + cost);
            if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1])
                d[i, j] = Math.Min(d[i, j], d[i - 2, j - 2] + 1);
        }
        return d[a.Length, b.Length];
    }
}
