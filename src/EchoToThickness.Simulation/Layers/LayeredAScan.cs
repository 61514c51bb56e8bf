using System.Numerics;
using EchoToThickness.Signals;

namespace EchoToThickness.Simulation.Layers;

/// <summary>
/// The A-scan of a layered medium behind a couplant: a band-limited pulse leaves the array's face, and everything that comes back to it
/// is sampled. Time 0 is when the centre of the pulse leaves the face.
/// </summary>
/// <remarks>
/// <para>Spectrum: <c>X = P R q / (1 - g R q)</c> with the pulse P, the reflection R of the medium, the way through the couplant and back
/// <c>q = exp(-2 i k d)</c>, and the reflection g of the array's face seen from the couplant.</para>
/// <para>A discrete transform is circular, and the echoes of a plate die slowly, so the response is computed at frequencies shifted by
/// <c>-i η</c> below the real axis, which gives the response times <c>exp(-η t)</c>, and grown back afterwards (the exponential window
/// method; E. Kausel and J. M. Roësset, "Frequency domain analysis of undamped systems", J. Eng. Mech. 118, 1992). What
/// comes one transform length late is folded back at 1e-10 of its size; the transform is at least twice as long as the record and its
/// lead, so rounding grows to 1e-10 of the largest echo at most.</para>
/// <para>The Gabor pulse <c>exp(-t²/2σ²) cos(ω0 t + φ)</c> enters by its exact Fourier transform; the record is refused where that is
/// above 1e-6 of its peak at half the sample rate. Samples may start at any fraction of an interval: the shift is a phase. One object a
/// thread; no allocation per A-scan.</para>
/// </remarks>
public sealed class LayeredAScan
{
    private const double FoldedBack = 1e-10;
    private const long LongestTransform = 1 << 22;
    private readonly FourierTransform _transform;
    private readonly double[] _real;
    private readonly double[] _imaginary;
    private readonly Complex[] _pulse;
    private readonly double _damping;
    private readonly int _lead;

    /// <summary>Prepares the time base and the pulse.</summary>
    /// <param name="frequencyHz">Centre frequency of the pulse, hertz.</param>
    /// <param name="bandwidthFraction">Its relative bandwidth at -6 dB.</param>
    /// <param name="phaseRadians">Its phase φ; 0 puts the peak in the middle.</param>
    /// <param name="sampleRateHz">Samples a second.</param>
    /// <param name="startSeconds">Time of sample 0, seconds from the pulse; any sub-sample part is kept.</param>
    /// <param name="samples">Samples of the A-scan.</param>
    /// <exception cref="ArgumentException">The pulse does not fit the sample rate, or the record is too long.</exception>
    public LayeredAScan(
        double frequencyHz,
        double bandwidthFraction,
        double phaseRadians,
        double sampleRateHz,
        double startSeconds,
        int samples
    )
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(sampleRateHz);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(samples);
        if (!double.IsFinite(startSeconds) || !double.IsFinite(phaseRadians))
            throw new ArgumentException("Start and phase must be finite.", nameof(startSeconds));
        double sigma = new GaborPulse(frequencyHz, bandwidthFraction).SigmaSeconds;
        double beyond = 2 * Math.PI * (sampleRateHz / 2 - frequencyHz) * sigma;
        if (beyond < 5.2565)
            throw new ArgumentException(
                $"A pulse of {frequencyHz} Hz and {bandwidthFraction} bandwidth does not fit {sampleRateHz} samples a second: its "
                    + "spectrum must have fallen by 120 dB at half the sample rate.",
                nameof(sampleRateHz)
            );
        SampleRateHz = sampleRateHz;
        StartSeconds = startSeconds;
        Samples = samples;
        // Nothing returns before time 0 less the reach of the pulse (8 sigma: 1e-14); the record is led in from there.
        _lead = Math.Max(0, (int)Math.Ceiling((startSeconds + 8 * sigma) * sampleRateHz));
        long needed = 2 * ((long)samples + _lead);
        if (needed > LongestTransform)
            throw new ArgumentException(
                $"{samples} samples that begin {_lead} samples after the pulse need a transform of {needed} points; {LongestTransform} are allowed.",
                nameof(samples)
            );
        int length = FourierTransform.LengthFor((int)needed);
        _transform = new FourierTransform(length);
        _real = new double[length];
        _imaginary = new double[length];
        _damping = -Math.Log(FoldedBack) * sampleRateHz / length;
        _pulse = new Complex[length / 2];
        for (int k = 0; k < _pulse.Length; k++)
        {
            Complex omega = Omega(k);
            Complex below = (omega - 2 * Math.PI * frequencyHz) * sigma;
            Complex above = (omega + 2 * Math.PI * frequencyHz) * sigma;
            Complex turn = Complex.FromPolarCoordinates(1, phaseRadians);
            Complex spectrum = Complex.Exp(-below * below / 2) * turn + Complex.Exp(-above * above / 2) / turn;
            // Origin of the transform's time: the lead before the start.
            double origin = startSeconds - _lead / sampleRateHz;
            _pulse[k] =
                spectrum
                * (sigma * Math.Sqrt(2 * Math.PI) / 2 * sampleRateHz)
                * Complex.Exp(Complex.ImaginaryOne * omega * origin);
        }
    }

    /// <summary>Samples a second.</summary>
    public double SampleRateHz { get; }

    /// <summary>Time of sample 0, seconds.</summary>
    public double StartSeconds { get; }

    /// <summary>Samples of the A-scan.</summary>
    public int Samples { get; }

    /// <summary>Computes one A-scan.</summary>
    /// <param name="medium">What lies under the couplant; its front half-space is the couplant.</param>
    /// <param name="couplantMetres">Thickness of the couplant, metres, not negative.</param>
    /// <param name="faceReflection">Reflection of the array's face seen from the couplant; 0: none of the couplant's multiples.</param>
    /// <param name="destination">Shape [sample]; the pulse's own amplitude is 1.</param>
    public void Render(LayeredMedium medium, double couplantMetres, double faceReflection, Span<double> destination)
    {
        ArgumentNullException.ThrowIfNull(medium);
        ArgumentOutOfRangeException.ThrowIfNegative(couplantMetres);
        if (!(Math.Abs(faceReflection) <= 1))
            throw new ArgumentOutOfRangeException(nameof(faceReflection), faceReflection, "The face reflects -1 to 1.");
        if (destination.Length != Samples)
            throw new ArgumentException(
                $"The A-scan has {Samples} samples, not {destination.Length}.",
                nameof(destination)
            );
        int length = _transform.Length;
        Array.Clear(_real);
        Array.Clear(_imaginary);
        for (int k = 0; k < _pulse.Length; k++)
        {
            Complex omega = Omega(k);
            Complex way = Complex.Exp(-2 * Complex.ImaginaryOne * medium.Front.WaveNumber(omega) * couplantMetres);
            Complex back = medium.Reflection(omega) * way;
            Complex value = _pulse[k] * back / (1 - faceReflection * back);
            (_real[k], _imaginary[k]) = (value.Real, value.Imaginary);
            if (k > 0)
                (_real[length - k], _imaginary[length - k]) = (value.Real, -value.Imaginary);
        }
        // The lines at 0 and k share one real signal: at 0 only the real part counts.
        _imaginary[0] = 0;
        _transform.Inverse(_real, _imaginary);
        for (int i = 0; i < destination.Length; i++)
            destination[i] = _real[_lead + i] * Math.Exp(_damping * (_lead + i) / SampleRateHz);
    }

    private Complex Omega(int k) => new(2 * Math.PI * k * SampleRateHz / _transform.Length, -_damping);
}
