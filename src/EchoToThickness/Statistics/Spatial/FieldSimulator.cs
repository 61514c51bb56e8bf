using EchoToThickness.Statistics.Numerics;

namespace EchoToThickness.Statistics.Spatial;

/// <summary>Gaussian fields of mean 0 and variance 1 with a given variogram.</summary>
/// <remarks>
/// Spectral method on a torus that exceeds the field by its practical range (circulant embedding; Dietrich and Newsam 1993, Wood and Chan 1994). Eigenvalues below
/// zero are set to zero and the variance is restored: exact where there are none, else an approximation, whose share
/// <see cref="ClippedShare"/> says.
/// </remarks>
public sealed class FieldSimulator
{
    private readonly int _alongCount;
    private readonly int _aroundCount;
    private readonly int _rows;
    private readonly int _columns;
    private readonly double[] _amplitude;

    /// <summary>Prepares fields.</summary>
    /// <param name="alongCount">Cells along.</param>
    /// <param name="aroundCount">Cells around.</param>
    /// <param name="alongPitchMetres">Pitch along.</param>
    /// <param name="aroundPitchMetres">Pitch around.</param>
    /// <param name="along">Variogram along; its correlation (with nugget) is taken.</param>
    /// <param name="around">Variogram around: only its practical range is taken (geometric anisotropy).</param>
    public FieldSimulator(
        int alongCount,
        int aroundCount,
        double alongPitchMetres,
        double aroundPitchMetres,
        VariogramModel along,
        VariogramModel around
    )
    {
        ArgumentNullException.ThrowIfNull(along);
        ArgumentNullException.ThrowIfNull(around);
        _alongCount = alongCount;
        _aroundCount = aroundCount;
        double stretch = along.PracticalRangeMetres / around.PracticalRangeMetres;
        // Beyond its practical range the correlation is small: the torus needs the field plus one such range.
        _rows = Size(alongCount, along.PracticalRangeMetres / alongPitchMetres);
        _columns = Size(aroundCount, around.PracticalRangeMetres / aroundPitchMetres);
        var real = new double[_rows * _columns];
        var imaginary = new double[_rows * _columns];
        for (int i = 0; i < _rows; i++)
        for (int j = 0; j < _columns; j++)
        {
            double x = Math.Min(i, _rows - i) * alongPitchMetres;
            double y = Math.Min(j, _columns - j) * aroundPitchMetres * stretch;
            real[i * _columns + j] = along.Correlation(Math.Sqrt(x * x + y * y));
        }
        FastFourier.Transform2(real, imaginary, _rows, _columns, false);
        double clipped = 0;
        double kept = 0;
        for (int k = 0; k < real.Length; k++)
        {
            if (real[k] < 0)
            {
                clipped -= real[k];
                real[k] = 0;
            }
            kept += real[k];
        }
        ClippedShare = clipped / kept;
        _amplitude = real;
        for (int k = 0; k < real.Length; k++)
            _amplitude[k] = Math.Sqrt(real[k] / kept);
    }

    /// <summary>Negative over positive eigenvalues: 0 where the fields are exact.</summary>
    public double ClippedShare { get; }

    /// <summary>Two independent fields.</summary>
    /// <param name="seed">Seed.</param>
    /// <param name="trial">Number of the trial.</param>
    /// <returns>Shape [along, around] each.</returns>
    public (double[] First, double[] Second) Draw(ulong seed, int trial)
    {
        var random = new StatisticsRandom(seed, (ulong)trial);
        var real = new double[_amplitude.Length];
        var imaginary = new double[_amplitude.Length];
        for (int k = 0; k < real.Length; k++)
        {
            real[k] = _amplitude[k] * random.Normal();
            imaginary[k] = _amplitude[k] * random.Normal();
        }
        FastFourier.Transform2(real, imaginary, _rows, _columns, true);
        return (Cut(real), Cut(imaginary));
    }

    private double[] Cut(double[] torus)
    {
        var field = new double[_alongCount * _aroundCount];
        for (int i = 0; i < _alongCount; i++)
            torus.AsSpan(i * _columns, _aroundCount).CopyTo(field.AsSpan(i * _aroundCount));
        return field;
    }

    private static int Size(int count, double range) =>
        FastFourier.PowerOfTwo(count + (int)Math.Min(count, Math.Ceiling(range)));
}
