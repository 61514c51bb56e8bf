namespace EchoToThickness.Studies.Tune;

/// <summary>Counts the cells that change between two results.</summary>
internal static class FlipCounter
{
    /// <summary>Whether a cell changes: its kind does, or both are measured and differ by more than a cycle.</summary>
    public static bool Flips(CellKind from, CellKind to, double fromMetres, double toMetres, AccuracyRules rules)
    {
        if (from == CellKind.LeftOut || to == CellKind.LeftOut)
            return false;
        if (from != to)
            return true;
        double limit = double.IsNaN(rules.CycleMetres)
            ? rules.GrossMetres
            : Math.Min(rules.CycleMetres, rules.GrossMetres);
        return Math.Abs(toMetres - fromMetres) > limit;
    }

    /// <summary>Adds the cells of a block.</summary>
    /// <param name="kindsFrom">Shape [cell].</param>
    /// <param name="kindsTo">Shape [cell].</param>
    /// <param name="from">Walls before, metres.</param>
    /// <param name="to">Walls after, metres.</param>
    /// <param name="rules">Limits.</param>
    /// <param name="kinds">Shape [from, to]; changed cells are added.</param>
    /// <param name="flips">Shape [cell]; raised by one where a cell changes; empty when nobody asks.</param>
    /// <returns>Cells looked at, and changed.</returns>
    public static (long Cells, long Changed) Add(
        CellKind[] kindsFrom,
        CellKind[] kindsTo,
        float[] from,
        float[] to,
        AccuracyRules rules,
        long[,] kinds,
        int[] flips
    )
    {
        long cells = 0;
        long changed = 0;
        for (int cell = 0; cell < kindsFrom.Length; cell++)
        {
            if (kindsFrom[cell] == CellKind.LeftOut)
                continue;
            cells++;
            if (!Flips(kindsFrom[cell], kindsTo[cell], from[cell], to[cell], rules))
                continue;
            changed++;
            kinds[(int)kindsFrom[cell], (int)kindsTo[cell]]++;
            if (flips.Length > 0)
                flips[cell]++;
        }
        return (cells, changed);
    }
}
