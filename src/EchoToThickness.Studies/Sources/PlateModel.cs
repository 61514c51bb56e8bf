using EchoToThickness.Studies.StudyFiles;
using EchoToThickness.Uncertainty;
using MathNet.Numerics.LinearAlgebra;

namespace EchoToThickness.Studies.Sources;

/// <summary>The exact record of a lossless plane layer between couplant and gas, and the Cramér-Rao bound of its wall. Immutable.</summary>
/// <remarks>
/// With <c>R = (z - 1)/(z + 1)</c>, z the impedance ratio, normal incidence and a free far wall, the response of the layer is
/// <c>R δ(t - t₀) - (1 - R²) Σ R^(n-1) δ(t - t₀ - 2 n d/c)</c>: the sum is exact for a lossless layer (Brekhovskikh, Waves in Layered
/// Media, section on plane layers). Amplitudes are scaled so that the interface echo has <see cref="PlateSettings.InterfaceLevelFraction"/>.
/// </remarks>
public sealed class PlateModel
{
    private const double ReachDeviations = 6.5;
    private readonly PlateSettings _settings;
    private readonly GaussianPulse _pulse;
    private readonly double _reflection;

    /// <summary>Compiles the settings.</summary>
    /// <param name="settings">The plate.</param>
    public PlateModel(PlateSettings settings)
    {
        ArgumentNullException.ThrowIfNull(settings);
        _settings = settings;
        _pulse = new GaussianPulse(settings.FrequencyHz, settings.BandwidthFraction);
        _reflection = (settings.ImpedanceRatio - 1) / (settings.ImpedanceRatio + 1);
        double level = settings.InterfaceLevelFraction;
        double noisePerLevel = FirstWallPerInterface / Math.Pow(10, settings.SnrDecibels / 20);
        // Noise must not saturate a record whose echoes do not: full scale holds the interface and five standard deviations.
        if (level <= 1)
            level /= Math.Max(1, level * (1 + 5 * noisePerLevel));
        InterfaceLevel = level;
        NoiseFraction = level * noisePerLevel;
        Samples = (int)Math.Round(settings.DurationSeconds * settings.SampleRateHz);
        MeanInterfaceSeconds = 2 * settings.CouplantPathMetres / settings.CouplantVelocityMetresPerSecond;
        StartSeconds = MeanInterfaceSeconds - settings.LeadSeconds;
    }

    /// <summary>Samples of a record.</summary>
    public int Samples { get; }

    /// <summary>Time of sample 0, seconds from the pulse.</summary>
    public double StartSeconds { get; }

    /// <summary>Interface echo at the mean couplant path, seconds from the pulse.</summary>
    public double MeanInterfaceSeconds { get; }

    /// <summary>Peak of the interface echo, fraction of full scale; lowered where noise would saturate the record.</summary>
    public double InterfaceLevel { get; }

    /// <summary>Standard deviation of the noise, fraction of full scale.</summary>
    public double NoiseFraction { get; }

    /// <summary>Amplitude of back-wall echo 1 over that of the interface, a positive number.</summary>
    public double FirstWallPerInterface => (1 - _reflection * _reflection) / _reflection;

    /// <summary>Adds the noise-free record.</summary>
    /// <param name="samples">Shape [sample]; fraction of full scale; added to.</param>
    /// <param name="interfaceSeconds">Interface echo, seconds from the pulse.</param>
    /// <param name="wallMetres">The wall.</param>
    public void AddEchoes(Span<double> samples, double interfaceSeconds, double wallMetres)
    {
        double trip = 2 * wallMetres / _settings.VelocityMetresPerSecond;
        Add(samples, interfaceSeconds, InterfaceLevel, derivative: false);
        for (
            int order = 1;
            Amplitude(order) is var amplitude && Goes(interfaceSeconds, order, trip, amplitude);
            order++
        )
            Add(samples, interfaceSeconds + order * trip, -amplitude, derivative: false);
    }

    /// <summary>Cramér-Rao bound of the wall, standard deviation, metres.</summary>
    /// <param name="wallMetres">The wall.</param>
    /// <remarks>
    /// For the record: inverse of the Fisher information of interface time, round trip, interface amplitude and wall amplitude in white
    /// noise, pulse shape and decay known (Kay, Fundamentals of Statistical Signal Processing, 1993, section 3.9). For pairs: the two
    /// echoes as if far apart, see <see cref="CramerRao"/>.
    /// </remarks>
    public double BoundMetres(double wallMetres) => BoundMetres(wallMetres, _settings.Bound);

    /// <summary>The bound with another choice of echoes, metres.</summary>
    /// <param name="wallMetres">The wall.</param>
    /// <param name="choice">Which echoes it may use.</param>
    public double BoundMetres(double wallMetres, BoundChoice choice)
    {
        double rate = _settings.SampleRateHz;
        double velocity = _settings.VelocityMetresPerSecond;
        if (choice != BoundChoice.Record)
        {
            double first = choice == BoundChoice.InterfaceWall ? InterfaceLevel : Amplitude(2);
            double a = CramerRao.DelaySeconds(_pulse, first, NoiseFraction, rate);
            double b = CramerRao.DelaySeconds(_pulse, Amplitude(1), NoiseFraction, rate);
            return CramerRao.ThicknessMetres(Math.Sqrt(a * a + b * b), velocity);
        }
        double trip = 2 * wallMetres / velocity;
        // Columns: interface time and round trip in units of the pulse's deviation, amplitudes relative to themselves.
        double scale = _pulse.DeviationSeconds;
        var gradient = new double[4][];
        for (int i = 0; i < 4; i++)
            gradient[i] = new double[Samples];
        Add(gradient[0], MeanInterfaceSeconds, -InterfaceLevel * scale, derivative: true);
        Add(gradient[2], MeanInterfaceSeconds, InterfaceLevel, derivative: false);
        for (
            int order = 1;
            Amplitude(order) is var amplitude && Goes(MeanInterfaceSeconds, order, trip, amplitude);
            order++
        )
        {
            double arrival = MeanInterfaceSeconds + order * trip;
            Add(gradient[0], arrival, amplitude * scale, derivative: true);
            Add(gradient[1], arrival, order * amplitude * scale, derivative: true);
            Add(gradient[3], arrival, -amplitude, derivative: false);
        }
        Matrix<double> fisher = Matrix<double>.Build.Dense(
            4,
            4,
            (i, j) =>
            {
                double sum = 0;
                for (int n = 0; n < Samples; n++)
                    sum += gradient[i][n] * gradient[j][n];
                return sum;
            }
        );
        double variance = fisher.Inverse()[1, 1] * NoiseFraction * NoiseFraction * scale * scale;
        return variance > 0 && double.IsFinite(variance) ? velocity / 2 * Math.Sqrt(variance) : double.NaN;
    }

    private double Amplitude(int order) => InterfaceLevel * FirstWallPerInterface * Math.Pow(_reflection, order - 1);

    private bool Goes(double interfaceSeconds, int order, double trip, double amplitude) =>
        amplitude > 1e-9 * InterfaceLevel
        && interfaceSeconds + order * trip - ReachDeviations * _pulse.DeviationSeconds
            < StartSeconds + Samples / _settings.SampleRateHz;

    private void Add(Span<double> samples, double arrivalSeconds, double amplitude, bool derivative)
    {
        double rate = _settings.SampleRateHz;
        double reach = ReachDeviations * _pulse.DeviationSeconds;
        int first = (int)Math.Max(Math.Ceiling((arrivalSeconds - reach - StartSeconds) * rate), 0);
        int last = (int)Math.Min(Math.Floor((arrivalSeconds + reach - StartSeconds) * rate), Samples - 1);
        for (int n = first; n <= last; n++)
        {
            double time = StartSeconds + n / rate - arrivalSeconds;
            samples[n] += amplitude * (derivative ? _pulse.Derivative(time) : _pulse.Value(time));
        }
    }
}
