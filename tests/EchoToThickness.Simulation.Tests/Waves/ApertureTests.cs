using System.Numerics;
using EchoToThickness.Simulation.Fields;
using EchoToThickness.Simulation.Waves;
using Xunit;

namespace EchoToThickness.Simulation.Tests.Waves;

public sealed class ApertureTests
{
    private const double Steel = 5920;
    private const double Water = 1480;
    private const double Film = 0.02e-3;

    /// <summary>
    /// Tilt, close to the surface: each point of the aperture is delayed there and back, so the interface echo is <c>sin(x)/x</c> with x = k_w a sin(tilt). From
    /// algebra; 0.02: the film is not of no thickness.
    /// </summary>
    [Theory]
    [InlineData(0.25)]
    [InlineData(0.5)]
    [InlineData(1.0)]
    public void AddEchoes_TiltedArray_WeakensTheInterfaceAsASinc(double degrees)
    {
        double tilt = degrees * Math.PI / 180;
        var bench = new WaveBench(WaveBench.Settings with { NominalCouplantMetres = Film });
        Complex square = Interface(bench);
        bench.Cell.TiltAroundRadians = tilt;
        double x = 2 * Math.PI * 7e6 / Water * 8e-3 * Math.Sin(tilt);
        Assert.Equal(Math.Sin(x) / x, (Interface(bench) / square).Real, 0.02);
    }

    /// <summary>Dead elements close to the surface: what they would have sent and received is missing, 6/8 of the echo is left.</summary>
    [Fact]
    public void AddEchoes_DeadElements_AreMissingFromTheEcho()
    {
        double[] gains = [1, 1, 0, 1, 1, 1, 0, 1, 1, 1, 1, 1, 1, 1, 1, 1];
        var bench = new WaveBench(WaveBench.Settings with { NominalCouplantMetres = Film, ElementGains = gains });
        Assert.Equal(9, bench.Model.Beams);
        bench.Cell.Beam = 7;
        Complex sound = Interface(bench);
        bench.Cell.Beam = 0;
        Assert.Equal(0.75, (Interface(bench) / sound).Real, 0.015);
        bench.Cell.Beam = 5;
        Assert.Equal(0.875, (Interface(bench) / sound).Real, 0.015);
    }

    /// <summary>Element delays close to the surface: mean of exp(i w 2 tau) over the elements.</summary>
    [Fact]
    public void AddEchoes_ElementDelays_SpreadTheEcho()
    {
        double[] delays = [0, 10e-9, 0, 10e-9, 0, 10e-9, 0, 10e-9];
        var bench = new WaveBench(
            WaveBench.Settings with
            {
                NominalCouplantMetres = Film,
                ElementDelaysSeconds = delays,
            }
        );
        Complex sound = Interface(bench);
        bench.Cell.Beam = 0;
        Complex expected = 0.5 * (1 + Complex.FromPolarCoordinates(1, 2 * Math.PI * 7e6 * 20e-9));
        Complex ratio = Interface(bench) / sound;
        // The film mixes neighbours: lambda Z is 0.004 mm² against elements of 1 mm.
        Assert.Equal(expected.Magnitude, ratio.Magnitude, 0.05);
        Assert.Equal(expected.Phase, ratio.Phase, 0.05);
    }

    /// <summary>Flat array on a convex surface of radius R: the interface echo against a direct sum over the surface with true distances (two-dimensional).</summary>
    [Theory]
    [InlineData(57e-3, 2e-3)]
    [InlineData(109e-3, 4e-3)]
    public void AddEchoes_FlatArrayOnPipe_InterfaceAgreesWithADirectSum(double radius, double couplant)
    {
        WaveSettings settings = WaveBench.Settings with
        {
            ElevationMetres = double.PositiveInfinity,
            NominalCouplantMetres = couplant,
            IsConformal = false,
        };
        var bench = new WaveBench(settings);
        bench.Cell.ThicknessMetres = 25e-3;
        Complex flat = Interface(bench, 1.2e-6);
        bench.Cell.RadiusAroundMetres = radius;
        Complex ratio = Interface(bench, 1.2e-6) / flat;
        Complex expected = Direct(radius, couplant) / Direct(double.PositiveInfinity, couplant);
        Assert.True(expected.Magnitude < 0.95, "The case must be weakened by the curvature.");
        Assert.Equal(expected.Magnitude, ratio.Magnitude, 0.03);
        Assert.Equal(expected.Phase, ratio.Phase, 0.08);
    }

    /// <summary>An array that follows a concentric pipe sees a flat wall of d R/(R - d): close to d, so nearly the flat echo.</summary>
    [Fact]
    public void AddEchoes_ConformalArrayOnPipe_IsNearlyTheFlatWall()
    {
        var bench = new WaveBench(WaveBench.Settings);
        float[] flat = bench.Record();
        bench.Cell.RadiusAroundMetres = 57e-3;
        float[] curved = bench.Record();
        float largest = 0;
        for (int i = 0; i < flat.Length; i++)
            largest = Math.Max(largest, Math.Abs(flat[i] - curved[i]));
        Assert.InRange(largest, 1e-4, 0.015);
    }

    /// <summary>Focus: all elements arrive in phase on the axis at the focus, so the field there is a/sqrt(lambda Z). From algebra.</summary>
    [Fact]
    public void Focus_FieldAtTheFocus_IsThatOfAllElementsInPhase()
    {
        WaveSettings settings = WaveBench.Settings with
        {
            ApertureElements = 32,
            ApertureMetres = 32e-3,
            FocusDepthMetres = 30e-3,
        };
        ApertureAxis axis = BeamApertures.Sound(settings);
        double distance = 30e-3 + 4e-3 * Water / Steel;
        var field = new AxisField(32e-3, axis.Segments(0, 0, 7e6), distance, [7e6], Steel);
        FieldSamples samples = field.SamplesOn(9, 0.1e-3);
        double expected = 32e-3 * 32e-3 / (Steel / 7e6 * distance);
        double squared = new Complex(samples.Real[4], samples.Imaginary[4]).Magnitude;
        // Within an element the wave is not bent: the outermost loses sinc(pi 1 mm 15.5 mm / (lambda Z)) of its part.
        Assert.InRange(squared, 0.6 * expected, expected);
    }

    /// <summary>A lamination that covers everything and reflects everything hides the wall and repeats at its own depth.</summary>
    [Fact]
    public void AddEchoes_FullLamination_HidesTheWall()
    {
        var bench = new WaveBench(WaveBench.Settings);
        bench.Cell.Lamination = new LaminarHit(3.3e-3, 1);
        bench.Cell.LaminationCover = 1;
        var plate = new WaveBench(WaveBench.Settings);
        plate.Cell.ThicknessMetres = 3.3e-3;
        float[] expected = plate.Record();
        float[] record = bench.Record();
        for (int i = 0; i < record.Length; i++)
            Assert.Equal(expected[i], record[i], 5e-5);
        Assert.True(bench.Facts.LaminationAmplitude < 0);
    }

    /// <summary>Half a bubble: half the interface echo of steel less half a whole reflection of air, and half of every back wall.</summary>
    [Fact]
    public void AddEchoes_Bubble_ReflectsWithTheOtherSign()
    {
        WaveSettings settings = WaveBench.Settings with { Diffraction = false };
        var bench = new WaveBench(settings);
        Complex sound = Interface(bench);
        double r = settings.InterfaceReflection;
        bench.Cell.CoupledFraction = 0.5;
        bench.Cell.AirMetres = 0;
        Assert.Equal((0.5 * r - 0.5) / r, (Interface(bench) / sound).Real, 1e-3);
        bench.Cell.AirReflects = false;
        Assert.Equal(0.5, (Interface(bench) / sound).Real, 1e-3);
    }

    /// <summary>One leg as shear: the echo stands where a longitudinal reading gives (1 + c_L/c_S)/2 = 1.416 walls, with the amplitude asked for.</summary>
    [Fact]
    public void AddEchoes_ModeConverted_StandsAtOnePointFourWalls()
    {
        var bench = new WaveBench(WaveBench.Settings with { Diffraction = false });
        float[] without = bench.Record();
        bench.Cell.ModeConvertedFraction = 0.5;
        float[] record = bench.Record();
        double expected = bench.Facts.InterfaceSeconds + 8e-3 / Steel + 8e-3 / 3230;
        Assert.Equal(expected, bench.Facts.ModeConvertedSeconds, 1e-12);
        double walls = (expected - bench.Facts.InterfaceSeconds) * Steel / 2 / 8e-3;
        Assert.Equal(1.4164, walls, 1e-3);
        for (int i = 0; i < record.Length; i++)
            record[i] -= without[i];
        Complex ratio =
            WaveBench.SpectrumAt(record, expected, 0.5e-6, 7e6)
            / WaveBench.SpectrumAt(without, bench.Facts.BackWallSeconds, 0.5e-6, 7e6);
        Assert.Equal(0.5, ratio.Real, 2e-3);
    }

    [Fact]
    public void AddEchoes_RingDown_FallsByTwentyDecibelsInItsTime()
    {
        var bench = new WaveBench(WaveBench.Settings with { Diffraction = false });
        bench.Cell.ThicknessMetres = 25e-3;
        float[] without = bench.Record();
        bench.Cell.RingDownFraction = 0.2;
        bench.Cell.RingDownSeconds = 1e-6;
        float[] record = bench.Record();
        // The highest peak lies up to half a period, 0.08 us or 0.8 dB per half period of 7 MHz, before the instant asked for.
        Assert.InRange(Peak(1e-6), 0.014, 0.014 * Math.Pow(10, 0.08));
        Assert.Equal(0.1, Peak(2e-6) / Peak(1e-6), 0.001);

        float Peak(double after)
        {
            float peak = 0;
            for (int i = 0; i < record.Length; i++)
            {
                double t = WaveBench.StartSeconds + i / WaveBench.RateHz - bench.Facts.InterfaceSeconds - after;
                if (Math.Abs(t) < 0.08e-6)
                    peak = Math.Max(peak, Math.Abs(record[i] - without[i]));
            }
            return peak;
        }
    }

    private static Complex Interface(WaveBench bench, double halfSeconds = 0.9e-6)
    {
        var record = new float[600];
        double time = 2 * bench.Cell.CouplantMetres / Water;
        bench.Model.AddEchoes(bench.Cell, time - 2e-6, WaveBench.RateHz, record, bench.Workspace, out _);
        Complex sum = Complex.Zero;
        for (int i = 0; i < record.Length; i++)
        {
            double t = -2e-6 + i / WaveBench.RateHz;
            if (Math.Abs(t) <= halfSeconds)
                sum += record[i] * Complex.FromPolarCoordinates(1, 2 * Math.PI * 7e6 * t);
        }
        return sum;
    }

    /// <summary>Kirchhoff sum over the surface z = g + x²/2R of the squared field of the aperture, cylindrical waves with true distances.</summary>
    private static Complex Direct(double radius, double couplant)
    {
        double k = 2 * Math.PI * 7e6 / Water;
        const int Surface = 1600;
        const int Aperture = 400;
        Complex sum = Complex.Zero;
        for (int i = 0; i < Surface; i++)
        {
            double x = ((i + 0.5) / Surface - 0.5) * 16e-3;
            double z = couplant + (double.IsInfinity(radius) ? 0 : radius - Math.Sqrt(radius * radius - x * x));
            Complex field = Complex.Zero;
            for (int j = 0; j < Aperture; j++)
            {
                double y = ((j + 0.5) / Aperture - 0.5) * 8e-3;
                double r = Math.Sqrt((x - y) * (x - y) + z * z);
                field += Complex.FromPolarCoordinates(z / r / Math.Sqrt(r), k * (r - couplant));
            }
            sum += field * field;
        }
        return sum;
    }
}
