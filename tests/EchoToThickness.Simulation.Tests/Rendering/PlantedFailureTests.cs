using EchoToThickness.Simulation.Rendering;
using EchoToThickness.Simulation.Scenes;
using Xunit;

namespace EchoToThickness.Simulation.Tests.Rendering;

/// <summary>
/// Every failure of the catalogue, planted by a key: its label is there, is not there in a sound cell, and where it is cheap to see, so is
/// its signature in the A-scan. Times from 2 d / c: water 5 mm 6.757 us, steel 10 mm 3.378 us.
/// </summary>
public sealed class PlantedFailureTests
{
    private const double Interface = 2 * 5e-3 / 1480;
    private const double Wall = 2 * 10e-3 / 5920;
    private const string Here = "along = \"30 mm\"\naround = \"28.5 mm\"\n";
    private const string TwoLines =
        "[component]\nkind = \"plate\"\nnominal_wall = \"10 mm\"\nlength = \"60 mm\"\nwidth = \"130 mm\"\n[scan]\nlines = 2\n";

    public static TheoryData<PlantedFailure, string, int, int> Plantings() =>
        new()
        {
            { PlantedFailure.DoubledWall, Fault("weak back wall", "30 dB"), 0, 30 },
            { PlantedFailure.ModeConverted, Fault("mode conversion", "-12 dB"), 0, 30 },
            { PlantedFailure.RingDown, Fault("ring-down", "-20 dB"), 0, 30 },
            { PlantedFailure.RingDown, "[instrument]\nring_down = \"-26 dB\"\n", 0, 30 },
            { PlantedFailure.Lamination, "[[wall.lamination]]\ndepth = \"4 mm\"\n" + Here, 0, 30 },
            { PlantedFailure.HalvedWall, "[[wall.lamination]]\ndepth = \"5 mm\"\n" + Here, 0, 30 },
            {
                PlantedFailure.CouplantMultiple,
                "[coupling]\nthickness = \"2.5 mm\"\nreverberation = \"30 %\"\n",
                0,
                30
            },
            { PlantedFailure.SecondInterface, "[coupling]\nreverberation = \"60 %\"\n", 0, 30 },
            { PlantedFailure.ScatteredPit, "[[wall.pit]]\ndiameter = \"9 mm\"\ndepth = \"4 mm\"\n" + Here, 0, 30 },
            { PlantedFailure.Deposit, "[[wall.deposit]]\nthickness = \"2 mm\"\n" + Here, 0, 30 },
            { PlantedFailure.PolarityFlip, Fault("polarity flip", "0 dB"), 0, 30 },
            { PlantedFailure.SaturatedInterface, Fault("saturated interface", "12 dB"), 0, 30 },
            { PlantedFailure.SaturatedInterface, "[instrument]\ngain = \"150 %\"\n", 0, 30 },
            { PlantedFailure.CoatingFront, "[[surface.paint]]\nthickness = \"0.4 mm\"\n" + Here, 0, 30 },
            { PlantedFailure.EncoderSlip, Fault("encoder slip", "0 dB") + "at = \"50 %\"\nsize = \"5 mm\"\n", 0, 45 },
            { PlantedFailure.Reversal, Fault("reversal", "0 dB") + "at = \"50 %\"\nsize = \"5 mm\"\n", 0, 33 },
            { PlantedFailure.Dropped, Fault("dropped scans", "0 dB") + "at = \"50 %\"\nsize = \"5 mm\"\n", 0, 32 },
            { PlantedFailure.Duplicate, TwoLines + Fault("duplicate line", "0 dB") + "lines = [2]\n", 1, 30 },
            {
                PlantedFailure.MissedIndex,
                TwoLines + Fault("missed index", "0 dB") + "lines = [2]\nsize = \"10 mm\"\n",
                1,
                30
            },
            { PlantedFailure.GainStep, Fault("gain step", "10 dB") + "at = \"20 %\"\nsize = \"40 mm\"\n", 0, 30 },
            { PlantedFailure.GainStep, "[[instrument.gain_step]]\ngain = \"10 dB\"\nfrom = \"20 %\"\n", 0, 30 },
            { PlantedFailure.ClippedTimeBase, "[instrument]\nsamples = 400\nclipped_time_base = true\n", 0, 30 },
            { PlantedFailure.DryCoupling, "[[coupling.dry]]\nlength = \"20 mm\"\nwidth = \"20 mm\"\n" + Here, 0, 30 },
            { PlantedFailure.DryCoupling, Fault("interface lost", "0 dB"), 0, 30 },
            { PlantedFailure.Bubble, "[[coupling.bubble]]\ndensity = 20000\ndiameter = \"4 mm\"\n", 0, 30 },
            { PlantedFailure.LiftOff, "[[coupling.lift_off]]\nstep = \"1 mm\"\n", 0, 30 },
            { PlantedFailure.Spike, Fault("spike", "-6 dB"), 0, 30 },
            { PlantedFailure.Spike, "[instrument]\nspikes = 20\n", 0, 30 },
            { PlantedFailure.DeadElement, "[array]\ndead_elements = [30]\n", 0, 30 },
            { PlantedFailure.DeadTime, "[instrument]\ndead_time = \"7 us\"\n", 0, 30 },
            { PlantedFailure.Tilt, "[coupling]\ntilt_along = \"1 deg\"\n", 0, 30 },
            { PlantedFailure.WeakSignal, "[instrument]\nnoise = \"10 %\"\n", 0, 30 },
            { PlantedFailure.ThinWall, "[[wall.step]]\nwall = \"1 mm\"\n", 0, 30 },
            {
                PlantedFailure.Edge,
                "[[wall.step]]\nalong = \"30 mm\"\naround = \"10 mm\"\nwidth = \"37 mm\"\nwall = \"6 mm\"\n",
                0,
                30
            },
        };

    [Theory]
    [MemberData(nameof(Plantings))]
    public void Render_FailurePlantedByKey_IsLabelled(PlantedFailure failure, string toml, int line, int scan)
    {
        SceneModel model = Simulated.Model(
            toml.StartsWith("[component]", StringComparison.Ordinal) ? toml : Simulated.Plate + toml
        );
        PlantedFailure labels = Simulated.Cell(model, line, scan).Truth.Planted;
        Assert.True(labels.HasFlag(failure), $"{failure} is not among {labels}.");
    }

    [Fact]
    public void Render_SoundCell_HasNoLabel() =>
        Assert.Equal(PlantedFailure.None, Simulated.Cell(Simulated.Plate).Truth.Planted);

    [Fact]
    public void Plantings_CoverEveryLabel()
    {
        PlantedFailure all = PlantedFailure.None;
        foreach (PlantedFailure label in Plantings().Select(row => row.Data.Item1))
            all |= label;
        foreach (PlantedFailure label in Enum.GetValues<PlantedFailure>())
            Assert.True(all.HasFlag(label), $"No scene plants {label}.");
    }

    /// <summary>Plane waves arrive exactly at 2 d / c: interface to first back wall, to 1 ns.</summary>
    [Fact]
    public void Render_PlaneWavesOnAFlatPlate_WallTakesTwoDOverC()
    {
        Simulated cell = Simulated.Cell(Simulated.Plate + "[array]\ndiffraction = false\n" + Simulated.Quiet);
        double seconds = cell.PeakSeconds(Interface + Wall) - cell.PeakSeconds(Interface);
        Assert.Equal(Wall, seconds, 1e-9);
    }

    [Fact]
    public void WeakBackWall_ThirtyDecibels_SecondIsTheStronger()
    {
        Simulated cell = Quiet(Fault("weak back wall", "30 dB"));
        Simulated sound = Quiet("");
        Assert.True(Math.Abs(cell.Peak(Interface + Wall)) < 0.1 * Math.Abs(sound.Peak(Interface + Wall)));
        Assert.Equal(sound.Peak(Interface + 2 * Wall), cell.Peak(Interface + 2 * Wall), 0.002);
    }

    /// <summary>One leg longitudinal, one shear: d / c_L + d / c_S behind the interface, 1.416 times the wall.</summary>
    [Fact]
    public void ModeConversion_MinusTwelveDecibels_EchoStandsBetweenTheBackWalls()
    {
        double seconds = Interface + 10e-3 / 5920 + 10e-3 / 3230;
        double first = Math.Abs(Quiet("").Peak(Interface + Wall));
        double found = Math.Abs(Quiet(Fault("mode conversion", "-12 dB")).Peak(seconds));
        // The echo is a little longer under way than the first back wall: spreading takes a few per cent.
        Assert.InRange(found / first, 0.7 * 0.251, 1.3 * 0.251);
        Assert.True(Math.Abs(Quiet("").Peak(seconds)) < 0.02 * first);
    }

    [Fact]
    public void Lamination_FourMillimetresDeep_EchoStandsAtItsDepthAndTheWallBelowIt()
    {
        Simulated cell = Quiet("[[wall.lamination]]\ndepth = \"4 mm\"\nreflected = \"40 %\"\n" + Here);
        Assert.Equal(4e-3, cell.Truth.ReflectorDepthMetres, 1e-9);
        Assert.Equal(10e-3, cell.Truth.ThicknessMetres, 1e-9);
        double sound = Math.Abs(Quiet("").Peak(Interface + Wall));
        Assert.True(Math.Abs(cell.Peak(Interface + 2 * 4e-3 / 5920)) > 0.25 * sound);
        Assert.True(Math.Abs(cell.Peak(Interface + Wall)) > 0.3 * sound);
    }

    /// <summary>A free inside turns the sign, a bonded layer of higher impedance does not.</summary>
    [Fact]
    public void PolarityFlip_BackWall_HasTheSignOfTheInterface()
    {
        Assert.True(Quiet("").Peak(Interface + Wall) < 0);
        Assert.True(Quiet(Fault("polarity flip", "0 dB")).Peak(Interface + Wall) > 0);
        Assert.True(Quiet("").Peak(Interface) > 0);
    }

    [Fact]
    public void SaturatedInterface_TwelveDecibels_SamplesAtTheRailAndBackWallUnchanged()
    {
        Simulated cell = Quiet(Fault("saturated interface", "12 dB"));
        Assert.Equal(1, cell.Samples.Max(), 1e-4);
        Assert.Equal(Quiet("").Peak(Interface + Wall), cell.Peak(Interface + Wall), 0.002);
    }

    [Fact]
    public void InterfaceLost_ARecordOfNothing()
    {
        Simulated cell = Quiet(Fault("interface lost", "0 dB"));
        Assert.All(cell.Samples, sample => Assert.Equal(0, sample));
    }

    /// <summary>Behind the slip the array is 5 mm further than written, so a hole written at 45 mm lies at 50 mm.</summary>
    [Fact]
    public void EncoderSlip_FiveMillimetres_TruthIsThatOfTheTruePlace()
    {
        SceneModel model = Simulated.Model(
            Simulated.Plate
                + "[[wall.hole]]\ndiameter = \"2 mm\"\ndepth = \"3 mm\"\nalong = \"50 mm\"\naround = \"28.5 mm\"\n"
                + Fault("encoder slip", "0 dB")
                + "at = \"50 %\"\nsize = \"5 mm\"\n"
        );
        Assert.Equal(7e-3, Simulated.Cell(model, scan: 45).Truth.ThicknessMetres, 1e-9);
        Assert.Equal(10e-3, Simulated.Cell(model, scan: 50).Truth.ThicknessMetres, 1e-9);
    }

    [Fact]
    public void DuplicateLine_HasTheWallOfTheLineBefore()
    {
        SceneModel model = Simulated.Model(
            TwoLines
                + "[[wall.hole]]\ndiameter = \"2 mm\"\ndepth = \"3 mm\"\nalong = \"30 mm\"\naround = \"28.5 mm\"\n"
                + Fault("duplicate line", "0 dB")
                + "lines = [2]\n"
        );
        Assert.Equal(7e-3, Simulated.Cell(model, line: 1).Truth.ThicknessMetres, 1e-9);
    }

    [Fact]
    public void DroppedScans_NoAScanAndNoTruth()
    {
        CellTruth truth = Simulated
            .Cell(Simulated.Plate + Fault("dropped scans", "0 dB") + "at = \"50 %\"\nsize = \"5 mm\"\n", scan: 32)
            .Truth;
        Assert.False(truth.IsPresent);
        Assert.True(double.IsNaN(truth.ThicknessMetres));
    }

    /// <summary>Ten decibels are a factor of 3.162 on every echo.</summary>
    [Fact]
    public void GainStep_TenDecibels_EchoesGrow()
    {
        Simulated step = Quiet("[[instrument.gain_step]]\ngain = \"10 dB\"\nfrom = \"20 %\"\n");
        double ratio = step.Peak(Interface + Wall) / Quiet("").Peak(Interface + Wall);
        Assert.Equal(Math.Pow(10, 0.5), ratio, 0.01);
    }

    private static string Fault(string kind, string level) => $"[[fault]]\nkind = \"{kind}\"\nlevel = \"{level}\"\n";

    private static Simulated Quiet(string toml) => Simulated.Cell(Simulated.Plate + Simulated.Quiet + toml);
}
