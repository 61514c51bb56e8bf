using EchoToThickness.Simulation.Scenes;

namespace EchoToThickness.Simulation.Fields;

/// <summary>A flat-bottom hole given by the wall that remains: nothing thicker is left inside its circle.</summary>
internal sealed class DrilledWall(ComponentShape shape, SurfacePoint centre, double radiusMetres, double wallMetres)
    : WallFeature(shape, centre, 0, radiusMetres, radiusMetres)
{
    public double WallMetres { get; } = wallMetres;

    protected override void Row(double u, double v, double stepV, Span<double> row)
    {
        for (int j = 0; j < row.Length; j++)
        {
            double at = v + j * stepV;
            if (u * u + at * at <= HalfX * HalfX && row[j] > WallMetres)
                row[j] = WallMetres;
        }
    }

    protected override bool IsFlat(double x, double y, double radiusMetres, double toleranceMetres)
    {
        double distance = Math.Sqrt(x * x + y * y);
        return distance >= HalfX + radiusMetres || distance + radiusMetres <= HalfX;
    }
}
