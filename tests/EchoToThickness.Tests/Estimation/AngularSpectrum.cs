using System.Numerics;

namespace EchoToThickness.Tests.Estimation;

/// <summary>
/// How far the echoes of a finite flat aperture arrive from the plane-wave times, by angular spectrum: the same aperture sends and
/// receives through a couplant layer and n round trips in a plate. Slow and without the Fresnel approximation: the reference that
/// <c>FresnelDelay</c> is tested against.
/// </summary>
/// <remarks>
/// The response over the plane-wave response is
/// <c>H_n(ω) = ∫ |S(k)|² exp(i [2 g (q_w - ω/c_w) + 2 n d (q_s - ω/c_s)]) dk</c> with <c>q = sqrt(ω²/c² - k²)</c>
/// (waves evanescent in either layer are left out) and <c>S</c> the aperture's spectrum: Goodman, Introduction to Fourier Optics, section 3.10
/// (angular spectrum); Kino, Acoustic Waves, chapter 3 (diffraction of transducers). A strip is integrated in one direction; a
/// rectangle over the modulus of k after <c>|S|²</c> was averaged over its direction once. Left out: the change of reflection and
/// transmission coefficients with angle (together below 3 µm of wall between interface and wall at 4 mm and 5 MHz, below 6 µm for the envelope)
/// and mode conversion. Delays are later-positive: a negative delay is an early echo.
/// </remarks>
internal sealed class AngularSpectrum
{
    private const int Nodes = 640;
    private const int SpectrumNodes = 4096;
    private const int CorrelationFrequencies = 9;
    private const int EnvelopeFrequencies = 41;
    private static readonly (double Sine, double Cosine)[] Directions = Enumerable
        .Range(0, Nodes)
        .Select(i => Math.SinCos((i + 0.5) * Math.PI / 2 / Nodes))
        .ToArray();

    private readonly AngularSpectrumSetup _setup;
    private readonly double[] _weightByWavenumber;
    private readonly double _wavenumberStep;
    private readonly double _spectrumDeviationHz;

    /// <summary>Prepares the angular spectrum of an aperture.</summary>
    /// <param name="setup">Aperture, pulse and media.</param>
    public AngularSpectrum(AngularSpectrumSetup setup)
    {
        _setup = setup;
        // |S(f)| of the pulse is Gaussian and falls to 1/2 at f_c (1 ± B/2).
        _spectrumDeviationHz = setup.BandwidthFraction * setup.FrequencyHz / (2 * Math.Sqrt(2 * Math.Log(2)));
        // The aperture's |S|² is real and smooth: tabulated once, the same for every frequency and path.
        double largest =
            2 * Math.PI * HighestHz / Math.Min(setup.CouplantMetresPerSecond, setup.VelocityMetresPerSecond);
        _wavenumberStep = largest / (SpectrumNodes - 2);
        _weightByWavenumber = new double[SpectrumNodes];
        // The plane-wave response is that of a spectrum at k = 0: ∫ |S|² dk is normalised to 1 in closed form.
        double total = setup.ElevationMetres is { } second
            ? 4 * Math.PI * Math.PI / (setup.ApertureMetres * second)
            : 2 * Math.PI / setup.ApertureMetres;
        for (int i = 0; i < SpectrumNodes; i++)
        {
            double k = i * _wavenumberStep;
            double spectrum = setup.ElevationMetres is { } elevation
                ? k * RectangleSpectrum(k, setup.ApertureMetres, elevation)
                : 2 * Squared(Sinc(k * setup.ApertureMetres / 2));
            _weightByWavenumber[i] = spectrum / total;
        }
    }

    private double LowestHz => Math.Max(_setup.FrequencyHz - 2.5 * _spectrumDeviationHz, 0.1 * _setup.FrequencyHz);

    private double HighestHz => _setup.FrequencyHz + 2.5 * _spectrumDeviationHz;

    /// <summary>Response over the plane-wave response at one frequency.</summary>
    /// <param name="frequencyHz">Frequency; at most 2.5 spectrum deviations above the centre.</param>
    /// <param name="order">0 for the interface echo, n for back-wall echo n.</param>
    /// <param name="wallMetres">Wall.</param>
    /// <param name="couplantPathMetres">Couplant path, one way.</param>
    /// <returns>Modulus: amplitude left; argument: phase delay in radians.</returns>
    public Complex Response(double frequencyHz, int order, double wallMetres, double couplantPathMetres)
    {
        double omega = 2 * Math.PI * frequencyHz;
        double couplant = omega / _setup.CouplantMetresPerSecond;
        double metal = omega / _setup.VelocityMetresPerSecond;
        // k = k_max sin θ: the nodes are dense where q vanishes, and the phase has no pole there. Waves that are evanescent in
        // either layer are left out.
        double largest = order > 0 ? Math.Min(couplant, metal) : couplant;
        double inMetal = 2 * order * wallMetres;
        double inCouplant = 2 * couplantPathMetres;
        double real = 0;
        double imaginary = 0;
        foreach ((double sine, double cosine) in Directions)
        {
            double k = largest * sine;
            // q - ω/c = -k² / (q + ω/c) keeps its digits for small k.
            double phase = -inCouplant * k * k / (Math.Sqrt(couplant * couplant - k * k) + couplant);
            if (order > 0)
                phase -= inMetal * k * k / (Math.Sqrt(Math.Max(metal * metal - k * k, 0)) + metal);
            (double s, double c) = Math.SinCos(phase);
            double weight = Weight(k) * cosine;
            real += weight * c;
            imaginary += weight * s;
        }
        double scale = largest * Math.PI / 2 / Nodes;
        // exp(-iωt) convention: a negative phase is an early arrival, a negative delay.
        return new Complex(real * scale, imaginary * scale);
    }

    private double Weight(double wavenumber)
    {
        double position = wavenumber / _wavenumberStep;
        int index = Math.Min((int)position, SpectrumNodes - 2);
        double first = _weightByWavenumber[index];
        return first + (position - index) * (_weightByWavenumber[index + 1] - first);
    }

    /// <summary>Delay of one echo against another beyond the plane-wave delay, as a correlation (or matched filter) sees it.</summary>
    /// <param name="earlierOrder">0 for the interface echo, n for back-wall echo n.</param>
    /// <param name="laterOrder">Order of the later echo.</param>
    /// <param name="wallMetres">Wall.</param>
    /// <param name="couplantPathMetres">Couplant path, one way.</param>
    /// <returns>Seconds to subtract from the measured spacing; negative where the later echo is early (reads thin).</returns>
    /// <remarks>Maximum of <c>Re ∑ S² H_b conj(H_a) exp(-iωτ)</c> over the band, by Newton's method from the weighted phase.</remarks>
    public double CorrelationDelaySeconds(
        int earlierOrder,
        int laterOrder,
        double wallMetres,
        double couplantPathMetres
    )
    {
        Span<Complex> earlier = stackalloc Complex[CorrelationFrequencies];
        Responses(earlierOrder, wallMetres, couplantPathMetres, earlier);
        Span<double> omegas = stackalloc double[CorrelationFrequencies];
        Span<double> moduli = stackalloc double[CorrelationFrequencies];
        Span<double> phases = stackalloc double[CorrelationFrequencies];
        double above = 0;
        double below = 0;
        for (int i = 0; i < CorrelationFrequencies; i++)
        {
            double f = CorrelationHz(i);
            Complex product = Response(f, laterOrder, wallMetres, couplantPathMetres) * Complex.Conjugate(earlier[i]);
            omegas[i] = 2 * Math.PI * f;
            moduli[i] = Squared(Pulse(f)) * product.Magnitude;
            phases[i] = product.Phase;
            above += moduli[i] * omegas[i] * phases[i];
            below += moduli[i] * omegas[i] * omegas[i];
        }
        double delay = above / below;
        for (int step = 0; step < 8; step++)
        {
            double slope = 0;
            double curvature = 0;
            for (int i = 0; i < CorrelationFrequencies; i++)
            {
                double rest = phases[i] - omegas[i] * delay;
                slope += moduli[i] * omegas[i] * Math.Sin(rest);
                curvature += moduli[i] * omegas[i] * omegas[i] * Math.Cos(rest);
            }
            double change = slope / curvature;
            delay += change;
            if (Math.Abs(change) < 1e-16)
                break;
        }
        return delay;
    }

    private void Responses(int order, double wallMetres, double couplantPathMetres, Span<Complex> responses)
    {
        for (int i = 0; i < CorrelationFrequencies; i++)
            responses[i] = Response(CorrelationHz(i), order, wallMetres, couplantPathMetres);
    }

    private double CorrelationHz(int index) => LowestHz + index * (HighestHz - LowestHz) / (CorrelationFrequencies - 1);

    /// <summary>Delay of one echo against another beyond the plane-wave delay, between the peaks of their envelopes.</summary>
    /// <param name="earlierOrder">0 for the interface echo, n for back-wall echo n.</param>
    /// <param name="laterOrder">Order of the later echo.</param>
    /// <param name="wallMetres">Wall.</param>
    /// <param name="couplantPathMetres">Couplant path, one way.</param>
    /// <returns>Seconds to subtract from the measured spacing of envelope peaks.</returns>
    public double EnvelopeDelaySeconds(
        int earlierOrder,
        int laterOrder,
        double wallMetres,
        double couplantPathMetres
    ) =>
        EnvelopePeakSeconds(laterOrder, wallMetres, couplantPathMetres)
        - EnvelopePeakSeconds(earlierOrder, wallMetres, couplantPathMetres);

    private double EnvelopePeakSeconds(int order, double wallMetres, double couplantPathMetres)
    {
        Span<Complex> spectrum = stackalloc Complex[EnvelopeFrequencies];
        double stepHz = (HighestHz - LowestHz) / (EnvelopeFrequencies - 1);
        for (int i = 0; i < EnvelopeFrequencies; i++)
        {
            double f = LowestHz + i * stepHz;
            spectrum[i] = Pulse(f) * Response(f, order, wallMetres, couplantPathMetres);
        }
        // Coarse search over half a period each way, then golden-section refinement.
        double period = 1 / _setup.FrequencyHz;
        double best = 0;
        double bestValue = double.NegativeInfinity;
        for (int i = -20; i <= 20; i++)
        {
            double t = i * period / 40;
            double value = Envelope(spectrum, stepHz, t);
            if (value > bestValue)
                (best, bestValue) = (t, value);
        }
        double low = best - period / 40;
        double high = best + period / 40;
        double golden = (Math.Sqrt(5) - 1) / 2;
        while (high - low > 1e-14)
        {
            double left = high - golden * (high - low);
            double right = low + golden * (high - low);
            if (Envelope(spectrum, stepHz, left) < Envelope(spectrum, stepHz, right))
                low = left;
            else
                high = right;
        }
        return (low + high) / 2;
    }

    private double Envelope(ReadOnlySpan<Complex> spectrum, double stepHz, double seconds)
    {
        Complex sum = Complex.Zero;
        for (int i = 0; i < spectrum.Length; i++)
            sum += spectrum[i] * Complex.FromPolarCoordinates(1, -2 * Math.PI * (LowestHz + i * stepHz) * seconds);
        return sum.Magnitude;
    }

    private double Pulse(double frequencyHz) =>
        Math.Exp(-Squared(frequencyHz - _setup.FrequencyHz) / (2 * Squared(_spectrumDeviationHz)));

    /// <summary><c>∫ |S(k cos φ, k sin φ)|² dφ</c> over the full circle, both sides of the rectangle normalised to 1.</summary>
    private static double RectangleSpectrum(double k, double apertureMetres, double elevationMetres)
    {
        const int Angles = 128;
        double sum = 0;
        for (int j = 0; j < Angles; j++)
        {
            double angle = (j + 0.5) * Math.PI / 2 / Angles;
            sum += Squared(
                Sinc(k * Math.Cos(angle) * apertureMetres / 2) * Sinc(k * Math.Sin(angle) * elevationMetres / 2)
            );
        }
        return sum * 2 * Math.PI / Angles;
    }

    private static double Sinc(double x) => Math.Abs(x) < 1e-8 ? 1 : Math.Sin(x) / x;

    private static double Squared(double x) => x * x;
}
