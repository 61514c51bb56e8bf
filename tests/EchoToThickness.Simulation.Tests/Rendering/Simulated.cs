using System.Runtime.InteropServices;
using EchoToThickness.Simulation.Rendering;
using EchoToThickness.Simulation.Scenes;
using EchoToThickness.Stacks;

namespace EchoToThickness.Simulation.Tests.Rendering;

/// <summary>One cell of a scene as fractions of full scale, with its truth, for tests.</summary>
internal sealed class Simulated
{
    public required float[] Samples { get; init; }
    public required CellTruth Truth { get; init; }
    public required SceneTimeBase Time { get; init; }

    /// <summary>A quiet plate of 10 mm under 5 mm of water: interface at 6.757 us, back walls every 3.378 us.</summary>
    public const string Plate = """
        [component]
        kind = "plate"
        nominal_wall = "10 mm"
        length = "60 mm"
        width = "64 mm"
        [material]
        attenuation = "0 dB/mm"

        """;

    /// <summary>Without noise.</summary>
    public const string Quiet = "[instrument]\nnoise = \"0 %\"\n";

    public static SceneModel Model(string toml) => SceneModel.Compile(SceneText.Read(toml, "test.toml").Value);

    public static Simulated Cell(string toml, int line = 0, int scan = 30, int beam = 28) =>
        Cell(Model(toml), line, scan, beam);

    public static Simulated Cell(SceneModel model, int line = 0, int scan = 30, int beam = 28)
    {
        SceneRenderer renderer = model.CreateRenderer();
        var stored = new byte[renderer.StoredBytes];
        CellTruth truth = renderer.Render(line, scan, beam, stored);
        AmplitudeScale scale = model.Instrument.Amplitude;
        float[] samples =
            model.Instrument.SampleType == SampleType.Int8
                ? Array.ConvertAll(
                    MemoryMarshal.Cast<byte, sbyte>(stored).ToArray(),
                    s => (float)(s / scale.FullScaleCounts)
                )
                : Array.ConvertAll(
                    MemoryMarshal.Cast<byte, short>(stored).ToArray(),
                    s => (float)(s / scale.FullScaleCounts)
                );
        return new Simulated
        {
            Samples = samples,
            Truth = truth,
            Time = model.Time,
        };
    }

    /// <summary>The sample of largest magnitude within a window, with its sign.</summary>
    public double Peak(double aboutSeconds, double halfSeconds = 0.2e-6)
    {
        int from = Math.Max(0, (int)((aboutSeconds - halfSeconds - Time.StartSeconds) * Time.SampleRateHz));
        int to = Math.Min(
            Samples.Length,
            (int)((aboutSeconds + halfSeconds - Time.StartSeconds) * Time.SampleRateHz) + 1
        );
        double peak = 0;
        for (int i = from; i < to; i++)
            if (Math.Abs(Samples[i]) > Math.Abs(peak))
                peak = Samples[i];
        return peak;
    }

    /// <summary>Time of the largest magnitude within a window, refined by a parabola.</summary>
    public double PeakSeconds(double aboutSeconds, double halfSeconds = 0.2e-6)
    {
        int from = Math.Max(1, (int)((aboutSeconds - halfSeconds - Time.StartSeconds) * Time.SampleRateHz));
        int to = Math.Min(
            Samples.Length - 1,
            (int)((aboutSeconds + halfSeconds - Time.StartSeconds) * Time.SampleRateHz) + 1
        );
        int top = from;
        for (int i = from; i < to; i++)
            if (Math.Abs(Samples[i]) > Math.Abs(Samples[top]))
                top = i;
        double left = Math.Abs(Samples[top - 1]);
        double right = Math.Abs(Samples[top + 1]);
        double middle = Math.Abs(Samples[top]);
        return Time.StartSeconds + (top + 0.5 * (left - right) / (left - 2 * middle + right)) / Time.SampleRateHz;
    }
}
