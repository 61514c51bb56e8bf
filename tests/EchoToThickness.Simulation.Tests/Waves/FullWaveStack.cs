using System.Runtime.InteropServices;
using EchoToThickness.Signals;
using EchoToThickness.Simulation.Tests.Layers;
using EchoToThickness.Simulation.Waves;
using EchoToThickness.Stacks;
using EchoToThickness.Storage.Foreign;

namespace EchoToThickness.Simulation.Tests.Waves;

/// <summary>One of the full-wave reference stacks with its truth in SI; and the pulse, taken from a flat interface echo.</summary>
internal sealed class FullWaveStack
{
    public const double CouplantVelocity = 1480;
    public const double SteelVelocity = 5920;
    private readonly IReadOnlyDictionary<string, double[]> _truth;
    private readonly short[] _counts;

    private FullWaveStack(IAScanSource source)
    {
        StackInfo info = source.Info;
        (Positions, Beams, Samples) = (info.Shape.Scans, info.Shape.Beams, info.Shape.Samples);
        (StartSeconds, RateHz) = (info.TimeBase.StartSeconds, info.TimeBase.SampleRateHz);
        var truth = (ITruthSource)source;
        _truth = truth.TruthLayers.ToDictionary(
            layer => layer,
            layer =>
            {
                double[] values = new double[info.Shape.Cells];
                truth.ReadTruth(layer, 0, info.Shape.Scans, values);
                return values;
            }
        );
        using IAScanReader reader = source.OpenReader();
        _counts = MemoryMarshal.Cast<byte, short>(reader.Lend(0, Positions, 0, Beams).Bytes).ToArray();
    }

    public int Positions { get; }

    public int Beams { get; }

    public int Samples { get; }

    public double StartSeconds { get; }

    public double RateHz { get; }

    public static FullWaveStack Open(string name)
    {
        using IAScanSource source = StackOpener
            .Open(
                Checks.PathOf("testdata", "fullwave", name + "_dev.h5"),
                Checks.PathOf("testdata", "layouts", "fullwave.toml")
            )[0]
            .Source;
        return new FullWaveStack(source);
    }

    public double Truth(string layer, int position, int beam) => _truth[layer][position * Beams + beam];

    public double InterfaceSeconds(int position, int beam) =>
        2 * Truth("couplant_path", position, beam) / CouplantVelocity;

    public double[] Record(int position, int beam) =>
        [.. _counts.AsSpan((position * Beams + beam) * Samples, Samples).ToArray().Select(c => (double)c)];

    /// <summary>The interface echo, cut out and moved so that its theoretical time falls on sample 100.</summary>
    public WavePulse Pulse(int position, int beam)
    {
        const int length = 4096;
        const int centre = 100;
        double[] real = new double[length];
        double[] imaginary = new double[length];
        double[] record = Record(position, beam);
        double interfaceSeconds = InterfaceSeconds(position, beam);
        for (int i = 0; i < record.Length; i++)
        {
            double t = StartSeconds + i / RateHz - interfaceSeconds;
            real[i] = record[i] * Math.Clamp(Math.Min((t + 0.7e-6) / 0.1e-6, (0.9e-6 - t) / 0.1e-6), 0, 1);
        }
        var transform = new FourierTransform(length);
        transform.Forward(real, imaginary);
        double shift = (interfaceSeconds - StartSeconds) * RateHz - centre;
        for (int k = 0; k < length; k++)
        {
            double turns = (k <= length / 2 ? k : k - length) * shift / length;
            (double sine, double cosine) = Math.SinCos(2 * Math.PI * turns);
            (real[k], imaginary[k]) =
                k == length / 2
                    ? (real[k] * cosine, 0)
                    : (real[k] * cosine - imaginary[k] * sine, real[k] * sine + imaginary[k] * cosine);
        }
        transform.Inverse(real, imaginary);
        return WavePulse.Measured([.. real.Take(2 * centre).Select(v => (float)v)], RateHz, centre);
    }

    /// <summary>Magnitude of the analytic signal, zeros assumed outside.</summary>
    public static double[] Envelope(double[] record)
    {
        int length = FourierTransform.LengthFor(record.Length);
        double[] real = new double[length];
        double[] imaginary = new double[length];
        record.CopyTo(real, 0);
        var transform = new FourierTransform(length);
        transform.Forward(real, imaginary);
        for (int k = 1; k < length; k++)
        {
            double factor =
                k < length / 2 ? 2
                : k == length / 2 ? 1
                : 0;
            real[k] *= factor;
            imaginary[k] *= factor;
        }
        transform.Inverse(real, imaginary);
        return
        [
            .. Enumerable
                .Range(0, record.Length)
                .Select(i => Math.Sqrt(real[i] * real[i] + imaginary[i] * imaginary[i])),
        ];
    }
}
