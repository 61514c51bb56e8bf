namespace EchoToThickness.Statistics.Regions;

/// <summary>Labels of connected cells.</summary>
internal static class ConnectedCells
{
    /// <summary>Labels connected cells of a mask in one pass over its set cells.</summary>
    /// <param name="mask">Shape [along, around].</param>
    /// <param name="alongCount">Cells along.</param>
    /// <param name="aroundCount">Cells around.</param>
    /// <param name="wraps">Whether the last cell around touches the first.</param>
    /// <param name="corners">Whether cells join at corners.</param>
    /// <returns>Shape [along, around]: component from 1 in order of its first cell, 0 outside; and the number of components.</returns>
    public static (int[] Labels, int Count) Label(
        ReadOnlySpan<bool> mask,
        int alongCount,
        int aroundCount,
        bool wraps,
        bool corners
    )
    {
        var labels = new int[mask.Length];
        int set = 0;
        foreach (bool on in mask)
            set += on ? 1 : 0;
        var cells = new int[set];
        int next = 0;
        for (int k = 0; k < mask.Length; k++)
            if (mask[k])
            {
                cells[next] = k;
                labels[k] = ++next;
            }
        var sets = new DisjointSets(set + 1);
        for (int place = 0; place < set; place++)
        {
            int cell = cells[place];
            int along = cell / aroundCount;
            int around = cell - along * aroundCount;
            if (around > 0)
                Touch(labels, sets, cell, cell - 1);
            else if (wraps && aroundCount > 1)
                Touch(labels, sets, cell, cell + aroundCount - 1);
            if (along == 0)
                continue;
            int above = cell - aroundCount;
            Touch(labels, sets, cell, above);
            if (!corners)
                continue;
            if (around > 0)
                Touch(labels, sets, cell, above - 1);
            else if (wraps)
                Touch(labels, sets, cell, above + aroundCount - 1);
            if (around < aroundCount - 1)
                Touch(labels, sets, cell, above + 1);
            else if (wraps)
                Touch(labels, sets, cell, above + 1 - aroundCount);
        }
        var renumbered = new int[set + 1];
        int count = 0;
        for (int place = 0; place < set; place++)
        {
            int root = sets.Root(place + 1);
            if (renumbered[root] == 0)
                renumbered[root] = ++count;
            labels[cells[place]] = renumbered[root];
        }
        return (labels, count);
    }

    private static void Touch(int[] labels, DisjointSets sets, int cell, int other)
    {
        if (labels[other] != 0)
            sets.Join(labels[cell], labels[other]);
    }
}
