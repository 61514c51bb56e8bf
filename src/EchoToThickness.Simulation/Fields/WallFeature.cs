using EchoToThickness.Simulation.Scenes;

namespace EchoToThickness.Simulation.Fields;

/// <summary>
/// Something of limited extent in the wall. Local coordinates are true lengths on the outer surface at the feature's centre: u along,
/// v around; x and y are u and v turned by the feature's angle.
/// </summary>
internal abstract class WallFeature
{
    private readonly double _girth;
    private readonly double _halfU;
    private readonly double _halfV;

    protected WallFeature(
        ComponentShape shape,
        SurfacePoint centre,
        double angleRadians,
        double halfXMetres,
        double halfYMetres,
        double? stretch = null
    )
    {
        Centre = centre with { AroundMetres = shape.Wrap(centre.AroundMetres) };
        Stretch = stretch ?? shape.Stretch(Centre);
        (Sine, Cosine) = Math.SinCos(angleRadians);
        HalfX = halfXMetres;
        HalfY = halfYMetres;
        _girth = shape.IsClosed ? shape.WidthMetres : 0;
        if (angleRadians == 0)
        {
            (_halfU, _halfV) = (halfXMetres, halfYMetres);
        }
        else
        {
            _halfU = Math.Abs(Cosine) * halfXMetres + Math.Abs(Sine) * halfYMetres;
            _halfV = Math.Abs(Sine) * halfXMetres + Math.Abs(Cosine) * halfYMetres;
        }
    }

    public SurfacePoint Centre { get; }

    public double Stretch { get; }

    public double Sine { get; }

    public double Cosine { get; }

    public double HalfX { get; }

    public double HalfY { get; }

    public SurfaceBox Box => new(Centre.AlongMetres, Centre.AroundMetres, _halfU / Stretch, _halfV);

    /// <summary>Works on the points of a window that may lie in the feature.</summary>
    /// <param name="window">The window.</param>
    /// <param name="values">Shape [along, around] of the window.</param>
    public void Apply(in SurfaceWindow window, Span<double> values)
    {
        double halfAlong = _halfU / Stretch;
        int firstRow = First(window.FirstAlong, window.StepAlong, Centre.AlongMetres - halfAlong);
        int lastRow = Last(window.FirstAlong, window.StepAlong, Centre.AlongMetres + halfAlong, window.CountAlong);
        if (firstRow > lastRow)
            return;
        double v = window.FirstAround - Centre.AroundMetres;
        if (_girth == 0)
        {
            Strip(window, values, firstRow, lastRow, v, -_halfV, _halfV, 0);
            return;
        }
        // A point is seen by the shorter way round; a window may hold points that see the feature from either side.
        double half = Math.Min(_halfV, _girth / 2);
        int turns = (int)Math.Floor((v + half) / _girth);
        int lastTurn = (int)Math.Floor((v + (window.LastAround - window.FirstAround) + half) / _girth);
        int next = 0;
        for (int turn = turns; turn <= lastTurn; turn++)
            next = Strip(window, values, firstRow, lastRow, v - turn * _girth, -half, half, next);
    }

    /// <summary>Whether the wall changes by no more than a tolerance within a disc, as far as this feature goes.</summary>
    public bool IsFlatWithin(ComponentShape shape, SurfacePoint centre, double radiusMetres, double toleranceMetres)
    {
        double u = (centre.AlongMetres - Centre.AlongMetres) * Stretch;
        double v = shape.WrapDifference(centre.AroundMetres - Centre.AroundMetres);
        return IsFlat(u * Cosine + v * Sine, v * Cosine - u * Sine, Here(shape, centre, radiusMetres), toleranceMetres);
    }

    /// <summary>Whether this feature alone makes the wall before losses, all over a disc.</summary>
    public bool Hides(ComponentShape shape, SurfacePoint centre, double radiusMetres)
    {
        double u = (centre.AlongMetres - Centre.AlongMetres) * Stretch;
        double v = shape.WrapDifference(centre.AroundMetres - Centre.AroundMetres);
        return IsInside(u * Cosine + v * Sine, v * Cosine - u * Sine, Here(shape, centre, radiusMetres));
    }

    /// <summary>A true radius at a point, in the lengths of this feature, whose metric is that of its centre: towards an elbow's intrados it grows.</summary>
    private double Here(ComponentShape shape, SurfacePoint centre, double radiusMetres) =>
        radiusMetres * Math.Max(1, Stretch / shape.Stretch(centre));

    /// <summary>Works on a piece of one row.</summary>
    /// <param name="u">Local coordinate along of the row.</param>
    /// <param name="v">Local coordinate around of the first value.</param>
    /// <param name="stepV">Its step.</param>
    /// <param name="row">Values of the row, changed in place.</param>
    protected abstract void Row(double u, double v, double stepV, Span<double> row);

    /// <summary>Works on a rectangle of values; row by row unless a feature knows better.</summary>
    protected virtual void Block(
        double u,
        double stepU,
        int rows,
        double v,
        double stepV,
        int columns,
        Span<double> values,
        int stride
    )
    {
        for (int row = 0; row < rows; row++)
            Row(u + row * stepU, v, stepV, values.Slice(row * stride, columns));
    }

    protected abstract bool IsFlat(double x, double y, double radiusMetres, double toleranceMetres);

    /// <summary>Whether a disc lies where nothing of the wall before shows through; only features that replace it know such a place.</summary>
    protected virtual bool IsInside(double x, double y, double radiusMetres) => false;

    /// <summary>Whether a disc lies outside the box of half extents.</summary>
    protected bool IsOutside(double x, double y, double radiusMetres) =>
        Math.Abs(x) >= HalfX + radiusMetres || Math.Abs(y) >= HalfY + radiusMetres;

    /// <summary>Columns of one turn round the girth; begins at <paramref name="from"/>, so that no column is met twice.</summary>
    /// <returns>The first column not yet met.</returns>
    private int Strip(
        in SurfaceWindow window,
        Span<double> values,
        int firstRow,
        int lastRow,
        double v,
        double low,
        double high,
        int from
    )
    {
        int first = Math.Max(from, First(v, window.StepAround, low));
        int last = Last(v, window.StepAround, high, window.CountAround);
        if (first > last)
            return from;
        Block(
            (window.AlongOf(firstRow) - Centre.AlongMetres) * Stretch,
            window.StepAlong * Stretch,
            lastRow - firstRow + 1,
            v + first * window.StepAround,
            window.StepAround,
            last - first + 1,
            values[(firstRow * window.CountAround + first)..],
            window.CountAround
        );
        return last + 1;
    }

    private static int First(double start, double step, double low) =>
        start >= low ? 0 : (int)Math.Min(int.MaxValue / 2, Math.Ceiling((low - start) / step));

    private static int Last(double start, double step, double high, int count) =>
        start > high ? -1
        : count == 1 ? 0
        : (int)Math.Min(count - 1, Math.Floor((high - start) / step));
}
