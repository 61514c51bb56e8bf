using EchoToThickness.Simulation;
using EchoToThickness.Stacks;
using Xunit;

namespace EchoToThickness.Simulation.Tests;

public sealed class EchoTrainTests
{
    private static readonly EchoTrainScene Quiet = new()
    {
        Scans = 4,
        Beams = 3,
        NoiseFraction = 0,
        WallLossDecibels = 0,
        Wall = new WallMap { NominalMetres = 7.4e-3 },
        Couplant = new CouplantPath(2.96e-3),
    };

    [Fact]
    public void InterfaceReflection_WaterOnSteel_MatchesTheHandbookValue() =>
        // Z = 1480 * 1000 = 1.48e6 and 5920 * 7850 = 46.472e6: R = 44.992 / 47.952 = 0.93827.
        Assert.Equal(0.93827, Quiet.InterfaceReflection, 5e-6);

    [Fact]
    public void Render_PlaneWall_PutsEchoesAtTheirTimesWithSignAndAmplitude()
    {
        var counts = new short[Quiet.Samples];
        new EchoTrainRenderer(Quiet).Render(1, 1, counts);
        // Interface: 2 * 2.96 mm / 1480 m/s = 4.00 us, sample (4.00 - 2.00) * 100. Wall: 2 * 7.4 mm / 5920 m/s = 2.50 us.
        double full = short.MaxValue;
        double r = Quiet.InterfaceReflection;
        Assert.Equal(0.7, counts[200] / full, 1e-4);
        Assert.Equal(-0.7 * (1 - r * r) / r, counts[450] / full, 1e-4);
        Assert.Equal(-0.7 * (1 - r * r), counts[700] / full, 1e-4);
        Assert.Equal(-0.7 * (1 - r * r) * r, counts[950] / full, 1e-4);
        // About 18 dB below the interface echo.
        Assert.InRange(20 * Math.Log10(-counts[450] / (double)counts[200]), -18.2, -17.8);
    }

    [Fact]
    public void Render_CouplantMultiple_ComesAtTwiceTheInterfaceTime()
    {
        var counts = new short[Quiet.Samples];
        new EchoTrainRenderer(Quiet with { CouplantMultipleDecibels = -20 }).Render(0, 0, counts);
        Assert.Equal(0.07, counts[600] / (double)short.MaxValue, 1e-4); // 8.00 us
    }

    [Fact]
    public void Render_LaminarPatch_EchoesEarlyAndWeakensTheFarWall()
    {
        var patch = new LaminarPatch(new PlanRectangle(0, 1, 0, 1), 2.96e-3, 0.5);
        var counts = new short[Quiet.Samples];
        new EchoTrainRenderer(Quiet with { LaminarPatches = [patch] }).Render(0, 0, counts);
        double r = Quiet.InterfaceReflection;
        double entered = 0.7 * (1 - r * r) / r;
        Assert.Equal(-0.5 * entered, counts[300] / (double)short.MaxValue, 1e-4); // 1.00 us behind the interface
        Assert.Equal(-0.25 * entered, counts[450] / (double)short.MaxValue, 1e-4); // passed twice with 0.5 each
    }

    [Fact]
    public void Render_SaturatedInterface_StopsAtTheRails()
    {
        var counts = new short[Quiet.Samples];
        new EchoTrainRenderer(Quiet with { InterfaceAmplitudeFraction = 3 }).Render(0, 0, counts);
        Assert.Equal((short.MaxValue, short.MinValue), (counts.Max(), counts.Min()));
    }

    [Fact]
    public void Lend_WholeStackOrCellByCell_GivesTheSameSamples()
    {
        using EchoTrainSource source = DemoScene.Create();
        int samples = source.Info.Shape.Samples;
        using IAScanReader whole = source.OpenReader();
        using IAScanReader single = source.OpenReader();
        short[] expected = whole.Lend(28, 8, 0, 128).AScan<short>(3, 70).ToArray();
        AScanBlock one = single.Lend(31, 1, 70, 1);
        Assert.Equal(samples, expected.Length);
        Assert.Equal(expected, one.AScan<short>(0, 0).ToArray());
        Assert.False(one.IsPresent(0, 0)); // the strip nobody scanned
        Assert.True(single.Lend(29, 1, 70, 1).IsPresent(0, 0));
    }

    [Fact]
    public void ReadTruth_DemoScene_HasStepsPitsAndReflector()
    {
        using EchoTrainSource source = DemoScene.Create();
        int beams = source.Info.Shape.Beams;
        var wall = new double[source.Info.Shape.Cells];
        var depth = new double[source.Info.Shape.Cells];
        source.ReadTruth("thickness", 0, source.Info.Shape.Scans, wall);
        source.ReadTruth("reflector_depth", 0, source.Info.Shape.Scans, depth);
        Assert.Equal(5.0e-3, wall[20 * beams + 5]);
        Assert.Equal(9.5e-3, wall[150 * beams + 5]);
        Assert.Equal(12 * 16, depth.Count(d => !double.IsNaN(d)));
        // Deepest point: first pit (2.6 mm) on the flank of the thinning.
        Assert.InRange(wall.Min(), 4.5e-3, 5.5e-3);
        Assert.Throws<ArgumentException>(() => source.ReadTruth("colour", 0, 1, new double[beams]));
    }

    [Theory]
    [InlineData(0.0, 1.8)] // deepest at the centre
    [InlineData(6.5, 0.0)] // nothing at the mouth
    [InlineData(3.25, 1.3749)] // sphere radius (6.5² + 1.8²) / 3.6 = 12.6361; sqrt(159.6713 - 10.5625) - 10.8361
    public void DepthAt_SphericalCap_FollowsTheSphere(double distanceMillimetres, double depthMillimetres) =>
        Assert.Equal(
            depthMillimetres * 1e-3,
            new Pit(0, 0, 6.5e-3, 1.8e-3).DepthAt(distanceMillimetres * 1e-3, 0),
            0.05e-6
        );

    [Fact]
    public void SlopeAt_PitFlank_IsTheSlopeOfTheSphere()
    {
        var wall = new WallMap { NominalMetres = 9e-3, Pits = [new Pit(0, 0, 6.5e-3, 1.8e-3)] };
        // dz/dx = x / sqrt(S² - x²) with S = 12.6361 mm, x = 3 mm: 0.24441; the difference over 0.2 mm errs by about 1e-5.
        Assert.Equal(3 / Math.Sqrt(12.6361 * 12.6361 - 9), wall.SlopeAt(3e-3, 0), 1e-4);
        Assert.Equal(0, wall.SlopeAt(20e-3, 0), 1e-12);
        // The edge of a machined step does not tilt the wall beside it.
        WallMap stepped = wall with
        {
            Steps = [new MachinedStep(new PlanRectangle(0, 1, 0.030, 0.040), 5e-3)],
        };
        Assert.Equal(0, stepped.SlopeAt(20e-3, 0.040), 1e-12);
    }
}
