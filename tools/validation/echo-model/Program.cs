using System.Runtime.InteropServices;
using System.Text.Json;
using EchoToThickness.EchoModel;
using EchoToThickness.Simulation.Fields;
using EchoToThickness.Simulation.Waves;

// Reads cases (one JSON object a line) and writes the A-scans of the echo model as 32-bit floats, one after the other.
if (args.Length != 2)
{
    Console.Error.WriteLine("Usage: EchoModel CASES.jsonl OUT.f32");
    return 2;
}
using FileStream output = File.Create(args[1]);
WaveModel? model = null;
WaveWorkspace? workspace = null;
CellCase? last = null;
var cell = new CellView();
foreach (string line in File.ReadLines(args[0]))
{
    CellCase one = JsonSerializer.Deserialize<CellCase>(line)!;
    bool same =
        last is not null
        && last.Pulse.AsSpan().SequenceEqual(one.Pulse)
        && (last.Aperture, last.Elevation, last.Face, last.Conformal)
            == (one.Aperture, one.Elevation, one.Face, one.Conformal);
    if (!same)
    {
        model = new WaveModel(
            new WaveSettings
            {
                Pulse = WavePulse.Measured(one.Pulse, one.PulseRate, one.PulseCentre),
                ApertureMetres = one.Aperture,
                ElevationMetres = one.Elevation ?? double.PositiveInfinity,
                NominalCouplantMetres = one.Couplant,
                NominalWallMetres = one.Wall,
                FaceReflection = one.Face,
                IsConformal = one.Conformal,
                InterfaceAmplitudeFraction = 1,
            }
        );
        workspace = model.CreateWorkspace();
        last = one;
    }
    cell.Reset();
    cell.CouplantMetres = one.Couplant;
    cell.ThicknessMetres = one.Wall;
    cell.TiltAroundRadians = one.Tilt;
    cell.RadiusAroundMetres = one.Radius ?? double.PositiveInfinity;
    cell.CoupledFraction = one.Coupled;
    if (one.Paint > 0)
        cell.Paint = new CoatHit(one.Paint, 2500, 1200, 0);
    if (one.LaminationCover > 0)
    {
        cell.Lamination = new LaminarHit(one.LaminationDepth, 1);
        cell.LaminationCover = one.LaminationCover;
    }
    if (one.Patch.Length > 0)
        one.Patch.CopyTo(cell.SetPatch(one.PatchAlong, one.PatchAround, one.Spacing, one.Spacing));
    var samples = new float[one.Samples];
    model!.AddEchoes(cell, one.Start, one.Rate, samples, workspace!, out _);
    output.Write(MemoryMarshal.AsBytes(samples.AsSpan()));
}
return 0;
