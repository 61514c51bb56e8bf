using EchoToThickness.Simulation;
using EchoToThickness.Simulation.Random;
using EchoToThickness.Uncertainty;

namespace EchoToThickness.EstimatorStudy;

/// <summary>
/// Records of an exact plate: steel under water over air, plane waves, couplant without end. The closed form of the layered medium is a
/// geometric series: interface R, back-wall echo n <c>-(1 - R^2) (R l)^(n-1) l</c>, l the loss at the far wall.
/// </summary>
internal sealed class PlateRecord
{
    public const double VelocityMetresPerSecond = 5920;
    public const int FrontSample = 140;
    private const double Interface = 0.7;
    private readonly StudyOptions _options;
    private readonly GaborPulse _pulse;
    private readonly double _wall;
    private readonly double _decay;

    public PlateRecord(StudyOptions options)
    {
        _options = options;
        _pulse = new GaborPulse(options.FrequencyHz, options.BandwidthFraction);
        double reflection = new EchoTrainScene().InterfaceReflection;
        double loss = Math.Pow(10, -options.LossDecibels / 20);
        _wall = Interface * (1 - reflection * reflection) / reflection * loss;
        _decay = reflection * loss;
    }

    public double Noise(double decibels) => _wall / Math.Pow(10, decibels / 20);

    public double BoundMetres(double wallMetres, double decibels) =>
        CramerRao.ThicknessMetres(
            CramerRao.TrainSpacingSeconds(
                new GaussianPulse(_options.FrequencyHz, _options.BandwidthFraction),
                Interface,
                _wall,
                _decay,
                2 * wallMetres / VelocityMetresPerSecond,
                FrontSample / _options.SampleRateHz,
                (_options.Samples - 1 - FrontSample) / _options.SampleRateHz,
                Noise(decibels),
                _options.SampleRateHz
            ),
            VelocityMetresPerSecond
        );

    /// <summary>Makes one record; wall and interface move by up to one sample, so that every sub-sample place is met.</summary>
    /// <returns>Its true wall.</returns>
    public double Make(Span<float> samples, double wallMetres, double decibels, ulong record)
    {
        ulong stream =
            record + 1_000_003 * (ulong)Math.Round(1e6 * wallMetres) + 7919 * (ulong)Math.Round(10 * decibels + 500);
        double step = VelocityMetresPerSecond / (2 * _options.SampleRateHz);
        double wall = wallMetres + step * (CounterNoise.Uniform(_options.Seed, stream, 1) - 0.5);
        double front = (FrontSample + CounterNoise.Uniform(_options.Seed, stream, 2) - 0.5) / _options.SampleRateHz;
        double spacing = 2 * wall / VelocityMetresPerSecond;
        samples.Clear();
        _pulse.Add(samples, 0, _options.SampleRateHz, front, Interface);
        double amplitude = _wall;
        double end = samples.Length / _options.SampleRateHz + _pulse.ReachSeconds;
        for (double time = front + spacing; time < end; time += spacing, amplitude *= _decay)
            _pulse.Add(samples, 0, _options.SampleRateHz, time, -amplitude);
        CounterNoise.AddNormal(samples, Noise(decibels), _options.Seed + 17, stream);
        return wall;
    }
}
