using EchoToThickness.Simulation.Scenes;

namespace EchoToThickness.Simulation.Fields;

/// <summary>
/// Finds the boxes that may meet a window without looking at all of them: small boxes lie in buckets by their centre, large ones in a
/// list that is always looked through. No allocation by a query; the order of the answer is fixed.
/// </summary>
internal sealed class SurfaceIndex
{
    private readonly SurfaceBox[] _boxes;
    private readonly int[] _large;
    private readonly int[] _start;
    private readonly int[] _items;
    private readonly double _halfAlong;
    private readonly double _halfAround;
    private readonly double _cellAlong;
    private readonly double _cellAround;
    private readonly double _originAlong;
    private readonly double _originAround;
    private readonly int _cellsAlong;
    private readonly int _cellsAround;
    private readonly double _girth;

    public SurfaceIndex(ComponentShape shape, IReadOnlyList<SurfaceBox> boxes)
    {
        _boxes = [.. boxes];
        _girth = shape.IsClosed ? shape.WidthMetres : double.PositiveInfinity;
        double[] sizes = [.. _boxes.Select(Size).Where(double.IsFinite).Order()];
        // Four times the median keeps the buckets small when a few boxes are huge; a floor keeps their number small.
        double limit = sizes.Length == 0 ? 0 : Math.Max(1e-3, 4 * sizes[sizes.Length / 2]);
        _large = [.. Enumerable.Range(0, _boxes.Length).Where(i => !(Size(_boxes[i]) <= limit))];
        int[] small = [.. Enumerable.Range(0, _boxes.Length).Where(i => Size(_boxes[i]) <= limit)];
        _halfAlong = small.Select(i => _boxes[i].HalfAlong).DefaultIfEmpty(0).Max();
        _halfAround = small.Select(i => _boxes[i].HalfAround).DefaultIfEmpty(0).Max();
        _originAlong = small.Select(i => _boxes[i].Along).DefaultIfEmpty(0).Min();
        _originAround = shape.IsClosed ? 0 : small.Select(i => _boxes[i].Around).DefaultIfEmpty(0).Min();
        double lengthAlong = small.Select(i => _boxes[i].Along).DefaultIfEmpty(0).Max() - _originAlong;
        double lengthAround = shape.IsClosed
            ? shape.WidthMetres
            : small.Select(i => _boxes[i].Around).DefaultIfEmpty(0).Max() - _originAround;
        _cellsAlong = Cells(lengthAlong, limit);
        _cellsAround = Cells(lengthAround, limit);
        _cellAlong = lengthAlong > 0 ? lengthAlong / _cellsAlong : 1;
        _cellAround = lengthAround > 0 ? lengthAround / _cellsAround : 1;
        _start = new int[_cellsAlong * _cellsAround + 1];
        foreach (int i in small)
            _start[BucketOf(shape, i) + 1]++;
        for (int b = 0; b < _start.Length - 1; b++)
            _start[b + 1] += _start[b];
        _items = new int[small.Length];
        int[] next = [.. _start];
        foreach (int i in small)
            _items[next[BucketOf(shape, i)]++] = i;
    }

    /// <summary>Boxes that may meet a rectangle; some of them may not.</summary>
    public Enumerator Query(double fromAlong, double toAlong, double fromAround, double toAround) =>
        new(this, fromAlong, toAlong, fromAround, toAround);

    /// <summary>Boxes that may meet a window.</summary>
    public Enumerator Query(in SurfaceWindow window) =>
        new(this, window.FirstAlong, window.LastAlong, window.FirstAround, window.LastAround);

    private static double Size(SurfaceBox box) => Math.Max(box.HalfAlong, box.HalfAround);

    private static int Cells(double length, double limit) =>
        limit > 0 ? (int)Math.Clamp(length / (2 * limit), 1, 2000) : 1;

    private int BucketOf(ComponentShape shape, int item)
    {
        int a = (int)Math.Clamp((_boxes[item].Along - _originAlong) / _cellAlong, 0, _cellsAlong - 1);
        int w = (int)Math.Clamp((shape.Wrap(_boxes[item].Around) - _originAround) / _cellAround, 0, _cellsAround - 1);
        return a * _cellsAround + w;
    }

    /// <summary>Walks large boxes, then buckets row by row.</summary>
    internal ref struct Enumerator
    {
        private readonly SurfaceIndex _index;
        private readonly int _lastRow;
        private readonly int _firstColumn;
        private readonly int _columns;
        private int _large = -1;
        private int _row;
        private int _column;
        private int _item;
        private int _end;

        public Enumerator(SurfaceIndex index, double fromAlong, double toAlong, double fromAround, double toAround)
        {
            _index = index;
            if (index._items.Length == 0)
            {
                (_row, _lastRow) = (0, -1);
                return;
            }
            _row = Cell((fromAlong - index._halfAlong - index._originAlong) / index._cellAlong, index._cellsAlong);
            _lastRow = Cell((toAlong + index._halfAlong - index._originAlong) / index._cellAlong, index._cellsAlong);
            double low = (fromAround - index._halfAround - index._originAround) / index._cellAround;
            double high = (toAround + index._halfAround - index._originAround) / index._cellAround;
            if (double.IsFinite(index._girth))
            {
                _columns = high - low >= index._cellsAround - 1 ? index._cellsAround : 0;
                if (_columns == 0)
                {
                    int first = (int)Math.Floor(low);
                    _columns = Math.Min(index._cellsAround, (int)Math.Floor(high) - first + 1);
                    _firstColumn = ((first % index._cellsAround) + index._cellsAround) % index._cellsAround;
                }
            }
            else
            {
                _firstColumn = Cell(low, index._cellsAround);
                _columns = Cell(high, index._cellsAround) - _firstColumn + 1;
            }
            _column = -1;
        }

        public int Current { get; private set; }

        public readonly Enumerator GetEnumerator() => this;

        public bool MoveNext()
        {
            if (++_large < _index._large.Length)
            {
                Current = _index._large[_large];
                return true;
            }
            while (_item >= _end)
            {
                if (_row > _lastRow)
                    return false;
                if (++_column >= _columns)
                {
                    _column = -1;
                    _row++;
                    continue;
                }
                int column = _firstColumn + _column;
                if (column >= _index._cellsAround)
                    column -= _index._cellsAround;
                int bucket = _row * _index._cellsAround + column;
                (_item, _end) = (_index._start[bucket], _index._start[bucket + 1]);
            }
            Current = _index._items[_item++];
            return true;
        }

        private static int Cell(double position, int cells) => (int)Math.Clamp(Math.Floor(position), 0, cells - 1);
    }
}
