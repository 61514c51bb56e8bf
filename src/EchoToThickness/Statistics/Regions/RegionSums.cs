namespace EchoToThickness.Statistics.Regions;

/// <summary>Running sums of one component.</summary>
internal sealed class RegionSums
{
    public int Cells { get; private set; }

    public double Area { get; private set; }

    public double Smallest { get; private set; } = double.PositiveInfinity;

    public int DeepestCell { get; private set; } = -1;

    private double _volume;
    private double _wall;
    private double _along;
    private int _first = int.MaxValue;
    private int _last = -1;
    private int _open;

    public static RegionSums[] Of(ThicknessMap map, RegionSettings settings, int[] labels, int count)
    {
        var sums = new RegionSums[count + 1];
        for (int k = 0; k <= count; k++)
            sums[k] = new RegionSums();
        for (int k = 0; k < labels.Length; k++)
            if (labels[k] > 0)
                sums[labels[k]].Add(map, settings, k);
        return sums;
    }

    private void Add(ThicknessMap map, RegionSettings settings, int cell)
    {
        double wall = map.ThicknessMetres[cell];
        double area = map.AreaSquareMetres[cell];
        int along = cell / map.AroundCount;
        Cells++;
        Area += area;
        _wall += area * wall;
        _volume += area * Math.Max(0, settings.ReferenceWallMetres - wall);
        _along += area * map.Axes.AlongMetres[along];
        _first = Math.Min(_first, along);
        _last = Math.Max(_last, along);
        if (wall < Smallest)
        {
            Smallest = wall;
            DeepestCell = cell;
        }
        if (IsOpen(map, cell, along))
            _open++;
    }

    private static bool IsOpen(ThicknessMap map, int cell, int along)
    {
        int around = cell - along * map.AroundCount;
        int n = map.AroundCount;
        ReadOnlySpan<double> wall = map.ThicknessMetres;
        if (along == 0 || along == map.AlongCount - 1)
            return true;
        if (double.IsNaN(wall[cell - n]) || double.IsNaN(wall[cell + n]))
            return true;
        if (!map.Axes.WrapsAround && (around == 0 || around == n - 1))
            return true;
        int left = around == 0 ? cell + n - 1 : cell - 1;
        int right = around == n - 1 ? cell - n + 1 : cell + 1;
        return double.IsNaN(wall[left]) || double.IsNaN(wall[right]);
    }

    public ThinRegion Region(ThicknessMap map, RegionSettings settings, int number, int[] cells, int[] starts)
    {
        ReadOnlySpan<int> own = cells.AsSpan(starts[number - 1], starts[number] - starts[number - 1]);
        (int first, int last, bool closed) = Around(map, own);
        int n = map.AroundCount;
        double around = 0;
        double scale = 0;
        foreach (int cell in own)
        {
            int column = cell % n;
            scale = Math.Max(scale, map.Axes.AlongScale[column]);
            int unrolled = column < first ? column + n : column;
            around += map.AreaSquareMetres[cell] * (map.Axes.AroundMetres[0] + unrolled * map.Axes.AroundPitchMetres);
        }
        around /= Area;
        if (map.Axes.WrapsAround && around >= map.Axes.AroundMetres[0] + (n - 0.5) * map.Axes.AroundPitchMetres)
            around -= map.Axes.GirthMetres;
        double length = (_last - _first + 1) * map.Axes.AlongPitchMetres * scale;
        double width = (last - first + 1) * map.Axes.AroundPitchMetres;
        return new ThinRegion
        {
            Number = number,
            Cells = Cells,
            AreaSquareMetres = Area,
            DeepestCell = DeepestCell,
            DeepestPosition = map.PositionOf(DeepestCell),
            SmallestWallMetres = Smallest,
            SmallestWallUncertaintyMetres = map.StandardUncertaintyMetres[DeepestCell],
            DepthMetres = settings.ReferenceWallMetres - Smallest,
            MeanWallMetres = _wall / Area,
            LengthMetres = length,
            WidthMetres = width,
            VolumeCubicMetres = _volume,
            CentroidAlongMetres = _along / Area,
            CentroidAroundMetres = around,
            AlongFirst = _first,
            AlongLast = _last,
            AroundFirst = first,
            AroundLast = last,
            ClosesTheGirth = closed,
            OpenCells = _open,
            Kind = KindOf(length, width, settings),
        };
    }

    private static RegionKind KindOf(double length, double width, RegionSettings settings)
    {
        double limit = settings.PitWallMultiple * settings.ReferenceWallMetres * (1 + 1e-9);
        return length <= limit
            ? (width <= limit ? RegionKind.Pit : RegionKind.AroundGroove)
            : (width <= limit ? RegionKind.AlongGroove : RegionKind.General);
    }

    /// <summary>Columns from the first after the widest gap; without a gap on a closed girth all columns from 0.</summary>
    private static (int First, int Last, bool Closed) Around(ThicknessMap map, ReadOnlySpan<int> cells)
    {
        int n = map.AroundCount;
        var used = new bool[n];
        foreach (int cell in cells)
            used[cell % n] = true;
        int first = Array.IndexOf(used, true);
        int last = Array.LastIndexOf(used, true);
        if (!map.Axes.WrapsAround)
            return (first, last, false);
        int widest = first + n - 1 - last;
        int start = first;
        int run = 0;
        for (int column = first; column <= last; column++)
        {
            if (!used[column])
            {
                run++;
                continue;
            }
            if (run > widest)
            {
                widest = run;
                start = column;
            }
            run = 0;
        }
        return widest == 0 ? (0, n - 1, true) : (start, start + n - 1 - widest, false);
    }
}
