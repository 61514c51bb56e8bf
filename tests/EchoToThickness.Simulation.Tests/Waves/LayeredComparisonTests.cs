using EchoToThickness.Simulation.Fields;
using EchoToThickness.Simulation.Layers;
using EchoToThickness.Simulation.Scenes;
using EchoToThickness.Simulation.Waves;
using Xunit;

namespace EchoToThickness.Simulation.Tests.Waves;

/// <summary>
/// The sum of echoes against the exact layered medium, which knows no single echoes. Plane waves; interface amplitude 0.7. The bounds are what the model leaves
/// out: the cut spectrum (2e-4 of the strongest echo) and, with coats, rounds weaker than 1/1000.
/// </summary>
public sealed class LayeredComparisonTests
{
    private const int Samples = 1400;
    private static readonly LayeredAScan Record = new(7e6, 0.6, 0, WaveBench.RateHz, WaveBench.StartSeconds, Samples);

    [Theory]
    [InlineData(8e-3, 4e-3, 0.0)]
    [InlineData(3.1e-3, 2.5e-3, 0.25)]
    [InlineData(6e-3, 3e-3, -0.4)]
    public void BareSteel_AgreesWithTheExactMedium(double wall, double couplant, double face)
    {
        var bench = Bench(wall, couplant, face);
        Compare(bench, new LayeredPlate(Record) { FaceReflection = face }, 3e-4);
    }

    [Theory]
    [InlineData(0.1e-3)]
    [InlineData(0.3e-3)]
    [InlineData(0.6e-3)]
    public void PaintedSteel_AgreesWithTheExactMedium(double paint)
    {
        var bench = Bench(6e-3, 3e-3, 0.2);
        bench.Cell.Paint = new CoatHit(paint, 2500, 1500, 0);
        var plate = new LayeredPlate(Record)
        {
            FaceReflection = 0.2,
            Coats = [new MediumLayer(new LayerMaterial(2500, 1500), paint)],
        };
        Compare(bench, plate, 1.5e-3);
    }

    [Fact]
    public void PaintOverScale_AgreesWithTheExactMedium()
    {
        var bench = Bench(7e-3, 3e-3, 0);
        bench.Cell.Paint = new CoatHit(0.25e-3, 2400, 1400, 0);
        bench.Cell.Scale = new CoatHit(0.2e-3, 4500, 4000, 0);
        var plate = new LayeredPlate(Record)
        {
            Coats =
            [
                new MediumLayer(new LayerMaterial(2400, 1400), 0.25e-3),
                new MediumLayer(new LayerMaterial(4500, 4000), 0.2e-3),
            ],
        };
        Compare(bench, plate, 2e-3);
    }

    /// <summary>
    /// A thick deposit without attenuation is the worst case: its rounds die slowly, and in the second and later back walls those more than 13 us late fold back
    /// into the record. 1 % of full scale is left of that; the first 10 us are free of it.
    /// </summary>
    [Theory]
    [InlineData(0.3e-3, Samples, 2e-3)]
    [InlineData(1.5e-3, 850, 3e-4)]
    [InlineData(1.5e-3, Samples, 1e-2)]
    public void DepositBehindTheWall_AgreesWithTheExactMedium(double thickness, int samples, double tolerance)
    {
        var bench = Bench(6e-3, 3e-3, 0);
        bench.Cell.Deposit = new CoatHit(thickness, 3500, 3500, 0);
        var plate = new LayeredPlate(Record) { Deposits = [new MediumLayer(new LayerMaterial(3500, 3500), thickness)] };
        Compare(bench, plate, tolerance, samples);
    }

    [Fact]
    public void LiquidBehindTheWall_AgreesWithTheExactMedium()
    {
        var bench = Bench(6e-3, 3e-3, 0);
        bench.Cell.Inner = InnerMedium.Liquid;
        Compare(bench, new LayeredPlate(Record) { Backing = new LayerMaterial(1480, 1000) }, 3e-4);
    }

    private static WaveBench Bench(double wall, double couplant, double face)
    {
        var bench = new WaveBench(WaveBench.Settings with { Diffraction = false, FaceReflection = face });
        bench.Cell.ThicknessMetres = wall;
        bench.Cell.CouplantMetres = couplant;
        return bench;
    }

    private static void Compare(WaveBench bench, LayeredPlate plate, double tolerance, int samples = Samples)
    {
        float[] record = bench.Record(Samples);
        var exact = new double[Samples];
        plate.Render(bench.Cell.CouplantMetres, bench.Cell.ThicknessMetres, exact);
        double scale = 0.7 / bench.Model.Settings.InterfaceReflection;
        double worst = 0;
        for (int i = 0; i < samples; i++)
            worst = Math.Max(worst, Math.Abs(record[i] - scale * exact[i]));
        Assert.True(worst < tolerance, $"largest difference {worst:g3} of full scale");
    }
}
