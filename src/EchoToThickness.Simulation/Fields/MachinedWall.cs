using EchoToThickness.Simulation.Scenes;

namespace EchoToThickness.Simulation.Fields;

/// <summary>
/// A rectangle with one exact wall, in place of the base wall; outside it the wall comes back over the edge width as half a cosine. A later
/// step replaces an earlier one.
/// </summary>
internal sealed class MachinedWall : WallFeature
{
    private readonly double _insideX;
    private readonly double _insideY;
    private readonly double _edge;

    public MachinedWall(
        ComponentShape shape,
        SurfacePoint centre,
        double halfXMetres,
        double halfYMetres,
        double edgeMetres,
        double wallMetres
    )
        : base(shape, centre, 0, halfXMetres + edgeMetres, halfYMetres + edgeMetres)
    {
        (_insideX, _insideY, _edge) = (halfXMetres, halfYMetres, edgeMetres);
        WallMetres = wallMetres;
    }

    public double WallMetres { get; }

    protected override void Row(double u, double v, double stepV, Span<double> row)
    {
        double along = Ramp(Math.Abs(u) - _insideX);
        for (int j = 0; j < row.Length; j++)
        {
            double share = along * Ramp(Math.Abs(v + j * stepV) - _insideY);
            row[j] = share == 1 ? WallMetres : row[j] + share * (WallMetres - row[j]);
        }
    }

    protected override bool IsFlat(double x, double y, double radiusMetres, double toleranceMetres) =>
        IsOutside(x, y, radiusMetres) || IsInside(x, y, radiusMetres);

    protected override bool IsInside(double x, double y, double radiusMetres) =>
        Math.Abs(x) + radiusMetres <= _insideX && Math.Abs(y) + radiusMetres <= _insideY;

    private double Ramp(double outside) =>
        outside <= 0 ? 1
        : outside >= _edge ? 0
        : 0.5 * (1 + Math.Cos(Math.PI * outside / _edge));
}
