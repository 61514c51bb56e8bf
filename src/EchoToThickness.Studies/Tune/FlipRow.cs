namespace EchoToThickness.Studies.Tune;

/// <summary>Which cells change between two rule sets, and what they change to.</summary>
/// <param name="Change">The change in words.</param>
/// <param name="Cells">Cells looked at.</param>
/// <param name="Changed">Cells that change: another kind, or another echo or cycle of one.</param>
/// <param name="Kinds">Shape [from, to]: changed cells by <see cref="CellKind"/> before and after.</param>
public sealed record FlipRow(string Change, long Cells, long Changed, long[,] Kinds)
{
    /// <summary>The most frequent changes of kind, in words, most frequent first.</summary>
    /// <param name="most">At most so many.</param>
    public string InWords(int most = 3)
    {
        int kinds = Kinds.GetLength(0);
        return string.Join(
            ", ",
            Enumerable
                .Range(0, kinds * kinds)
                .Where(i => Kinds[i / kinds, i % kinds] > 0)
                .OrderByDescending(i => Kinds[i / kinds, i % kinds])
                .Take(most)
                .Select(i =>
                    string.Create(
                        System.Globalization.CultureInfo.InvariantCulture,
                        $"{WordOf((CellKind)(i / kinds))} to {WordOf((CellKind)(i % kinds))} {Kinds[i / kinds, i % kinds]}"
                    )
                )
        );
    }

    /// <summary>A kind in words.</summary>
    /// <param name="kind">The kind.</param>
    public static string WordOf(CellKind kind) =>
        kind switch
        {
            CellKind.Sound => "sound",
            CellKind.Missing => "missing",
            CellKind.InterfaceLost => "interface lost",
            CellKind.Doubled => "doubled",
            CellKind.Halved => "halved",
            CellKind.Skipped => "skipped",
            CellKind.OtherThick => "other, thick",
            CellKind.OtherThin => "other, thin",
            _ => "left out",
        };
}
