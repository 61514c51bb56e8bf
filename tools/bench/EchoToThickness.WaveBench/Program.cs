using System.Globalization;
using EchoToThickness.Signals;
using EchoToThickness.Simulation.Fields;
using EchoToThickness.Simulation.Instruments;
using EchoToThickness.Simulation.Random;
using EchoToThickness.Simulation.Scenes;
using EchoToThickness.Simulation.Waves;

// Processor time of the echo model, alone and with white noise added, by kind of cell. Each line is the best of five rounds.
CultureInfo.CurrentCulture = CultureInfo.InvariantCulture;
const int Samples = 1000;
const double RateHz = 100e6;
int cells = args.Length > 0 ? int.Parse(args[0], CultureInfo.InvariantCulture) : 2000;
var settings = new WaveSettings
{
    Pulse = WavePulse.Gabor(7e6, 0.6),
    NominalCouplantMetres = 4e-3,
    NominalWallMetres = 8e-3,
    AttenuationDecibelsPerMetre = 10,
};
Run("flat", settings, (_, _) => { });
Run("flat, couplant multiples", settings with { FaceReflection = 0.2 }, (_, _) => { });
Run("flat, painted", settings, (cell, _) => cell.Paint = new CoatHit(0.3e-3, 2500, 1500, 2000));
Run("rough 0.1 mm", settings, (cell, model) => Roughen(cell, model, 0.1e-3f));
Run("rough 0.4 mm", settings, (cell, model) => Roughen(cell, model, 0.4e-3f));
Run("rough 0.1 mm, plane waves", settings with { Diffraction = false }, (cell, model) => Roughen(cell, model, 0.1e-3f));
RunNoise();
return;

// Noise alone, in turns: white, and behind the receiver's filter.
void RunNoise()
{
    var receiver = new ReceiverNoise(new ReceiverBand(1.4e6, 15.4e6), RateHz, 0.002, KernelPaths.Best);
    var samples = new float[Samples];
    (double white, double band) = (double.PositiveInfinity, double.PositiveInfinity);
    for (int round = 0; round < 9; round++)
    {
        TimeSpan start = Environment.CpuUsage.TotalTime;
        for (int i = 0; i < 10 * cells; i++)
            NormalNoise.Add(samples, 0.002f, 1, (ulong)i);
        white = Math.Min(white, (Environment.CpuUsage.TotalTime - start).TotalSeconds);
        start = Environment.CpuUsage.TotalTime;
        for (int i = 0; i < 10 * cells; i++)
            receiver.Add(samples, 1, (ulong)i);
        band = Math.Min(band, (Environment.CpuUsage.TotalTime - start).TotalSeconds);
    }
    Console.WriteLine(
        $"noise of {Samples} samples: white {1e5 * white / cells:f1} us, receiver's band ({receiver.Taps.Count} taps) {1e5 * band / cells:f1} us"
    );
}

void Run(string name, WaveSettings with, Action<CellView, WaveModel> prepare)
{
    var model = new WaveModel(with);
    WaveWorkspace workspace = model.CreateWorkspace();
    var cell = new CellView();
    cell.Reset();
    cell.ThicknessMetres = 8e-3;
    cell.CouplantMetres = 4e-3;
    prepare(cell, model);
    var samples = new float[Samples];
    double best = double.PositiveInfinity;
    double bestClean = double.PositiveInfinity;
    for (int round = 0; round < 5; round++)
    {
        TimeSpan start = Environment.CpuUsage.TotalTime;
        Echoes(0);
        bestClean = Math.Min(bestClean, (Environment.CpuUsage.TotalTime - start).TotalSeconds);
        start = Environment.CpuUsage.TotalTime;
        Echoes(0.002f);
        best = Math.Min(best, (Environment.CpuUsage.TotalTime - start).TotalSeconds);
    }
    Console.WriteLine(
        $"{name, -28} {1e6 * bestClean / cells, 8:f1} us echoes {1e6 * best / cells, 8:f1} us with noise {cells / best, 10:f0} A-scans/s a thread"
    );

    void Echoes(float noise)
    {
        for (int i = 0; i < cells; i++)
        {
            samples.AsSpan().Clear();
            cell.CouplantMetres = 4e-3 + 1e-7 * i;
            model.AddEchoes(cell, 4e-6, RateHz, samples, workspace, out _);
            if (noise > 0)
                CounterNoise.AddNormal(samples, noise, 1, (ulong)i);
        }
    }
}

static void Roughen(CellView cell, WaveModel model, float rmsMetres)
{
    FootprintPatch patch = model.Patch;
    Span<float> metal = cell.SetPatch(
        patch.CountAlong,
        patch.CountAround,
        patch.SpacingAlongMetres,
        patch.SpacingAroundMetres
    );
    metal.Fill(8e-3f);
    CounterNoise.AddNormal(metal, rmsMetres, 7, 1);
}
