using EchoToThickness.Procedures;
using EchoToThickness.Stacks;

namespace EchoToThickness.Benchmarks;

/// <summary>A-scans like those of the benchmark stack: 1000 samples, interface, six back-wall echoes, noise.</summary>
internal static class Records
{
    public static short[] Words(int cells, int samples, int seed = 1)
    {
        var random = new Random(seed);
        var words = new short[cells * samples];
        for (int cell = 0; cell < cells; cell++)
        {
            double sync = 60 + 180 * random.NextDouble();
            double wall = 84 + 220 * random.NextDouble();
            for (int i = 0; i < samples; i++)
            {
                double x = 0.008 * (random.NextDouble() - 0.5) + Pulse(i - sync, 0.7);
                for (int n = 1; n <= 6; n++)
                    x += Pulse(i - sync - n * wall, -0.35 * Math.Exp(-0.46 * (n - 1)));
                words[cell * samples + i] = (short)Math.Round(32767 * Math.Clamp(x, -1, 1));
            }
        }
        return words;
    }

    public static float[] Fractions(int cells, int samples) => Words(cells, samples).Select(w => w / 32767f).ToArray();

    public static StackInfo Info(int beams, int samples) =>
        new()
        {
            Name = "benchmark",
            Shape = new StackShape(1, beams, samples),
            SampleType = SampleType.Int16,
            TimeBase = new TimeBase { SampleRateHz = 100e6, StartSeconds = 1.5e-6 },
            Amplitude = AmplitudeScale.For(SampleType.Int16),
        };

    public static Procedure Procedure(string name)
    {
        for (string? at = AppContext.BaseDirectory; at is not null; at = Path.GetDirectoryName(at))
        {
            string file = Path.Combine(at, "testdata", "procedures", name);
            if (File.Exists(file))
                return ProcedureText.Parse(File.ReadAllText(file), file);
        }
        throw new FileNotFoundException(
            $"testdata/procedures/{name} is in no folder above {AppContext.BaseDirectory}."
        );
    }

    private static double Pulse(double t, double amplitude) =>
        Math.Abs(t) > 60 ? 0 : amplitude * Math.Exp(-0.5 * t * t / (8.33 * 8.33)) * Math.Cos(2 * Math.PI * 0.075 * t);
}
