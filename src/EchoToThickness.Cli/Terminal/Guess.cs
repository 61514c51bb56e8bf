namespace EchoToThickness.Cli.Terminal;

/// <summary>Finds what a mistyped word probably meant.</summary>
public static class Guess
{
    /// <summary>The word that is nearest by single-letter changes, or null when none is near.</summary>
    /// <param name="typed">What was typed.</param>
    /// <param name="known">Words that exist.</param>
    public static string? Nearest(string typed, IEnumerable<string> known)
    {
        ArgumentNullException.ThrowIfNull(typed);
        (string Word, int Distance)? best = known
            .Select(word => (Word: word, Distance: Distance(typed, word)))
            .OrderBy(pair => pair.Distance)
            .ThenBy(pair => pair.Word, StringComparer.Ordinal)
            .Cast<(string, int)?>()
            .FirstOrDefault();
        return best is { } found && found.Distance <= Math.Max(1, typed.Length / 3) ? found.Word : null;
    }

    // Edit distance with insertion, deletion, substitution and exchange of neighbours (Damerau 1964, restricted form).
    private static int Distance(string one, string other)
    {
        var cost = new int[one.Length + 1, other.Length + 1];
        for (int i = 0; i <= one.Length; i++)
        {
            for (int j = 0; j <= other.Length; j++)
            {
                if (i == 0 || j == 0)
                {
                    cost[i, j] = i + j;
                    continue;
                }
                int change = one[i - 1] == other[j - 1] ? 0 : 1;
                int best = Math.Min(Math.Min(cost[i - 1, j], cost[i, j - 1]) + 1, cost[i - 1, j - 1] + change);
                if (i > 1 && j > 1 && one[i - 1] == other[j - 2] && one[i - 2] == other[j - 1])
                    best = Math.Min(best, cost[i - 2, j - 2] + 1);
                cost[i, j] = best;
            }
        }
        return cost[one.Length, other.Length];
    }
}
