namespace EchoToThickness.Studies.Drawings;

/// <summary>The walls of a drawing as a beam averages them, on a lattice and linear in between.</summary>
/// <remarks>The mean over a square of the footprint's area, by sums over rectangles (F. Crow, SIGGRAPH 1984).</remarks>
internal sealed class FootprintWalls
{
    private const int MostNodes = 4_000_000;
    private const double UnevenMetres = 50e-6;
    private readonly float[] _walls;
    private readonly bool[] _uneven;
    private readonly int _columns;
    private readonly int _rows;
    private readonly double _step;

    public FootprintWalls(Drawing drawing)
    {
        DrawingHeader block = drawing.File.Header;
        double footprint = block.FootprintMetres;
        _step = Math.Max(
            Math.Max(0.2e-3, footprint / 20),
            Math.Sqrt(block.LengthMetres * block.WidthMetres / MostNodes)
        );
        _rows = (int)(block.LengthMetres / _step) + 1;
        _columns = (int)(block.WidthMetres / _step) + 1;
        _walls = new float[(long)_rows * _columns];
        _uneven = new bool[_walls.Length];
        // Sums over all nodes above and left, of walls and of nodes with a wall: the mean over a square takes four of each.
        var sums = new double[(_rows + 1) * (_columns + 1)];
        var squares = new double[sums.Length];
        var counts = new int[sums.Length];
        for (int row = 0; row < _rows; row++)
        {
            double sum = 0;
            double square = 0;
            int count = 0;
            for (int column = 0; column < _columns; column++)
            {
                double wall = drawing.WallMetres(row * _step, column * _step);
                _walls[row * _columns + column] = (float)wall;
                if (!double.IsNaN(wall))
                {
                    sum += wall;
                    square += wall * wall;
                    count++;
                }
                int at = (row + 1) * (_columns + 1) + column + 1;
                sums[at] = sums[at - _columns - 1] + sum;
                squares[at] = squares[at - _columns - 1] + square;
                counts[at] = counts[at - _columns - 1] + count;
            }
        }
        // A square of the footprint's area.
        int half = (int)(footprint * Math.Sqrt(Math.PI) / 4 / _step);
        for (int row = 0; row < _rows; row++)
        for (int column = 0; column < _columns; column++)
        {
            int at = row * _columns + column;
            if (float.IsNaN(_walls[at]))
                continue;
            int top = Math.Max(row - half, 0) * (_columns + 1);
            int bottom = Math.Min(row + half + 1, _rows) * (_columns + 1);
            int left = Math.Max(column - half, 0);
            int right = Math.Min(column + half + 1, _columns);
            double Over(double[] table) =>
                table[bottom + right] - table[top + right] - table[bottom + left] + table[top + left];
            double count = counts[bottom + right] - counts[top + right] - counts[bottom + left] + counts[top + left];
            double mean = Over(sums) / count;
            _walls[at] = (float)mean;
            _uneven[at] = Over(squares) / count - mean * mean > UnevenMetres * UnevenMetres;
        }
    }

    /// <summary>Whether the wall varies under the beam, so that its echo may be lost there.</summary>
    public bool IsUneven(double alongMetres, double acrossMetres)
    {
        double x = alongMetres / _step;
        double y = acrossMetres / _step;
        return x >= 0
            && y >= 0
            && x < _rows - 1
            && y < _columns - 1
            && _uneven[(int)(x + 0.5) * _columns + (int)(y + 0.5)];
    }

    /// <summary>Wall at a place of the drawing, metres; NaN where none is certified.</summary>
    public double At(double alongMetres, double acrossMetres)
    {
        double x = alongMetres / _step;
        double y = acrossMetres / _step;
        if (!(x >= 0 && y >= 0 && x < _rows - 1 && y < _columns - 1))
            return double.NaN;
        int row = (int)x;
        int column = (int)y;
        double a = x - row;
        double b = y - column;
        int at = row * _columns + column;
        return (1 - a) * ((1 - b) * _walls[at] + b * _walls[at + 1])
            + a * ((1 - b) * _walls[at + _columns] + b * _walls[at + _columns + 1]);
    }
}
