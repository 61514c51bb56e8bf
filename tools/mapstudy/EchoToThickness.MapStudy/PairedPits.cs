using EchoToThickness.Grids;
using EchoToThickness.Pairing;
using EchoToThickness.Procedures;

namespace EchoToThickness.MapStudy;

/// <summary>Planted pits with the choice off and on, cell by cell: exact McNemar tests. And laminations at half of the wall, apart.</summary>
internal static class PairedPits
{
    /// <summary>A lamination this near to half of the wall, as a fraction, has the wall's echoes over its even ones (0.6 periods of 9 mm at 7 MHz).</summary>
    private const double HalfFraction = 0.06;

    /// <summary>Prints the tables.</summary>
    public static void Print(PlantedMap map, GridTile off, GridTile on, TrainExpectation expect)
    {
        Console.WriteLine(
            "\n| pits | cells | wrong off | on | only off | only on | p | no number off | on | only off | only on | p | over 5 % of depth lost, off | on |"
        );
        Console.WriteLine("|---|---|---|---|---|---|---|---|---|---|---|---|---|---|");
        foreach (Planted kind in new[] { Planted.PitOfOneCell, Planted.FaintPit, Planted.PartPit })
        {
            int cells = 0;
            int[] wrong = new int[4];
            int[] missing = new int[4];
            int[] lost = new int[2];
            for (int cell = 0; cell < off.Count; cell++)
            {
                (int scan, int beam) = (cell / off.BeamCount, cell % off.BeamCount);
                if (map.KindOf(scan, beam) != kind)
                    continue;
                cells++;
                Count(wrong, IsWrong(map, off, cell, kind, expect), IsWrong(map, on, cell, kind, expect));
                Count(missing, IsMissing(off, cell), IsMissing(on, cell));
                lost[0] += LosesDepth(map, off, cell) ? 1 : 0;
                lost[1] += LosesDepth(map, on, cell) ? 1 : 0;
            }
            Console.WriteLine(
                $"| {kind} | {cells} | {wrong[0]} | {wrong[1]} | {wrong[2]} | {wrong[3]} | {McNemar(wrong[2], wrong[3]):0.000} | {missing[0]} | {missing[1]} | {missing[2]} | {missing[3]} | {McNemar(missing[2], missing[3]):0.000} | {lost[0]} | {lost[1]} |"
            );
        }
        foreach (bool half in new[] { false, true })
        {
            int cells = 0;
            int named = 0;
            for (int cell = 0; cell < on.Count; cell++)
            {
                (int scan, int beam) = (cell / on.BeamCount, cell % on.BeamCount);
                if (map.KindOf(scan, beam) != Planted.Lamination)
                    continue;
                double ratio = 2 * map.LaminationMetres(scan, beam) / map.WallMetres(scan, beam);
                if (Math.Abs(ratio - 1) < HalfFraction != half)
                    continue;
                cells++;
                if ((CellStatus)on.Status[cell] == CellStatus.LaminarReflector)
                    named++;
            }
            Console.WriteLine(
                $"laminations {(half ? "within 6 % of" : "away from")} half of the wall: {named} of {cells} named"
            );
        }
    }

    private static void Count(Span<int> counts, bool off, bool on)
    {
        counts[0] += off ? 1 : 0;
        counts[1] += on ? 1 : 0;
        counts[2] += off && !on ? 1 : 0;
        counts[3] += on && !off ? 1 : 0;
    }

    private static bool IsMissing(GridTile grid, int cell) => double.IsNaN(grid[GridLayer.Thickness][cell]);

    private static bool IsWrong(PlantedMap map, GridTile grid, int cell, Planted kind, TrainExpectation expect)
    {
        (int scan, int beam) = (cell / grid.BeamCount, cell % grid.BeamCount);
        return !IsMissing(grid, cell)
            && !Study.IsRight(
                map,
                kind,
                expect,
                scan,
                beam,
                map.WallMetres(scan, beam),
                grid[GridLayer.Thickness][cell],
                (CellStatus)grid.Status[cell],
                grid[GridLayer.ReflectorDepth][cell]
            );
    }

    /// <summary>Whether a measured pit is shallower than planted by more than a twentieth of its depth.</summary>
    private static bool LosesDepth(PlantedMap map, GridTile grid, int cell)
    {
        (int scan, int beam) = (cell / grid.BeamCount, cell % grid.BeamCount);
        double around = map.AroundMetres(scan, beam);
        return around - grid[GridLayer.Thickness][cell] < 0.95 * (around - map.WallMetres(scan, beam));
    }

    /// <summary>Exact two-sided test of two discordant counts: twice the smaller binomial tail at one half.</summary>
    private static double McNemar(int first, int second)
    {
        int n = first + second;
        double term = Math.Pow(0.5, n);
        double tail = 0;
        for (int k = 0; k <= Math.Min(first, second); k++)
        {
            tail += term;
            term *= (n - k) / (k + 1.0);
        }
        return Math.Min(1, 2 * tail);
    }
}
