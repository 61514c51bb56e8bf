using EchoToThickness.Simulation;

namespace EchoToThickness.WorkbenchBench;

/// <summary>The stack that is measured and pictured: 400 x 256 = 102,400 A-scans of 1,000 samples, all of it invented.</summary>
internal static class BenchScene
{
    public static EchoTrainScene Scene { get; } =
        new()
        {
            Name = "plate",
            Scans = 400,
            Beams = 256,
            Samples = 1000,
            Seed = 4,
            Wall = new WallMap
            {
                NominalMetres = 9e-3,
                Thinnings = [new Thinning(0.25, 0.12, 0.07, 0.05, 3e-3)],
                Pits =
                [
                    new Pit(0.1, 0.06, 0.012, 3e-3),
                    new Pit(0.13, 0.16, 0.009, 2.2e-3),
                    new Pit(0.33, 0.2, 0.007, 1.5e-3),
                ],
                Steps = [new MachinedStep(new PlanRectangle(0.02, 0.07, 0.2, 0.24), 5e-3)],
            },
            Couplant = new CouplantPath(3.3e-3, 0.25e-3, 0.11, 1.5e-3, 0.02e-3),
            CouplantMultipleDecibels = -22,
            NoiseFraction = 0.0025,
            DropOutFraction = 0.004,
            LostCoupling = [new PlanRectangle(0.30, 0.34, 0.02, 0.05)],
            NotScanned = [new PlanRectangle(0.20, 0.206, 0.15, 0.256)],
            LaminarPatches = [new LaminarPatch(new PlanRectangle(0.05, 0.08, 0.10, 0.13), 4.1e-3, 0.35)],
        };
}
