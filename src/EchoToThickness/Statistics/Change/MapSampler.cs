namespace EchoToThickness.Statistics.Change;

/// <summary>Bilinear samples of a map.</summary>
internal readonly struct MapSampler(ThicknessMap map)
{
    /// <summary>Value at a place; NaN outside, or where one of the cells that count was not measured.</summary>
    public double At(double alongMetres, double aroundMetres, ReadOnlySpan<double> layer) =>
        Locate(alongMetres, aroundMetres, out Corners c) ? Mix(layer, c) : double.NaN;

    /// <summary>Value and the standard uncertainty of the same mixture, taken as common to the four cells.</summary>
    public double At(double alongMetres, double aroundMetres, ReadOnlySpan<double> layer, out double uncertainty)
    {
        uncertainty = double.NaN;
        if (!Locate(alongMetres, aroundMetres, out Corners c))
            return double.NaN;
        uncertainty = Mix(map.StandardUncertaintyMetres, c);
        return Mix(layer, c);
    }

    private bool Locate(double alongMetres, double aroundMetres, out Corners corners)
    {
        double i = (alongMetres - map.Axes.AlongMetres[0]) / map.Axes.AlongPitchMetres;
        double j = (aroundMetres - map.Axes.AroundMetres[0]) / map.Axes.AroundPitchMetres;
        int n = map.AroundCount;
        corners = default;
        if (map.Axes.WrapsAround)
        {
            j %= n;
            if (j < 0)
                j += n;
        }
        // Rounding of positions must not lose the last row.
        i = Snap(i);
        j = Snap(j);
        int row = (int)Math.Floor(i);
        int column = (int)Math.Floor(j);
        double partRow = i - row;
        double partColumn = j - column;
        if (row < 0 || row > map.AlongCount - 1 || (row == map.AlongCount - 1 && partRow > 0))
            return false;
        if (!map.Axes.WrapsAround && (column < 0 || column > n - 1 || (column == n - 1 && partColumn > 0)))
            return false;
        column %= n;
        int nextRow = partRow > 0 ? row + 1 : row;
        int nextColumn = partColumn > 0 ? (column + 1) % n : column;
        corners = new Corners(
            row * n + column,
            row * n + nextColumn,
            nextRow * n + column,
            nextRow * n + nextColumn,
            partRow,
            partColumn
        );
        return true;
    }

    private static double Snap(double value)
    {
        double whole = Math.Round(value);
        return Math.Abs(value - whole) < 1e-9 ? whole : value;
    }

    private static double Mix(ReadOnlySpan<double> layer, in Corners c)
    {
        double low = layer[c.A] + c.Column * (layer[c.B] - layer[c.A]);
        double high = layer[c.C] + c.Column * (layer[c.D] - layer[c.C]);
        return low + c.Row * (high - low);
    }

    private readonly record struct Corners(int A, int B, int C, int D, double Row, double Column);
}
