using EchoToThickness.Simulation;

namespace EchoToThickness.EndToEnd.Tests;

/// <summary>A small simulated stack with a pit, drop-outs, lost coupling and a hole in the scan, in a folder of its own.</summary>
public sealed class SmallScan : IDisposable
{
    public const int Scans = 24;
    public const int Beams = 18;

    public SmallScan()
    {
        Folder = Directory.CreateTempSubdirectory("ett-end").FullName;
        Stack = In("scan.h5");
        EchoTrainStack.Write(
            new EchoTrainSource(
                new EchoTrainScene
                {
                    Name = "small scan",
                    Scans = Scans,
                    Beams = Beams,
                    Wall = new WallMap { NominalMetres = 8e-3, Pits = [new Pit(0.012, 0.009, 0.007, 2e-3)] },
                    Couplant = new CouplantPath(3.2e-3, 0.1e-3, 0.05),
                    DropOutFraction = 0.02,
                    LostCoupling = [new PlanRectangle(0.018, 0.021, 0.012, 0.016)],
                    NotScanned = [new PlanRectangle(0.002, 0.004, 0, 0.006)],
                    Seed = 5,
                }
            ),
            Stack
        );
    }

    public string Folder { get; }

    public string Stack { get; }

    public string In(string name) => Path.Combine(Folder, name);

    public void Dispose() => Directory.Delete(Folder, recursive: true);
}
