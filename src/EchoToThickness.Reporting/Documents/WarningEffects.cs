using EchoToThickness.Components;
using EchoToThickness.Pairing;

namespace EchoToThickness.Reporting.Documents;

/// <summary>
/// Ranks warnings by what they do to the result: the map is put together again without the cells a warning is about, and the smallest wall and
/// the areas below the limits are read again. Leaving cells out is a measure of influence, not a correction.
/// </summary>
public static class WarningEffects
{
    private const double LowSignalDecibels = 15;
    private const double LikelyWrong = 0.01;
    private const double RivalShare = 0.25;

    private static readonly (CellNotes Note, string Words)[] NoteWords =
    [
        (CellNotes.InterfaceSaturated, "the interface echo is cut off at the rails"),
        (CellNotes.InterfaceTracked, "the interface was taken from neighbours"),
        (CellNotes.CoatingSuspected, "a coating or a wrong zero is suspected"),
        (CellNotes.CouplantMultipleNear, "an echo of the couplant layer lies near a paired echo"),
        (CellNotes.DoubledWallRejected, "twice the wall was rejected, or is the runner-up"),
        (CellNotes.HalvedWallRejected, "half the wall was rejected, or is the runner-up"),
        (CellNotes.ModeConvertedEcho, "an echo fits a mode-converted path"),
        (CellNotes.RingDownRejected, "an early trigger on the ring-down was rejected"),
        (CellNotes.PolarityUnexpected, "the paired echoes have unexpected polarity"),
        (CellNotes.WithoutInterface, "measured between back-wall echoes without the interface"),
        (CellNotes.BackWallSaturated, "a back-wall echo is cut off at the rails"),
        (CellNotes.GateCutByRecord, "the gate runs past the end of the record"),
        (CellNotes.SingleEcho, "only one back-wall echo supports the wall"),
        (CellNotes.SuppliedByNeighbours, "a weak echo was accepted because neighbours have that wall"),
        (CellNotes.ChosenOverMap, "the choice over the map changed the wall of the A-scan by itself"),
    ];

    /// <summary>Smallest wall and areas below limits of a map.</summary>
    /// <param name="map">The map.</param>
    /// <param name="limitsMetres">Limits.</param>
    public static (double MinimumMetres, IReadOnlyList<double> BelowSquareMetres) Figures(
        StitchedMap map,
        IReadOnlyList<double> limitsMetres
    )
    {
        ArgumentNullException.ThrowIfNull(map);
        ArgumentNullException.ThrowIfNull(limitsMetres);
        double least = double.NaN;
        var below = new double[limitsMetres.Count];
        for (int cell = 0; cell < map.Raster.Count; cell++)
        {
            double wall = map.ThicknessMetres[cell];
            if (!double.IsFinite(wall))
                continue;
            least = double.IsNaN(least) ? wall : Math.Min(least, wall);
            for (int k = 0; k < below.Length; k++)
                if (wall < limitsMetres[k])
                    below[k] += map.AreaSquareMetres[cell];
        }
        return (least, below);
    }

    /// <summary>Ranks the warnings, the strongest effect on the smallest wall first, then on the areas, then the number of cells.</summary>
    /// <param name="map">The map with the lines it was made from.</param>
    /// <param name="notes">Notes of a line by its name, shape [scan, beam]; null where the grid has none.</param>
    /// <param name="limitsMetres">Limits.</param>
    /// <param name="borneOutMetres">Smallest wall that neighbours bear out; NaN for none.</param>
    public static IReadOnlyList<WarningEffect> Rank(
        StitchedMap map,
        Func<string, CellNotes[]?> notes,
        IReadOnlyList<double> limitsMetres,
        double borneOutMetres
    )
    {
        ArgumentNullException.ThrowIfNull(map);
        ArgumentNullException.ThrowIfNull(notes);
        ArgumentNullException.ThrowIfNull(limitsMetres);
        CellNotes[]?[] noted = [.. map.Lines.Select(line => notes(line.Name))];
        (double least, IReadOnlyList<double> below) = Figures(map, limitsMetres);
        var effects = new List<WarningEffect>();
        foreach ((CellNotes note, string words) in NoteWords)
            Add(words, (line, cell) => noted[line] is { } own && own[cell].HasFlag(note));
        Add(
            "a reflector lies before the far wall (lamination or inclusion)",
            (line, cell) => map.Lines[line].Status[cell] == CellStatus.LaminarReflector
        );
        Add(
            "a second wall explains the echoes with a share of 25 % or more",
            (line, cell) => At(map.Lines[line].SecondShare, cell) >= RivalShare
        );
        Add(
            "the stated chance of a wrong echo is over 1 %",
            (line, cell) => At(map.Lines[line].WrongEcho, cell) > LikelyWrong
        );
        Add(
            "the signal-to-noise ratio is under 15 dB",
            (line, cell) => At(map.Lines[line].SignalToNoise, cell) < LowSignalDecibels
        );
        Add(
            "thinner than the smallest wall that neighbouring cells bear out",
            (line, cell) => map.Lines[line].ThicknessMetres[cell] < borneOutMetres - 1e-9
        );
        return
        [
            .. effects
                .OrderByDescending(e => Math.Abs(e.MinimumShiftMetres))
                .ThenByDescending(e => e.BelowShiftSquareMetres.Sum(Math.Abs))
                .ThenByDescending(e => e.Cells)
                .ThenBy(e => e.Warning, StringComparer.Ordinal),
        ];

        void Add(string words, Func<int, int, bool> doubtful)
        {
            int touched = 0;
            var lines = new LineCells[map.Lines.Count];
            for (int k = 0; k < lines.Length; k++)
            {
                int number = k;
                lines[k] = Without(map.Lines[k], cell => doubtful(number, cell), ref touched);
            }
            if (touched == 0)
                return;
            (double left, IReadOnlyList<double> area) = Figures(
                Stitcher.Stitch(map.Raster.Surface, lines, map.Settings),
                limitsMetres
            );
            effects.Add(
                new WarningEffect(
                    words,
                    touched,
                    left,
                    double.IsNaN(left) ? double.PositiveInfinity : left - least,
                    area,
                    [.. area.Zip(below, (a, b) => a - b)]
                )
            );
        }
    }

    private static LineCells Without(LineCells line, Func<int, bool> doubtful, ref int touched)
    {
        float[]? walls = null;
        CellStatus[]? status = null;
        for (int cell = 0; cell < line.Status.Length; cell++)
        {
            if (!line.IsMeasured(cell) || !doubtful(cell))
                continue;
            walls ??= [.. line.ThicknessMetres];
            status ??= [.. line.Status];
            walls[cell] = float.NaN;
            status[cell] = CellStatus.AmbiguousPairing;
            touched++;
        }
        return walls is null ? line : line with { ThicknessMetres = walls, Status = status! };
    }

    private static double At(float[] layer, int cell) => layer.Length > 0 ? layer[cell] : double.NaN;
}
