namespace EchoToThickness.Estimation;

/// <summary>
/// How much earlier or later than a plane wave an echo arrives because the aperture that sends and receives it is finite: phase of
/// the mean field of a strip on its own image, in the Fresnel approximation, at the centre frequency.
/// </summary>
/// <remarks>
/// <c>D(S) = 2 e^(-j pi/4) / sqrt(S) * integral from 0 to 1 of (1 - v) e^(j pi v^2 / S) dv</c>, with <c>S = sum of wavelength x path / a^2</c>
/// over the media passed (round trip); the delay is <c>arg D / (2 pi f)</c>. A rectangle is the product of two strips. Source: Goodman,
/// Introduction to Fourier Optics, section 4.2 (Fresnel diffraction), integrated over the receiving aperture. The table is universal.
/// </remarks>
public sealed class FresnelDelay
{
    private const int Nodes = 601;
    private const double SmallestArgument = 0.005;
    private const double LargestArgument = 6;
    private static readonly Lazy<double[]> Phases = new(Tabulate);

    private readonly double _frequencyHz;
    private readonly double _apertureSquared;
    private readonly double _elevationSquared;
    private readonly double _couplantSquared;
    private readonly double _metalSquared;

    /// <summary>Prepares the delay of one aperture.</summary>
    /// <param name="apertureMetres">Active aperture along the array.</param>
    /// <param name="elevationMetres">Aperture across the array; null for a long strip.</param>
    /// <param name="frequencyHz">Centre frequency.</param>
    /// <param name="couplantMetresPerSecond">Velocity in the couplant.</param>
    /// <param name="metalMetresPerSecond">Velocity in the metal.</param>
    public FresnelDelay(
        double apertureMetres,
        double? elevationMetres,
        double frequencyHz,
        double couplantMetresPerSecond,
        double metalMetresPerSecond
    )
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(apertureMetres);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(frequencyHz);
        _frequencyHz = frequencyHz;
        _apertureSquared = apertureMetres * apertureMetres;
        _elevationSquared = elevationMetres is { } elevation ? elevation * elevation : double.PositiveInfinity;
        _couplantSquared = couplantMetresPerSecond * couplantMetresPerSecond;
        _metalSquared = metalMetresPerSecond * metalMetresPerSecond;
    }

    /// <summary>Delay of an echo against a plane wave; negative where it arrives early.</summary>
    /// <param name="couplantSeconds">Round trip in the couplant.</param>
    /// <param name="metalSeconds">Round trips in the metal, together.</param>
    /// <returns>Seconds.</returns>
    public double Seconds(double couplantSeconds, double metalSeconds)
    {
        double spread = (Math.Max(0, couplantSeconds) * _couplantSquared + metalSeconds * _metalSquared) / _frequencyHz;
        double phase = Phase(spread / _apertureSquared);
        if (double.IsFinite(_elevationSquared))
            phase += Phase(spread / _elevationSquared);
        return phase / (2 * Math.PI * _frequencyHz);
    }

    /// <summary>Phase of D(S), radians, continuous from small S; linear in the table, the edge value outside.</summary>
    internal static double Phase(double argument)
    {
        double[] table = Phases.Value;
        double position =
            (Math.Clamp(argument, SmallestArgument, LargestArgument) - SmallestArgument)
            / (LargestArgument - SmallestArgument)
            * (Nodes - 1);
        int index = Math.Min((int)position, Nodes - 2);
        return table[index] + (position - index) * (table[index + 1] - table[index]);
    }

    private static double[] Tabulate()
    {
        var phases = new double[Nodes];
        double previous = 0;
        for (int node = 0; node < Nodes; node++)
        {
            double s = SmallestArgument + node * (LargestArgument - SmallestArgument) / (Nodes - 1);
            (double real, double imaginary) = Integral(s);
            double phase = Math.Atan2(imaginary, real) - Math.PI / 4;
            if (node > 0)
                phase += 2 * Math.PI * Math.Round((previous - phase) / (2 * Math.PI));
            phases[node] = previous = phase;
        }
        return phases;
    }

    /// <summary>Simpson's rule with at least 16 intervals for each turn of the phase.</summary>
    private static (double Real, double Imaginary) Integral(double s)
    {
        int intervals = 2 * (int)Math.Ceiling(Math.Max(24, 12 / s));
        double real = 0;
        double imaginary = 0;
        for (int k = 0; k <= intervals; k++)
        {
            double v = (double)k / intervals;
            double weight =
                (
                    k == 0 || k == intervals ? 1
                    : k % 2 == 1 ? 4
                    : 2
                ) * (1 - v);
            (double sine, double cosine) = Math.SinCos(Math.PI * v * v / s);
            real += weight * cosine;
            imaginary += weight * sine;
        }
        return (real, imaginary);
    }
}
