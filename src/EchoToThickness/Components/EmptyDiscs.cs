using EchoToThickness.Stacks;

namespace EchoToThickness.Components;

/// <summary>Largest discs that hold no centre of a measured cell of any line, to a stated bound.</summary>
/// <remarks>
/// <para>The distance to the nearest centre changes by no more than the way walked, so a square whose middle lies a distance f from it holds no place
/// further than f and half its diagonal. Squares that could hold a larger disc are quartered, best first (branch and bound), to a sixteenth of a cell; around the
/// best place once more to a micrometre. The disc returned is empty; none with its centre in the cells asked for is larger by more than an eighth of a
/// cell in diameter.</para>
/// <para>Distances: along with the stretch halfway between two places, around, by Pythagoras; on a bend good to 0.1 % at 16 mm on a DN 100 long-radius
/// bend (second order of stretch over distance).</para>
/// </remarks>
internal sealed class EmptyDiscs
{
    private const double Fine = 1e-6;
    private readonly MapRaster _raster;
    private readonly ComponentSurface _surface;
    private readonly double[] _column;
    private readonly int[] _starts;
    private readonly Centre[] _centres;
    private readonly (double Along, double Around)[] _halves;
    private readonly double _reach;
    private double _best;
    private SurfacePlace _bestPlace;

    /// <summary>Gathers the centres of all measured cells.</summary>
    /// <param name="map">The map.</param>
    /// <param name="column">Shape [along, around]: cells along to the nearest measured cell of the map or the end of the component; 0 on measured cells.</param>
    public EmptyDiscs(StitchedMap map, double[] column)
    {
        (_raster, _surface, _column) = (map.Raster, map.Raster.Surface, column);
        LineGeometry[] lines = [.. map.Lines.Select(line => new LineGeometry(_surface, line))];
        _halves = [.. lines.Select(Halves)];
        _starts = new int[_raster.Count + 1];
        Each(map, lines, (cell, _) => _starts[cell + 1]++);
        for (int k = 0; k < _raster.Count; k++)
            _starts[k + 1] += _starts[k];
        int[] next = [.. _starts];
        _centres = new Centre[_starts[^1]];
        Each(map, lines, (cell, centre) => _centres[next[cell]++] = centre);
        double most = _surface.Torus is null ? 1 : Math.Max(1, _surface.Stretch(0));
        foreach ((double along, double around) in _halves)
            _reach = Math.Max(_reach, Math.Sqrt(along * along * most * most + around * around));
    }

    /// <summary>Half a cell along (lines along: on the centre line; lines around: of metal), and around.</summary>
    private static (double Along, double Around) Halves(LineGeometry line) =>
        line.Direction == LineDirection.Along
            ? (line.ScanPitchMetres / 2 / line.TrackStretch, line.BeamPitchMetres / 2)
            : (line.BeamPitchMetres / 2, line.ScanPitchMetres / 2);

    private void Each(StitchedMap map, LineGeometry[] lines, Action<int, Centre> take)
    {
        for (int l = 0; l < lines.Length; l++)
        for (int scan = 0; scan < map.Lines[l].Scans; scan++)
        for (int beam = 0; beam < map.Lines[l].Beams; beam++)
        {
            if (!map.Lines[l].IsMeasured(scan * map.Lines[l].Beams + beam))
                continue;
            SurfacePlace place = lines[l].PlaceOf(scan, beam);
            int cell = _raster.CellOf(place);
            if (cell >= 0)
                take(cell, new Centre(place, l, lines[l].Direction == LineDirection.Along));
        }
    }

    /// <summary>The largest disc whose centre lies in one of some cells of the map.</summary>
    /// <param name="cells">Cells without a measured wall.</param>
    /// <param name="radius">Shape [along, around]: radius of a disc that touches no measured cell of the map; no disc here is smaller.</param>
    public UnsampledDisc Largest(IReadOnlyList<int> cells, double[] radius)
    {
        var squares = new PriorityQueue<Square, double>();
        (double halfAlong, double halfAround) = (_raster.AlongPitchMetres / 2, _raster.AroundPitchMetres / 2);
        double least = 0;
        foreach (int cell in cells)
            least = Math.Max(least, radius[cell]);
        (_best, _bestPlace) = (-1, _raster.PlaceOf(cells[0]));
        foreach (int cell in cells)
        {
            SurfacePlace place = _raster.PlaceOf(cell);
            // A measured cell of the map has a centre in it, or that of a cell that covers its middle.
            if (radius[cell] + 3 * HalfDiagonal(place, halfAlong, halfAround) + _reach >= least)
                Add(squares, place, halfAlong, halfAround, 0);
        }
        double cellSize = Math.Min(_raster.AroundPitchMetres, _raster.AlongPitchMetres * _surface.Stretch(_bestPlace));
        Refine(squares, cellSize / 16);
        squares.Clear();
        Add(squares, _bestPlace, halfAlong / 4, halfAround / 4, Fine);
        Refine(squares, Fine);
        return new UnsampledDisc(2 * _best, _bestPlace) { FreeOfCellsMetres = 2 * Free(_bestPlace, true) };
    }

    private void Refine(PriorityQueue<Square, double> squares, double tolerance)
    {
        while (squares.TryDequeue(out Square square, out double most) && -most > _best + tolerance)
        {
            (double along, double around) = (square.HalfAlong / 2, square.HalfAround / 2);
            foreach (int up in (int[])[-1, 1])
            foreach (int right in (int[])[-1, 1])
                Add(
                    squares,
                    new SurfacePlace(
                        square.Middle.AlongMetres + up * along,
                        _surface.Wrap(square.Middle.AroundMetres + right * around)
                    ),
                    along,
                    around,
                    tolerance
                );
        }
    }

    private void Add(
        PriorityQueue<Square, double> squares,
        SurfacePlace place,
        double halfAlong,
        double halfAround,
        double tolerance
    )
    {
        if (!_surface.Holds(place))
            return;
        double free = Free(place, false);
        if (free > _best)
            (_best, _bestPlace) = (free, place);
        double most = free + HalfDiagonal(place, halfAlong, halfAround);
        if (most > _best + tolerance)
            squares.Enqueue(new Square(place, halfAlong, halfAround), -most);
    }

    /// <summary>Half the diagonal on the metal; the stretch changes by up to one in a hundred over half a cell of a bend.</summary>
    private double HalfDiagonal(SurfacePlace place, double halfAlong, double halfAround)
    {
        double along = halfAlong * Math.Max(_surface.Stretch(place), _surface.StraightEndsMetres > 0 ? 1 : 0) * 1.01;
        return Math.Sqrt(along * along + halfAround * halfAround);
    }

    /// <summary>Distance to the nearest centre, or to the nearest measured cell, and to the edges of the component.</summary>
    private double Free(SurfacePlace place, bool toCells)
    {
        int around = _raster.AroundCount;
        int here = _raster.CellOf(place);
        (int i, int j) = (here / around, here % around);
        double own = _surface.Stretch(place.AroundMetres);
        double best = Math.Min(
            Track(_surface.StartMetres, place.AlongMetres, own),
            Track(place.AlongMetres, _surface.EndMetres, own)
        );
        if (!_surface.IsClosed)
            best = Math.Min(best, Math.Min(place.AroundMetres, _surface.WidthMetres - place.AroundMetres));
        double reach = toCells ? _reach : 0;
        for (int step = 0; !_surface.IsClosed || step <= around / 2 + 1; step++)
        {
            if (Math.Max(0, step - 1) * _raster.AroundPitchMetres > best + reach)
                break;
            Look(place, i, j - step, toCells, reach, ref best);
            if (step > 0)
                Look(place, i, j + step, toCells, reach, ref best);
        }
        return Math.Max(0, best);
    }

    private void Look(SurfacePlace place, int i, int side, bool toCells, double reach, ref double best)
    {
        int around = _raster.AroundCount;
        if (!_surface.IsClosed && (side < 0 || side >= around))
            return;
        int k = (side % around + around) % around;
        // Lengths along in this column are at least this much of those on the centre line.
        double stretch = Math.Min(_surface.Stretch(place.AroundMetres), _surface.Stretch(_raster.AroundMetres(side)));
        double least =
            0.98 * Math.Min(stretch, _surface.StraightEndsMetres > 0 ? 1 : stretch) * _raster.AlongPitchMetres;
        int first = (int)_column[i * around + k];
        for (int d = first; (d - 1) * least <= best + reach; d++)
        {
            (int low, int high) = (i - d, i + d);
            if (low < 0 && high >= _raster.AlongCount)
                break;
            if (low >= 0)
                Compare(place, low * around + k, toCells, ref best);
            if (d > 0 && high < _raster.AlongCount)
                Compare(place, high * around + k, toCells, ref best);
        }
    }

    private void Compare(SurfacePlace place, int cell, bool toCells, ref double best)
    {
        for (int n = _starts[cell]; n < _starts[cell + 1]; n++)
        {
            ref readonly Centre centre = ref _centres[n];
            double across = _surface.WrapDifference(centre.Place.AroundMetres - place.AroundMetres);
            double stretch = _surface.Stretch(place.AroundMetres + across / 2);
            double along = Math.Abs(Track(place.AlongMetres, centre.Place.AlongMetres, stretch));
            across = Math.Abs(across);
            if (toCells)
            {
                (double halfAlong, double halfAround) = _halves[centre.Line];
                along = Math.Max(0, along - halfAlong * (centre.IsAlong ? _surface.Stretch(centre.Place) : 1));
                across = Math.Max(0, across - halfAround);
            }
            best = Math.Min(best, Math.Sqrt(along * along + across * across));
        }
    }

    private double Track(double from, double to, double stretch) =>
        _surface.Torus is null ? to - from : _surface.TrackOf(to, stretch) - _surface.TrackOf(from, stretch);

    private readonly record struct Centre(SurfacePlace Place, int Line, bool IsAlong);

    private readonly record struct Square(SurfacePlace Middle, double HalfAlong, double HalfAround);
}
