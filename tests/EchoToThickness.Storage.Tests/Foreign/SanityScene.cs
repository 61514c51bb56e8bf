using EchoToThickness.Stacks;

namespace EchoToThickness.Storage.Tests.Foreign;

/// <summary>
/// A stack with nothing wrong: Gaussian pulse of 7.5 MHz and 60 % bandwidth, interface echo at 2 to 4 us, steel wall of 5 to 7 mm, three
/// inverted back-wall echoes 12 dB below and falling by 4 dB, noise 40 dB below the interface echo, 100 MS/s, int16. Seeded.
/// </summary>
internal sealed class SanityScene
{
    public const int Scans = 36;
    public const int Beams = 24;
    public const int Samples = 1100;
    public const double Velocity = 5920;
    public const double NominalWall = 6e-3;

    public SanityScene()
    {
        Random random = new(20240611);
        Counts = new short[Scans * Beams * Samples];
        // Relative bandwidth b at -6 dB: spectrum exp(-(f - f0)^2 / (2 s^2)) with s = b f0 / (2 sqrt(2 ln 2)); time width 1/(2 pi s).
        double s = 0.6 * 7.5e6 / (2 * Math.Sqrt(2 * Math.Log(2)));
        double width = 1 / (2 * Math.PI * s);
        for (int scan = 0; scan < Scans; scan++)
        {
            for (int beam = 0; beam < Beams; beam++)
            {
                double first = 3e-6 + 0.8e-6 * Math.Sin(0.1 * scan) + 0.2e-6 * Math.Cos(0.15 * beam);
                double wall = NominalWall + 0.6e-3 * Math.Sin(0.12 * scan + 1) + 0.3e-3 * Math.Sin(0.2 * beam);
                Span<short> a = Counts.AsSpan((scan * Beams + beam) * Samples, Samples);
                for (int i = 0; i < Samples; i++)
                {
                    double t = 1.5e-6 + i * 1e-8;
                    double value = Pulse(t - first);
                    for (int n = 1; n <= 3; n++)
                        value -= Math.Pow(10, -(12 + 4 * (n - 1)) / 20.0) * Pulse(t - first - n * 2 * wall / Velocity);
                    double noise =
                        Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
                    a[i] = (short)Math.Round(22000 * (value + 0.01 * noise));
                }
            }
        }

        double Pulse(double t) => Math.Exp(-t * t / (2 * width * width)) * Math.Cos(2 * Math.PI * 7.5e6 * t);
    }

    /// <summary>Shape [scan, beam, sample].</summary>
    public short[] Counts { get; }

    public StackInfo Info { get; } =
        new()
        {
            Name = "scene",
            Shape = new StackShape(Scans, Beams, Samples),
            SampleType = SampleType.Int16,
            TimeBase = new TimeBase { SampleRateHz = 100e6, StartSeconds = 1.5e-6 },
            Amplitude = AmplitudeScale.For(SampleType.Int16),
            Acquisition = new AcquisitionFacts { FrequencyHz = 7.5e6, VelocityMetresPerSecond = Velocity },
            Component = new ComponentFacts { NominalWallMetres = NominalWall },
            ScanPositionsMetres = [.. Enumerable.Range(0, Scans).Select(i => i * 1e-3)],
            IndexPositionsMetres = [.. Enumerable.Range(0, Beams).Select(i => i * 1e-3)],
        };

    /// <summary>The samples with one function applied to each.</summary>
    public T[] Map<T>(Func<short, T> convert) => Array.ConvertAll(Counts, c => convert(c));

    /// <summary>Element order [a, b, c] of extents; axes name which of scan 0, beam 1, sample 2 comes first, second, last.</summary>
    public short[] Permuted(int first, int second, int third)
    {
        int[] extent = [Scans, Beams, Samples];
        int[] stride = [Beams * Samples, Samples, 1];
        short[] result = new short[Counts.Length];
        int at = 0;
        for (int a = 0; a < extent[first]; a++)
        for (int b = 0; b < extent[second]; b++)
        for (int c = 0; c < extent[third]; c++)
            result[at++] = Counts[a * stride[first] + b * stride[second] + c * stride[third]];
        return result;
    }
}
