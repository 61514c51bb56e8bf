namespace EchoToThickness.Studies.Searching;

/// <summary>
/// Bad points die early (Karnin, Koren and Somekh 2013; Jamieson and Talwalkar 2016): all are looked at with a small part of the data, the better part
/// of them with more, the rest with all.
/// </summary>
public static class SuccessiveHalving
{
    /// <summary>Rungs: how many points are looked at with which part of the data.</summary>
    /// <param name="count">Points at the start.</param>
    /// <param name="keep">Of so many one is kept; at least 2.</param>
    /// <param name="rungs">Number of rungs; the last sees all data.</param>
    public static IReadOnlyList<(int Points, double Part)> Rungs(int count, int keep, int rungs)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(keep, 2);
        ArgumentOutOfRangeException.ThrowIfLessThan(rungs, 1);
        return
        [
            .. Enumerable
                .Range(0, rungs)
                .Select(r =>
                    (Math.Max(1, (int)Math.Ceiling(count / Math.Pow(keep, r))), Math.Pow(keep, r - rungs + 1))
                ),
        ];
    }

    /// <summary>Runs the rungs.</summary>
    /// <typeparam name="T">A point.</typeparam>
    /// <param name="points">The points.</param>
    /// <param name="keep">Of so many one is kept.</param>
    /// <param name="rungs">Number of rungs.</param>
    /// <param name="losses">Losses of points with a part of the data.</param>
    /// <returns>The points that reached the last rung, and their losses, best first.</returns>
    public static IReadOnlyList<(T Point, double Loss)> Run<T>(
        IReadOnlyList<T> points,
        int keep,
        int rungs,
        Func<IReadOnlyList<T>, double, IReadOnlyList<double>> losses
    )
    {
        ArgumentNullException.ThrowIfNull(points);
        ArgumentNullException.ThrowIfNull(losses);
        IReadOnlyList<T> left = points;
        IReadOnlyList<(T Point, double Loss)> ranked = [];
        foreach ((int count, double part) in Rungs(points.Count, keep, rungs))
        {
            left = [.. left.Take(count)];
            IReadOnlyList<double> theirs = losses(left, part);
            ranked =
            [
                .. left.Select(
                        (point, i) =>
                            (Point: point, Loss: double.IsNaN(theirs[i]) ? double.PositiveInfinity : theirs[i])
                    )
                    .OrderBy(p => p.Loss),
            ];
            left = [.. ranked.Select(p => p.Point)];
        }
        return ranked;
    }
}
