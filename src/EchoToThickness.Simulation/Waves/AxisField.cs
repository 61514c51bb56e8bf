using System.Numerics;

namespace EchoToThickness.Simulation.Waves;

/// <summary>
/// One side of the aperture at one distance and all frequencies: the mean of what it receives from its own mirror image, and the square of the
/// one-way field on a plane half-way. Exact in the Fresnel approximation for constant segments.
/// </summary>
/// <remarks>
/// With <c>K(u) = exp(i pi u² / (lambda L)) / sqrt(i lambda L)</c> the response is <c>D = (1/a) double integral of q(y) K(y - y') q(y')</c> at
/// L = 2 Z and the field <c>p(x) = integral of q(y) K(x - y) dy</c> at L = Z. Both are sums of Fresnel integrals over the segments' ends.
/// Source: Goodman, Introduction to Fourier Optics, 4.2; that the integral of p² over the plane is D follows from the semigroup of K.
/// </remarks>
internal sealed class AxisField
{
    private readonly (double Gain, double DelaySeconds)[] _segments;
    private readonly double _widthMetres;
    private readonly double[] _wavelengthsMetres;
    private readonly double[] _hertz;
    private readonly double _distanceMetres;
    private readonly Lock _lock = new();
    private FieldSamples[] _samples = [];
    private int _oldest;

    /// <summary>Computes the response at every frequency.</summary>
    /// <param name="widthMetres">Width of the side.</param>
    /// <param name="segments">Gain and delay of equal segments of it.</param>
    /// <param name="distanceMetres">One-way distance Z, as metres of metal; the wave travels twice that.</param>
    /// <param name="hertz">Frequencies.</param>
    /// <param name="velocity">Velocity in the metal, metres per second.</param>
    public AxisField(
        double widthMetres,
        (double Gain, double DelaySeconds)[] segments,
        double distanceMetres,
        double[] hertz,
        double velocity
    )
    {
        _widthMetres = widthMetres;
        _segments = segments;
        _distanceMetres = distanceMetres;
        _hertz = hertz;
        _wavelengthsMetres = Array.ConvertAll(hertz, f => velocity / f);
        Real = new double[hertz.Length];
        Imaginary = new double[hertz.Length];
        for (int m = 0; m < hertz.Length; m++)
        {
            Complex response = Response(m);
            (Real[m], Imaginary[m]) = (response.Real, response.Imaginary);
        }
    }

    /// <summary>Shape [frequency]: real part of D.</summary>
    public double[] Real { get; }

    /// <summary>Shape [frequency]: imaginary part of D.</summary>
    public double[] Imaginary { get; }

    /// <summary>Rows that are kept at each distance.</summary>
    private const int MostRows = 16;

    /// <summary>Square of the one-way field on a row of points; kept, so that the same row costs nothing the next time.</summary>
    /// <param name="count">Points, centred on the axis.</param>
    /// <param name="spacingMetres">Their distance.</param>
    /// <param name="stride">Frequencies of the grid from one term to the next.</param>
    /// <returns>Shape [term, point].</returns>
    public FieldSamples SamplesOn(int count, double spacingMetres, int stride = 1)
    {
        if (Find(Volatile.Read(ref _samples), count, spacingMetres, stride) is { } known)
            return known;
        lock (_lock)
        {
            if (Find(_samples, count, spacingMetres, stride) is { } made)
                return made;
            var samples = new FieldSamples(count, spacingMetres, (_hertz.Length - 1) / stride + 1, stride);
            var row = new Complex[count];
            for (int m = 0; m < _hertz.Length; m += stride)
            {
                Field(m, count, spacingMetres, row);
                for (int i = 0; i < count; i++)
                    samples.Set(m / stride, i, row[i] * row[i]);
            }
            samples.Close();
            Keep(samples);
            return samples;
        }
    }

    private static FieldSamples? Find(FieldSamples[] rows, int count, double spacingMetres, int stride)
    {
        foreach (FieldSamples row in rows)
        {
            if (row.Count == count && row.SpacingMetres == spacingMetres && row.Stride == stride)
                return row;
        }
        return null;
    }

    /// <summary>Readers hold the list they have begun to search, so it is replaced, never changed.</summary>
    private void Keep(FieldSamples samples)
    {
        FieldSamples[] rows;
        if (_samples.Length < MostRows)
        {
            rows = [.. _samples, samples];
        }
        else
        {
            rows = [.. _samples];
            rows[_oldest] = samples;
            _oldest = (_oldest + 1) % MostRows;
        }
        Volatile.Write(ref _samples, rows);
    }

    private Complex Weight(int segment, int frequency) =>
        Complex.FromPolarCoordinates(
            _segments[segment].Gain,
            2 * Math.PI * _hertz[frequency] * _segments[segment].DelaySeconds
        );

    /// <summary>Second differences of the twice integrated kernel are its integrals over a pair of segments.</summary>
    private Complex Response(int frequency)
    {
        double spread = _wavelengthsMetres[frequency] * 2 * _distanceMetres;
        int count = _segments.Length;
        double width = _widthMetres / count;
        var weights = new Complex[count];
        for (int i = 0; i < count; i++)
            weights[i] = Weight(i, frequency);
        Complex sum = Complex.Zero;
        Complex below = TwiceIntegrated(-width, spread);
        Complex here = Complex.Zero;
        for (int lag = 0; lag < count; lag++)
        {
            Complex above = TwiceIntegrated((lag + 1) * width, spread);
            Complex kernel = above - 2 * here + below;
            Complex pairs = Complex.Zero;
            for (int i = 0; i + lag < count; i++)
                pairs += weights[i] * weights[i + lag];
            sum += (lag == 0 ? 1 : 2) * pairs * kernel;
            (below, here) = (here, above);
        }
        return sum / _widthMetres;
    }

    /// <summary>G with G'' = K and G(0) = G'(0) = 0; even.</summary>
    private static Complex TwiceIntegrated(double u, double spread)
    {
        double scale = Math.Sqrt(spread / 2);
        double s = Math.Abs(u) / scale;
        FresnelIntegral.At(s, out double cosine, out double sine);
        double turns = s * s / 4;
        Complex edge = Complex.FromPolarCoordinates(1, 2 * Math.PI * (turns - Math.Round(turns))) - 1;
        // e^(-i pi/4) / sqrt(2) · scale · [s F(s) - (e^(i pi s²/2) - 1)/(i pi)]
        return new Complex(0.5, -0.5) * scale * (s * new Complex(cosine, sine) - edge / new Complex(0, Math.PI));
    }

    private void Field(int frequency, int count, double spacingMetres, Complex[] row)
    {
        double scale = Math.Sqrt(_wavelengthsMetres[frequency] * _distanceMetres / 2);
        double width = _widthMetres / _segments.Length;
        var weights = new Complex[_segments.Length];
        for (int i = 0; i < weights.Length; i++)
            weights[i] = Weight(i, frequency);
        for (int i = 0; i < count; i++)
        {
            double x = (i - 0.5 * (count - 1)) * spacingMetres;
            FresnelIntegral.At((x + 0.5 * _widthMetres) / scale, out double lowCosine, out double lowSine);
            Complex sum = Complex.Zero;
            for (int segment = 0; segment < _segments.Length; segment++)
            {
                double end = -0.5 * _widthMetres + (segment + 1) * width;
                FresnelIntegral.At((x - end) / scale, out double cosine, out double sine);
                sum += weights[segment] * new Complex(lowCosine - cosine, lowSine - sine);
                (lowCosine, lowSine) = (cosine, sine);
            }
            row[i] = new Complex(0.5, -0.5) * sum;
        }
    }
}
