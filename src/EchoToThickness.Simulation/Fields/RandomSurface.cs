using EchoToThickness.Simulation.Random;

namespace EchoToThickness.Simulation.Fields;

/// <summary>
/// A Gaussian random field of any size and fineness in bounded memory: one <see cref="RandomField"/> over the whole surface where that is
/// small enough, else pieces of one, blended. Immutable and thread-safe.
/// </summary>
/// <remarks>
/// Blended, the surface is cut into cells of half a tile. Around each cell's corner a piece of the tile with its own random shift fades in and out
/// as a cosine a axis; at every point the squares of the four factors add up to one, so the sum of the pieces is Gaussian with variance 1
/// and, up to separations small against a cell, has the correlation of the tile (variance-preserving blending: Heitz and Neyret, Proc. ACM
/// Comput. Graph. Interact. Tech. 1 (2018) 31). Neighbouring pieces come from different quarters of the tile. The surface closes on itself
/// around the girth and never repeats as a whole; a piece of it may appear again elsewhere, shifted. Waves longer than a tile, 2048 nodes,
/// are missing.
/// </remarks>
public sealed class RandomSurface
{
    /// <summary>Most nodes of a field held whole: 16 MB.</summary>
    public const int MostWholeNodes = 1 << 22;

    private const int TileNodes = 2048;

    private readonly RandomField _field;
    private readonly double _cellAlong;
    private readonly double _cellAround;
    private readonly int _cellsAround;
    private readonly bool _closed;
    private readonly ulong _seed;
    private readonly ulong _stream;

    /// <summary>Makes the surface.</summary>
    /// <param name="settings">What it looks like.</param>
    /// <param name="seed">Seed of the whole scene.</param>
    /// <param name="stream">Sequence of random numbers, from <see cref="CounterNoise.Stream"/>.</param>
    /// <exception cref="ArgumentOutOfRangeException">A length is not positive.</exception>
    public RandomSurface(RandomFieldSettings settings, ulong seed, ulong stream)
    {
        ArgumentNullException.ThrowIfNull(settings);
        (_seed, _stream) = (seed, stream);
        (long along, long around) = RandomField.NodesOf(settings);
        if (along <= MostWholeNodes && around <= MostWholeNodes && along * around <= MostWholeNodes)
        {
            _field = new RandomField(settings, seed, stream);
            return;
        }
        IsBlended = true;
        // A hair less than the nodes ask for, so that rounding does not double their number.
        const double hair = 1 - 1e-9;
        double periodAlong = TileNodes * RandomField.ShortestMetres(settings, along: true) / 4 * hair;
        double periodAround = TileNodes * RandomField.ShortestMetres(settings, along: false) / 4 * hair;
        _field = new RandomField(
            settings with
            {
                LengthMetres = periodAlong - 4 * settings.CorrelationAlongMetres,
                WidthMetres = periodAround,
                IsClosedAround = true,
            },
            seed,
            stream
        );
        _closed = settings.IsClosedAround;
        _cellAlong = periodAlong / 2;
        // An even number of cells, so that quarters alternate across the seam too.
        _cellsAround = 2 * (int)Math.Max(1, Math.Ceiling(settings.WidthMetres / periodAround));
        _cellAround = _closed ? settings.WidthMetres / _cellsAround : periodAround / 2;
    }

    /// <summary>Whether the surface is put together from pieces.</summary>
    public bool IsBlended { get; }

    /// <summary>Value at a point, of a field of mean 0 and variance 1.</summary>
    /// <param name="alongMetres">Along, from the start of the field.</param>
    /// <param name="aroundMetres">Around, from the start of the field.</param>
    public double ValueAt(double alongMetres, double aroundMetres)
    {
        Span<double> value = [0.0];
        Add(alongMetres, 0, 1, aroundMetres, 0, 1, [1.0], [1.0], value, 1);
        return value[0];
    }

    /// <summary>Adds the field over a regular grid of points, times a factor a row and a factor a column; see <see cref="RandomField.Add"/>.</summary>
    /// <param name="firstAlongMetres">Along of the first row.</param>
    /// <param name="stepAlongMetres">Distance of rows, not negative.</param>
    /// <param name="rows">Rows.</param>
    /// <param name="firstAroundMetres">Around of the first column.</param>
    /// <param name="stepAroundMetres">Distance of columns, not negative.</param>
    /// <param name="columns">Columns.</param>
    /// <param name="rowFactor">Shape [row].</param>
    /// <param name="columnFactor">Shape [column].</param>
    /// <param name="values">Shape [row, column], added to.</param>
    /// <param name="stride">Values from the beginning of one row to that of the next.</param>
    public void Add(
        double firstAlongMetres,
        double stepAlongMetres,
        int rows,
        double firstAroundMetres,
        double stepAroundMetres,
        int columns,
        ReadOnlySpan<double> rowFactor,
        ReadOnlySpan<double> columnFactor,
        Span<double> values,
        int stride
    )
    {
        if (!IsBlended)
        {
            _field.Add(
                firstAlongMetres,
                stepAlongMetres,
                rows,
                firstAroundMetres,
                stepAroundMetres,
                columns,
                rowFactor,
                columnFactor,
                values,
                stride
            );
            return;
        }
        const int most = 512;
        Span<double> rowPart = stackalloc double[Math.Min(most, rows)];
        Span<double> columnPart = stackalloc double[Math.Min(most, columns)];
        for (int row = 0; row < rows; row += most)
        for (int column = 0; column < columns; column += most)
        {
            int rowCount = Math.Min(most, rows - row);
            int columnCount = Math.Min(most, columns - column);
            double along = (firstAlongMetres + row * stepAlongMetres) / _cellAlong;
            double around = (firstAroundMetres + column * stepAroundMetres) / _cellAround;
            double alongStep = stepAlongMetres / _cellAlong;
            double aroundStep = stepAroundMetres / _cellAround;
            int lastAlong = (int)Math.Floor(along + (rowCount - 1) * alongStep) + 1;
            int lastAround = (int)Math.Floor(around + (columnCount - 1) * aroundStep) + 1;
            for (int i = (int)Math.Floor(along); i <= lastAlong; i++)
            {
                (int firstRow, int endRow) = Fade(along - i, alongStep, rowFactor.Slice(row, rowCount), rowPart);
                if (firstRow >= endRow)
                    continue;
                for (int j = (int)Math.Floor(around); j <= lastAround; j++)
                {
                    (int first, int end) = Fade(
                        around - j,
                        aroundStep,
                        columnFactor.Slice(column, columnCount),
                        columnPart
                    );
                    if (first >= end)
                        continue;
                    (double shiftAlong, double shiftAround) = Shift(i, j);
                    _field.Add(
                        firstAlongMetres + (row + firstRow) * stepAlongMetres + shiftAlong,
                        stepAlongMetres,
                        endRow - firstRow,
                        firstAroundMetres + (column + first) * stepAroundMetres + shiftAround,
                        stepAroundMetres,
                        end - first,
                        rowPart[firstRow..endRow],
                        columnPart[first..end],
                        values[((row + firstRow) * stride + column + first)..],
                        stride
                    );
                }
            }
        }
    }

    /// <summary>Factors of one cell's piece, cos(π/2 |distance|) times what is given, and the range where they are not zero.</summary>
    private static (int First, int End) Fade(
        double distance,
        double step,
        ReadOnlySpan<double> factor,
        Span<double> part
    )
    {
        int first = factor.Length;
        int end = 0;
        for (int k = 0; k < factor.Length; k++)
        {
            double away = Math.Abs(distance + k * step);
            part[k] = away < 1 ? factor[k] * Math.Cos(Math.PI / 2 * away) : 0;
            if (part[k] == 0)
                continue;
            first = Math.Min(first, k);
            end = k + 1;
        }
        return (first, end);
    }

    /// <summary>Where in the tile a cell's piece comes from. On a closed surface cells of the next turn take the shift of the first, less a turn.</summary>
    private (double AlongMetres, double AroundMetres) Shift(int i, int j)
    {
        int turn = _closed ? (int)Math.Floor((double)j / _cellsAround) : 0;
        int cell = j - turn * _cellsAround;
        ulong stream = CounterNoise.Stream(RandomStream.TileShift, _stream);
        ulong index = ((ulong)(uint)i << 32) | (uint)cell;
        // 40 % of a tile within each half: pieces of neighbours stay a tenth of a tile apart.
        double along = 0.5 * (i & 1) + 0.4 * CounterNoise.Uniform(_seed, stream, 2 * index);
        double around = 0.5 * (cell & 1) + 0.4 * CounterNoise.Uniform(_seed, stream, 2 * index + 1);
        return (
            along * _field.PeriodAlongMetres,
            around * _field.PeriodAroundMetres - turn * _cellsAround * _cellAround
        );
    }
}
