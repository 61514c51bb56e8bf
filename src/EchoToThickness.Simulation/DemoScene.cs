using EchoToThickness.Stacks;

namespace EchoToThickness.Simulation;

/// <summary>
/// A scan of the plain echo train, for tests of figures and files: a patch of a pipe bend with smooth thinning, three pits, a strip of machined steps of known
/// wall, a laminar reflector, a bubble in the couplant, a strip that nobody scanned and scattered drop-outs. 160 x 128 cells of 1 mm.
/// </summary>
public static class DemoScene
{
    /// <summary>Makes the scenario.</summary>
    /// <param name="seed">Seed of noise and drop-outs.</param>
    public static EchoTrainSource Create(ulong seed = 20) =>
        new(
            new EchoTrainScene
            {
                Name = "demo bend patch",
                Seed = seed,
                Wall = new WallMap
                {
                    NominalMetres = 9.0e-3,
                    Thinnings = [new Thinning(0.085, 0.070, 0.032, 0.024, 2.2e-3)],
                    Pits =
                    [
                        new Pit(0.058, 0.060, 0.0090, 2.6e-3),
                        new Pit(0.105, 0.088, 0.0065, 1.8e-3),
                        new Pit(0.128, 0.040, 0.0050, 1.2e-3),
                    ],
                    Steps =
                    [
                        new MachinedStep(new PlanRectangle(0, 0.040, 0, 0.010), 5.0e-3),
                        new MachinedStep(new PlanRectangle(0.040, 0.080, 0, 0.010), 6.5e-3),
                        new MachinedStep(new PlanRectangle(0.080, 0.120, 0, 0.010), 8.0e-3),
                        new MachinedStep(new PlanRectangle(0.120, 0.160, 0, 0.010), 9.5e-3),
                    ],
                },
                Couplant = new CouplantPath(3.3e-3, 0.25e-3, 0.11, 1.5e-3, 0.02e-3),
                CouplantMultipleDecibels = -22,
                NoiseFraction = 0.0025,
                DropOutFraction = 0.004,
                LostCoupling = [new PlanRectangle(0.138, 0.150, 0.090, 0.108)],
                NotScanned = [new PlanRectangle(0.030, 0.034, 0.060, 0.128)],
                LaminarPatches = [new LaminarPatch(new PlanRectangle(0.014, 0.026, 0.030, 0.046), 4.1e-3, 0.35)],
            },
            new ComponentFacts
            {
                Kind = ComponentKind.Elbow,
                OutsideDiameterMetres = 0.2191,
                NominalWallMetres = 9.0e-3,
                BendRadiusMetres = 0.3048,
                BendAngleRadians = Math.PI / 2,
            }
        );
}
