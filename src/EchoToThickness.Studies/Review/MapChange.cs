using EchoToThickness.Pairing;

namespace EchoToThickness.Studies.Review;

/// <summary>What became of the cells of one map in another of the same stack: counts, the table of statuses, and the largest changes.</summary>
public sealed record MapChange
{
    /// <summary>Walls closer than this are the same, metres.</summary>
    public required double SameMetres { get; init; }

    /// <summary>Both have a wall, the same.</summary>
    public required int Same { get; init; }

    /// <summary>Both have a wall, the later one thinner.</summary>
    public required int Thinner { get; init; }

    /// <summary>Both have a wall, the later one thicker.</summary>
    public required int Thicker { get; init; }

    /// <summary>Among the thicker: within a twentieth of twice the wall.</summary>
    public required int Doubled { get; init; }

    /// <summary>Among the thinner: within a twentieth of half the wall.</summary>
    public required int Halved { get; init; }

    /// <summary>Only the later map has a wall.</summary>
    public required int Gained { get; init; }

    /// <summary>Only the earlier map has a wall.</summary>
    public required int Lost { get; init; }

    /// <summary>Neither has a wall.</summary>
    public required int Neither { get; init; }

    /// <summary>Mean change where both have a wall, metres; NaN where nowhere.</summary>
    public required double MeanMetres { get; init; }

    /// <summary>Smallest wall of the earlier map, metres; NaN when none.</summary>
    public required double EarlierMinimumMetres { get; init; }

    /// <summary>Smallest wall of the later map, metres; NaN when none.</summary>
    public required double LaterMinimumMetres { get; init; }

    /// <summary>Shape [earlier status, later status]: cells.</summary>
    public required int[,] Statuses { get; init; }

    /// <summary>Cells (scan × beams + beam) whose wall changed most, appeared or disappeared, the most important first.</summary>
    public required IReadOnlyList<int> Largest { get; init; }

    /// <summary>Compares two maps.</summary>
    /// <param name="earlierMetres">Shape [scan, beam]: walls of the earlier map; NaN where not measured.</param>
    /// <param name="earlierStatus">Shape [scan, beam].</param>
    /// <param name="laterMetres">Shape [scan, beam]: walls of the later map.</param>
    /// <param name="laterStatus">Shape [scan, beam].</param>
    /// <param name="sameMetres">Walls closer than this are the same.</param>
    /// <param name="most">Longest list of changed cells.</param>
    /// <exception cref="ArgumentException">The maps differ in size.</exception>
    public static MapChange Between(
        ReadOnlySpan<float> earlierMetres,
        ReadOnlySpan<byte> earlierStatus,
        ReadOnlySpan<float> laterMetres,
        ReadOnlySpan<byte> laterStatus,
        double sameMetres,
        int most
    )
    {
        if (
            earlierMetres.Length != laterMetres.Length
            || earlierStatus.Length != laterStatus.Length
            || earlierMetres.Length != earlierStatus.Length
        )
            throw new ArgumentException("The maps differ in size.", nameof(laterMetres));
        const double ratioFraction = 0.05;
        int statuses = Enum.GetValues<CellStatus>().Length;
        var table = new int[statuses, statuses];
        int same = 0,
            thinner = 0,
            thicker = 0,
            doubled = 0,
            halved = 0,
            gained = 0,
            lost = 0,
            neither = 0;
        double sum = 0;
        double earlierMinimum = double.NaN;
        double laterMinimum = double.NaN;
        var changed = new List<(int Cell, double Size)>();
        for (int cell = 0; cell < earlierMetres.Length; cell++)
        {
            table[Math.Min(earlierStatus[cell], statuses - 1), Math.Min(laterStatus[cell], statuses - 1)]++;
            (double before, double after) = (earlierMetres[cell], laterMetres[cell]);
            if (!(before >= earlierMinimum) && !double.IsNaN(before))
                earlierMinimum = before;
            if (!(after >= laterMinimum) && !double.IsNaN(after))
                laterMinimum = after;
            switch (double.IsNaN(before), double.IsNaN(after))
            {
                case (true, true):
                    neither++;
                    continue;
                case (true, false):
                    gained++;
                    changed.Add((cell, after));
                    continue;
                case (false, true):
                    lost++;
                    changed.Add((cell, before));
                    continue;
            }
            double change = after - before;
            sum += change;
            if (Math.Abs(change) <= sameMetres)
            {
                same++;
                continue;
            }
            changed.Add((cell, Math.Abs(change)));
            double ratio = after / before;
            if (change < 0)
            {
                thinner++;
                halved += Math.Abs(2 * ratio - 1) <= ratioFraction ? 1 : 0;
            }
            else
            {
                thicker++;
                doubled += Math.Abs(ratio / 2 - 1) <= ratioFraction ? 1 : 0;
            }
        }
        int both = same + thinner + thicker;
        return new MapChange
        {
            SameMetres = sameMetres,
            Same = same,
            Thinner = thinner,
            Thicker = thicker,
            Doubled = doubled,
            Halved = halved,
            Gained = gained,
            Lost = lost,
            Neither = neither,
            MeanMetres = both > 0 ? sum / both : double.NaN,
            EarlierMinimumMetres = earlierMinimum,
            LaterMinimumMetres = laterMinimum,
            Statuses = table,
            Largest = [.. changed.OrderByDescending(c => c.Size).Take(most).Select(c => c.Cell)],
        };
    }
}
