using EchoToThickness.Stacks;
using EchoToThickness.Studies.Sources;

namespace EchoToThickness.Studies.Tune;

/// <summary>What is known of the cells of a block before anything is measured: walls, pits, where the interface must lie.</summary>
internal sealed class BlockFacts
{
    private const int Around = 15;
    private const int Coarse = 4;

    public BlockFacts(StudyBlock block, JudgeSettings judge)
    {
        Info = block.Source.Info;
        StackShape shape = Info.Shape;
        BlockTruth truth = block.Truth;
        ThicknessMetres = truth.ThicknessMetres;
        MinimumMetres = truth.MinimumMetres;
        Rules = AccuracyRules.For(truth.VelocityMetresPerSecond, truth.FrequencyHz) with
        {
            GrossMetres = judge.GrossMetres,
            GrossFraction = judge.GrossFraction,
        };
        if (
            truth.CouplantPathMetres.Length > 0
            && Info.Acquisition.CouplantVelocityMetresPerSecond is { } couplant
            && truth.VelocityMetresPerSecond is { } velocity
        )
        {
            InterfaceSeconds = Array.ConvertAll(truth.CouplantPathMetres, p => 2 * p / couplant);
            LostSeconds = 2 * judge.GrossMetres / velocity;
        }
        FlagMetres = Flags(judge);
        PitOf = new int[shape.Cells];
        Array.Fill(PitOf, -1);
        SoundMetal = new bool[shape.Cells];
        WindowOfPit = FindPits();
        for (int cell = 0; cell < SoundMetal.Length; cell++)
            SoundMetal[cell] = Lowest(cell) > FlagMetres[cell] + judge.FlagMarginMetres;
    }

    public StackInfo Info { get; }
    public double[] ThicknessMetres { get; }
    public double[] MinimumMetres { get; }
    public AccuracyRules Rules { get; }

    /// <summary>Where the interface must lie, up to a constant of the pick; empty when not known.</summary>
    public double[] InterfaceSeconds { get; } = [];

    /// <summary>An interface further off is lost.</summary>
    public double LostSeconds { get; } = double.PositiveInfinity;

    /// <summary>Wall under which a cell is flagged; NaN where nothing is.</summary>
    public double[] FlagMetres { get; }

    /// <summary>Number of the pit that a cell belongs to; -1 for none.</summary>
    public int[] PitOf { get; }

    /// <summary>Shape [pit]: window that holds its deepest cell, by whose cells it is judged.</summary>
    public int[] WindowOfPit { get; }

    /// <summary>Cells that must not be flagged.</summary>
    public bool[] SoundMetal { get; }

    private double Lowest(int cell) =>
        MinimumMetres.Length == 0 || double.IsNaN(MinimumMetres[cell])
            ? ThicknessMetres[cell]
            : Math.Min(ThicknessMetres[cell], MinimumMetres[cell]);

    private double[] Flags(JudgeSettings judge)
    {
        var flags = new double[ThicknessMetres.Length];
        Array.Fill(flags, judge.WallLimitMetres ?? double.NaN);
        if (judge.PitDepthMetres is not { } depth)
            return flags;
        StackShape shape = Info.Shape;
        var walls = new List<double>();
        for (int scan = 0; scan < shape.Scans; scan += Coarse)
        for (int beam = 0; beam < shape.Beams; beam += Coarse)
        {
            walls.Clear();
            for (int s = Math.Max(0, scan - Around); s <= Math.Min(shape.Scans - 1, scan + Around); s += 2)
            for (int b = Math.Max(0, beam - Around); b <= Math.Min(shape.Beams - 1, beam + Around); b += 2)
                if (ThicknessMetres[s * shape.Beams + b] is var wall && !double.IsNaN(wall))
                    walls.Add(wall);
            if (walls.Count == 0)
                continue;
            walls.Sort();
            double limit = walls[walls.Count / 2] - depth;
            for (int s = scan; s < Math.Min(shape.Scans, scan + Coarse); s++)
            for (int b = beam; b < Math.Min(shape.Beams, beam + Coarse); b++)
            {
                ref double flag = ref flags[s * shape.Beams + b];
                flag = double.IsNaN(flag) ? limit : Math.Max(flag, limit);
            }
        }
        return flags;
    }

    // Joined cells whose wall on the axis lies under their flag, joined as far as cells are neighbours at all.
    private int[] FindPits()
    {
        StackShape shape = Info.Shape;
        var windows = new List<int>();
        var queue = new Queue<int>();
        bool scans = Info.Neighbours.HasFlag(NeighbourAxes.Scan);
        bool beams = Info.Neighbours.HasFlag(NeighbourAxes.Beam);
        for (int seed = 0; seed < PitOf.Length; seed++)
        {
            if (PitOf[seed] >= 0 || !(ThicknessMetres[seed] < FlagMetres[seed]))
                continue;
            int deepest = seed;
            PitOf[seed] = windows.Count;
            queue.Enqueue(seed);
            while (queue.TryDequeue(out int cell))
            {
                if (ThicknessMetres[cell] < ThicknessMetres[deepest])
                    deepest = cell;
                (int scan, int beam) = (cell / shape.Beams, cell % shape.Beams);
                for (int s = scans ? -1 : 0; s <= (scans ? 1 : 0); s++)
                for (int b = beams ? -1 : 0; b <= (beams ? 1 : 0); b++)
                {
                    if (scan + s < 0 || scan + s >= shape.Scans || beam + b < 0 || beam + b >= shape.Beams)
                        continue;
                    int other = (scan + s) * shape.Beams + beam + b;
                    if (PitOf[other] >= 0 || !(ThicknessMetres[other] < FlagMetres[other]))
                        continue;
                    PitOf[other] = windows.Count;
                    queue.Enqueue(other);
                }
            }
            int count = ScanWindows.Count(shape);
            windows.Add(
                Enumerable
                    .Range(0, count)
                    .First(w =>
                    {
                        (int first, int lines) = ScanWindows.Of(shape, w);
                        return deepest / shape.Beams >= first && deepest / shape.Beams < first + lines;
                    })
            );
        }
        return [.. windows];
    }
}
