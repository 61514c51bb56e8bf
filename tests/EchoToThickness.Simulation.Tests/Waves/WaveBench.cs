using System.Numerics;
using EchoToThickness.Simulation.Waves;

namespace EchoToThickness.Simulation.Tests.Waves;

/// <summary>A model, one cell and its A-scan, for tests.</summary>
internal sealed class WaveBench
{
    public const double RateHz = 100e6;
    public const double StartSeconds = 1e-6;

    public WaveBench(WaveSettings settings)
    {
        Model = new WaveModel(settings);
        Workspace = Model.CreateWorkspace();
        Cell.Reset();
        Cell.CouplantMetres = settings.NominalCouplantMetres;
        Cell.ThicknessMetres = settings.NominalWallMetres;
    }

    public static WaveSettings Settings { get; } =
        new()
        {
            Pulse = WavePulse.Gabor(7e6, 0.6),
            NominalCouplantMetres = 4e-3,
            NominalWallMetres = 8e-3,
        };

    public WaveModel Model { get; }

    public WaveWorkspace Workspace { get; }

    public CellView Cell { get; } = new();

    public EchoFacts Facts { get; private set; }

    public float[] Record(int samples = 1200)
    {
        var record = new float[samples];
        Model.AddEchoes(Cell, StartSeconds, RateHz, record, Workspace, out EchoFacts facts);
        Facts = facts;
        return record;
    }

    /// <summary>Spectrum of the echo around a time, as integral x(t) exp(+i 2 pi f (t - t0)) dt: the model's own convention.</summary>
    public static Complex SpectrumAt(ReadOnlySpan<float> record, double timeSeconds, double halfSeconds, double hertz)
    {
        Complex sum = Complex.Zero;
        for (int i = 0; i < record.Length; i++)
        {
            double t = StartSeconds + i / RateHz - timeSeconds;
            if (Math.Abs(t) <= halfSeconds)
                sum += record[i] * Complex.FromPolarCoordinates(1, 2 * Math.PI * hertz * t);
        }
        return sum / RateHz;
    }
}
