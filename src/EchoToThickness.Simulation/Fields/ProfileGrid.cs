using EchoToThickness.Simulation.Scenes;

namespace EchoToThickness.Simulation.Fields;

/// <summary>A measured profile on a regular grid, read by straight lines between its values; nothing where a neighbour is missing.</summary>
internal sealed class ProfileGrid : WallFeature
{
    private readonly ProfileTable _table;
    private readonly bool _isWall;

    public ProfileGrid(ComponentShape shape, SurfacePoint centre, ProfileTable table, bool isWall)
        : base(
            shape,
            centre,
            0,
            (table.Rows - 1) * table.StepAlongMetres / 2,
            (table.Columns - 1) * table.StepAroundMetres / 2
        )
    {
        _table = table;
        _isWall = isWall;
    }

    protected override void Row(double u, double v, double stepV, Span<double> row)
    {
        double along = Math.Clamp((u + HalfX) / _table.StepAlongMetres, 0, _table.Rows - 1);
        int r = Math.Min((int)along, _table.Rows - 2);
        double share = along - r;
        ReadOnlySpan<float> low = _table.Row(r);
        ReadOnlySpan<float> high = _table.Row(r + 1);
        for (int j = 0; j < row.Length; j++)
        {
            double around = Math.Clamp((v + j * stepV + HalfY) / _table.StepAroundMetres, 0, _table.Columns - 1);
            int c = Math.Min((int)around, _table.Columns - 2);
            double part = around - c;
            double value = Blend(Blend(low[c], low[c + 1], part), Blend(high[c], high[c + 1], part), share);
            if (double.IsNaN(value))
                continue;
            row[j] = _isWall ? value : row[j] + value;
        }
    }

    protected override bool IsFlat(double x, double y, double radiusMetres, double toleranceMetres) =>
        IsOutside(x, y, radiusMetres);

    /// <summary>On a straight line between two values; one that has no weight may be missing.</summary>
    private static double Blend(double first, double second, double share) =>
        share == 0 ? first
        : share == 1 ? second
        : first + share * (second - first);
}
