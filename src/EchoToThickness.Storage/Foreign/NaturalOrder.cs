namespace EchoToThickness.Storage.Foreign;

/// <summary>Order of file names in which numbers count as numbers: line2 before line10. Ordinal otherwise; a total order.</summary>
internal sealed class NaturalOrder : IComparer<string>
{
    public static NaturalOrder Instance { get; } = new();

    public int Compare(string? x, string? y)
    {
        if (x is null || y is null)
            return Comparer<bool>.Default.Compare(x is not null, y is not null);
        int i = 0;
        int j = 0;
        while (i < x.Length && j < y.Length)
        {
            if (char.IsAsciiDigit(x[i]) && char.IsAsciiDigit(y[j]))
            {
                ReadOnlySpan<char> first = Number(x, ref i);
                ReadOnlySpan<char> second = Number(y, ref j);
                int byValue =
                    first.Length != second.Length ? first.Length - second.Length : first.SequenceCompareTo(second);
                if (byValue != 0)
                    return byValue;
                continue;
            }
            if (x[i] != y[j])
                return x[i] - y[j];
            i++;
            j++;
        }
        int byRest = (x.Length - i) - (y.Length - j);
        // Names that differ in leading zeros only: ordinal, so that the order is total.
        return byRest != 0 ? byRest : string.CompareOrdinal(x, y);
    }

    /// <summary>The digits without leading zeros; moves behind them.</summary>
    private static ReadOnlySpan<char> Number(string text, ref int at)
    {
        int begin = at;
        while (at < text.Length && char.IsAsciiDigit(text[at]))
            at++;
        return text.AsSpan(begin, at - begin).TrimStart('0');
    }
}
