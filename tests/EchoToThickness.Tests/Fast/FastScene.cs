using System.Runtime.InteropServices;
using EchoToThickness.Evidence;
using EchoToThickness.Grids;
using EchoToThickness.Measurement;
using EchoToThickness.Procedures;
using EchoToThickness.Stacks;
using EchoToThickness.Velocity;

namespace EchoToThickness.Tests.Fast;

/// <summary>Stacks and plans for the fast measurers: pulse-echo records as the speed benchmark has them, and records of every nasty kind.</summary>
internal static class FastScene
{
    public const double Rate = 100e6;
    public const double Start = 1.5e-6;

    public static string ProcedureFile(string name)
    {
        for (string? at = AppContext.BaseDirectory; at is not null; at = Path.GetDirectoryName(at))
        {
            string file = Path.Combine(at, "testdata", "procedures", name);
            if (File.Exists(file))
                return file;
        }
        throw new FileNotFoundException(name);
    }

    public static Procedure Read(string name) => ProcedureText.Parse(File.ReadAllText(ProcedureFile(name)), name);

    /// <summary>Adds an echo of the benchmark: 7.5 MHz, 60 % bandwidth, sigma 8.3 samples.</summary>
    public static void Echo(Span<float> x, double centreSample, double amplitude)
    {
        for (int i = Math.Max(0, (int)centreSample - 60); i < Math.Min(x.Length, centreSample + 60); i++)
        {
            double t = i - centreSample;
            x[i] += (float)(amplitude * Math.Exp(-0.5 * t * t / (8.33 * 8.33)) * Math.Cos(2 * Math.PI * 0.075 * t));
        }
    }

    /// <summary>Shape [scan, beam, sample]: interface and wall echoes with noise; of every ten A-scans some are spoilt in one way each.</summary>
    public static float[] Records(int cells, int samples, int seed)
    {
        var random = new Random(seed);
        var all = new float[cells * samples];
        for (int cell = 0; cell < cells; cell++)
        {
            Span<float> x = all.AsSpan(cell * samples, samples);
            double sync = 60 + 150 * random.NextDouble();
            double wall = 84 + 220 * random.NextDouble();
            double strength = 0.5 + 0.4 * random.NextDouble();
            int kind = cell % 10;
            double noise = kind == 1 ? 0.1 : 0.004;
            Echo(x, sync, kind == 2 ? 0.2 : strength);
            for (int n = 1; n <= 6; n++)
                Echo(x, sync + n * wall, (kind == 3 ? -0.04 : -0.35) * Math.Exp(-0.46 * (n - 1)));
            if (kind == 4)
                Echo(x, sync + 0.5 * wall, 0.349);
            if (kind == 5)
                Echo(x, sync + wall * random.NextDouble(), 0.6);
            if (kind == 6)
                Echo(x, sync + 57 + 4 * random.NextDouble(), 0.5);
            if (kind == 7)
                Echo(x, 20 + 4 * random.NextDouble(), 0.9);
            for (int i = 0; i < samples; i++)
            {
                x[i] += (float)(noise * 2 * (random.NextDouble() - 0.5));
                if (kind == 8)
                    x[i] = (float)(random.NextDouble() - 0.5);
                if (kind == 9 && cell % 20 == 9)
                    x[i] = Math.Clamp(4 * x[i], -1, 1);
                if (kind == 9 && cell % 20 == 19)
                    x[i] = 0;
            }
        }
        return all;
    }

    public static MemoryAScanSource Stack(float[] records, int scans, int beams, SampleType type, double zeroCounts = 0)
    {
        int samples = records.Length / (scans * beams);
        AmplitudeScale scale = AmplitudeScale.For(type) with { ZeroCounts = zeroCounts };
        if (type is SampleType.UInt8 or SampleType.UInt16)
            scale = AmplitudeScale.For(type);
        var info = new StackInfo
        {
            Name = "test",
            Shape = new StackShape(scans, beams, samples),
            SampleType = type,
            TimeBase = new TimeBase { SampleRateHz = Rate, StartSeconds = Start },
            Amplitude = scale,
        };
        double[] counts = records.Select(v => v * scale.FullScaleCounts + scale.ZeroCounts).ToArray();
        return type switch
        {
            SampleType.Int8 => From(info, counts.Select(v => (sbyte)Math.Clamp(Math.Round(v), -128, 127)).ToArray()),
            SampleType.UInt8 => From(info, counts.Select(v => (byte)Math.Clamp(Math.Round(v), 0, 255)).ToArray()),
            SampleType.Int16 => From(
                info,
                counts.Select(v => (short)Math.Clamp(Math.Round(v), -32768, 32767)).ToArray()
            ),
            SampleType.UInt16 => From(info, counts.Select(v => (ushort)Math.Clamp(Math.Round(v), 0, 65535)).ToArray()),
            SampleType.Float32 => From(info, counts.Select(v => (float)v).ToArray()),
            _ => From(info, counts),
        };
    }

    public static MeasurementPlan Plan(Procedure procedure, StackInfo info) =>
        MeasurementPlan.Compile(
            procedure,
            info,
            new ResolvedVelocity
            {
                MetresPerSecond = 5920,
                UncertaintyMetresPerSecond = 10,
                Source = "test",
            }
        );

    public static GridTile Measure(LineMeasurer measurer, IAScanSource source, MeasurementPlan plan)
    {
        StackShape shape = source.Info.Shape;
        var tile = new GridTile((int)shape.Cells, plan.Layers);
        tile.Place(0, shape.Scans, 0, shape.Beams);
        using IAScanReader reader = source.OpenReader();
        measurer.Measure(reader.Lend(0, shape.Scans, 0, shape.Beams), tile, (InterfaceStrip?)null);
        return tile;
    }

    private static MemoryAScanSource From<T>(StackInfo info, T[] samples)
        where T : unmanaged => new(info, MemoryMarshal.AsBytes(samples.AsSpan()).ToArray());
}
