namespace EchoToThickness.Statistics.Extremes;

/// <summary>A map cut into blocks of about equal size.</summary>
public sealed class BlockPartition
{
    private const int Kept = 8;

    private BlockPartition(IReadOnlyList<LossBlock> blocks, int along, int around, ThicknessMap map)
    {
        Blocks = blocks;
        AlongBlocks = along;
        AroundBlocks = around;
        AlongMetres = map.AlongCount * map.Axes.AlongPitchMetres / along;
        AroundMetres = map.AroundCount * map.Axes.AroundPitchMetres / around;
        WrapsAround = map.Axes.WrapsAround;
    }

    /// <summary>Blocks with enough measured cells, row by row.</summary>
    public IReadOnlyList<LossBlock> Blocks { get; }

    /// <summary>Blocks along, also those left out.</summary>
    public int AlongBlocks { get; }

    /// <summary>Blocks around, also those left out.</summary>
    public int AroundBlocks { get; }

    /// <summary>Side along, metres.</summary>
    public double AlongMetres { get; }

    /// <summary>Side around, metres.</summary>
    public double AroundMetres { get; }

    /// <summary>Whether the last block around touches the first.</summary>
    public bool WrapsAround { get; }

    /// <summary>Mean measured area of the blocks used, square metres.</summary>
    public double MeanAreaSquareMetres => Blocks.Count == 0 ? 0 : Blocks.Average(b => b.MeasuredAreaSquareMetres);

    /// <summary>Cuts a map.</summary>
    /// <param name="map">The map.</param>
    /// <param name="alongMetres">Wanted side along; the number of blocks is rounded so that they fill the map.</param>
    /// <param name="aroundMetres">Wanted side around.</param>
    /// <param name="leastMeasuredFraction">Blocks with a smaller share of measured cells are left out.</param>
    public static BlockPartition Of(
        ThicknessMap map,
        double alongMetres,
        double aroundMetres,
        double leastMeasuredFraction
    )
    {
        ArgumentNullException.ThrowIfNull(map);
        int along = Number(map.AlongCount, map.Axes.AlongPitchMetres, alongMetres);
        int around = Number(map.AroundCount, map.Axes.AroundPitchMetres, aroundMetres);
        var blocks = new List<LossBlock>();
        for (int i = 0; i < along; i++)
        for (int j = 0; j < around; j++)
        {
            LossBlock block = Block(map, i, j, along, around);
            if (block.DeepestCells.Count > 0 && block.MeasuredFraction >= leastMeasuredFraction)
                blocks.Add(block);
        }
        return new BlockPartition(blocks, along, around, map);
    }

    /// <summary>Pairs of neighbouring blocks, each once.</summary>
    public IReadOnlyList<(int First, int Second)> NeighbourPairs()
    {
        var places = new Dictionary<(int, int), int>();
        for (int k = 0; k < Blocks.Count; k++)
            places[(Blocks[k].Along, Blocks[k].Around)] = k;
        var pairs = new List<(int, int)>();
        for (int k = 0; k < Blocks.Count; k++)
        {
            if (places.TryGetValue((Blocks[k].Along + 1, Blocks[k].Around), out int next))
                pairs.Add((k, next));
            int right = Blocks[k].Around + 1;
            if (WrapsAround && AroundBlocks > 2 && right == AroundBlocks)
                right = 0;
            if (places.TryGetValue((Blocks[k].Along, right), out next))
                pairs.Add((k, next));
        }
        return pairs;
    }

    private static LossBlock Block(ThicknessMap map, int i, int j, int along, int around)
    {
        int rowFrom = (int)((long)i * map.AlongCount / along);
        int rowTo = (int)((long)(i + 1) * map.AlongCount / along);
        int columnFrom = (int)((long)j * map.AroundCount / around);
        int columnTo = (int)((long)(j + 1) * map.AroundCount / around);
        ReadOnlySpan<double> wall = map.ThicknessMetres;
        ReadOnlySpan<double> area = map.AreaSquareMetres;
        Span<int> deepest = stackalloc int[Kept];
        int kept = 0;
        int measured = 0;
        double measuredArea = 0;
        double worst = double.PositiveInfinity;
        for (int row = rowFrom; row < rowTo; row++)
        for (int column = columnFrom; column < columnTo; column++)
        {
            int cell = row * map.AroundCount + column;
            double value = wall[cell];
            if (double.IsNaN(value))
                continue;
            measured++;
            measuredArea += area[cell];
            if (kept == Kept && !(value < worst))
                continue;
            int place = kept < Kept ? kept++ : Kept - 1;
            while (place > 0 && wall[deepest[place - 1]] > value)
            {
                deepest[place] = deepest[place - 1];
                place--;
            }
            deepest[place] = cell;
            worst = wall[deepest[kept - 1]];
        }
        int cells = (rowTo - rowFrom) * (columnTo - columnFrom);
        return new LossBlock(i, j, measuredArea, (double)measured / cells, deepest[..kept].ToArray());
    }

    private static int Number(int cells, double pitch, double side) =>
        Math.Clamp((int)Math.Round(cells * pitch / side), 1, cells);
}
