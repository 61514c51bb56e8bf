using EchoToThickness.Simulation.Scenes;

namespace EchoToThickness.Simulation.Fields;

/// <summary>
/// General corrosion: a mean loss and a Gaussian random field about it, everywhere or in a rectangle outside which both fade as half a
/// cosine. Adds to other losses. Everywhere on an elbow, lengths along are those of the bend's centre line.
/// </summary>
internal sealed class RoughLoss : WallFeature
{
    private readonly RandomSurface? _field;
    private readonly double _rms;
    private readonly double _mean;
    private readonly double _insideX;
    private readonly double _insideY;
    private readonly double _taper;
    private readonly double _offsetAlong;
    private readonly double _offsetAround;

    public RoughLoss(
        ComponentShape shape,
        SurfaceRegion region,
        double taperMetres,
        RandomSurface? field,
        double rmsMetres,
        double meanMetres
    )
        : base(
            shape,
            region.Centre,
            0,
            region.HalfAlongMetres + taperMetres,
            region.HalfAroundMetres + taperMetres,
            region.IsEverywhereAlong ? 1 : null
        )
    {
        (_field, _rms, _mean, _taper) = (field, rmsMetres, meanMetres, taperMetres);
        (_insideX, _insideY) = (region.HalfAlongMetres, region.HalfAroundMetres);
        // The field begins where the region does; a closed one has no beginning.
        _offsetAlong = double.IsFinite(HalfX) ? HalfX : Centre.AlongMetres - shape.StartMetres;
        _offsetAround = double.IsFinite(HalfY) ? HalfY : Centre.AroundMetres;
    }

    protected override void Row(double u, double v, double stepV, Span<double> row) =>
        Block(u, 0, 1, v, stepV, row.Length, row, row.Length);

    protected override void Block(
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
        const int most = 512;
        if (columns > most || rows > most)
        {
            // In pieces, so that the factors stay on the stack.
            int upper = Math.Min(rows, most);
            int left = Math.Min(columns, most);
            Block(u, stepU, upper, v, stepV, left, values, stride);
            if (columns > left)
                Block(u, stepU, upper, v + left * stepV, stepV, columns - left, values[left..], stride);
            if (rows > upper)
                Block(u + upper * stepU, stepU, rows - upper, v, stepV, columns, values[(upper * stride)..], stride);
            return;
        }
        Span<double> rowFactor = stackalloc double[rows];
        Span<double> columnFactor = stackalloc double[columns];
        for (int i = 0; i < rows; i++)
            rowFactor[i] = Ramp(Math.Abs(u + i * stepU) - _insideX);
        for (int j = 0; j < columns; j++)
            columnFactor[j] = Ramp(Math.Abs(v + j * stepV) - _insideY);
        if (_mean != 0)
            for (int i = 0; i < rows; i++)
            for (int j = 0; j < columns; j++)
                values[i * stride + j] += _mean * rowFactor[i] * columnFactor[j];
        if (_field is null)
            return;
        for (int j = 0; j < columns; j++)
            columnFactor[j] *= _rms;
        _field.Add(
            u + _offsetAlong,
            stepU,
            rows,
            v + _offsetAround,
            stepV,
            columns,
            rowFactor,
            columnFactor,
            values,
            stride
        );
    }

    protected override bool IsFlat(double x, double y, double radiusMetres, double toleranceMetres) =>
        IsOutside(x, y, radiusMetres)
        || (
            (_field is null || _rms == 0)
            && (
                Math.Abs(_mean) <= toleranceMetres
                || (Math.Abs(x) + radiusMetres <= _insideX && Math.Abs(y) + radiusMetres <= _insideY)
            )
        );

    private double Ramp(double outside) =>
        outside <= 0 ? 1
        : outside >= _taper ? 0
        : 0.5 * (1 + Math.Cos(Math.PI * outside / _taper));
}
