using System.Numerics;
using EchoToThickness.Simulation.Waves;
using Xunit;

namespace EchoToThickness.Simulation.Tests.Waves;

public sealed class FootprintTests
{
    private const double Steel = 5920;
    private const double Water = 1480;

    /// <summary>A patch that is level everywhere is a flat wall: same samples, whatever its size. Rounding of single precision.</summary>
    [Theory]
    [InlineData(64, 64)]
    [InlineData(40, 55)]
    public void AddEchoes_LevelPatch_IsTheFlatWall(int along, int around)
    {
        var flat = new WaveBench(WaveBench.Settings);
        var uneven = new WaveBench(WaveBench.Settings);
        uneven.Cell.SetPatch(along, around, 0.25e-3, 0.25e-3).Fill(8e-3f);
        float[] expected = flat.Record();
        float[] record = uneven.Record();
        for (int i = 0; i < record.Length; i++)
            Assert.Equal(expected[i], record[i], 2e-5);
        Assert.Equal(1, uneven.Facts.Coherence, 1e-4);
    }

    /// <summary>
    /// Heights that change from point to point: the mean of exp(2ikh) is the characteristic function of a Gaussian, <c>exp(-2 k² s²)</c>, so the mean
    /// first back wall is weaker by that. Source: Beckmann and Spizzichino, The Scattering of Electromagnetic Waves from Rough Surfaces, 5.3 (specular
    /// field); Ogilvy, Theory of Wave Scattering from Random Rough Surfaces, chapter 4. The mean over 24 cells of 64 x 64 points, of which some 900
    /// count, is uncertain by 1/sqrt(20000): 0.02 is three times that. The wall is given no shear waves, which would weaken slopes further.
    /// </summary>
    [Theory]
    [InlineData(0.03e-3)]
    [InlineData(0.06e-3)]
    [InlineData(0.1e-3)]
    public void AddEchoes_RoughWall_LosesCoherenceByTheFormula(double rms)
    {
        WaveSettings settings = WaveBench.Settings with { ShearVelocityMetresPerSecond = 0 };
        var flat = new WaveBench(settings);
        double time = 2 * 4e-3 / Water + 2 * 8e-3 / Steel;
        Complex whole = WaveBench.SpectrumAt(flat.Record(), time, 0.9e-6, 7e6);
        var bench = new WaveBench(settings);
        var random = new System.Random(20261125);
        Complex mean = Complex.Zero;
        const int Cells = 24;
        for (int cell = 0; cell < Cells; cell++)
        {
            foreach (ref float metal in bench.Cell.SetPatch(64, 64, 0.25e-3, 0.25e-3))
                metal = (float)(8e-3 + rms * Normal(random));
            mean += WaveBench.SpectrumAt(bench.Record(), time, 0.9e-6, 7e6) / whole / Cells;
        }
        double wavenumber = 2 * Math.PI * 7e6 / Steel;
        Assert.Equal(Math.Exp(-2 * wavenumber * wavenumber * rms * rms), mean.Real, 0.02);
        Assert.Equal(0, mean.Imaginary, 0.02);
    }

    /// <summary>
    /// Small flat-bottom hole on the axis: its echo over that of a whole wall at its depth is area over footprint, <c>p(0)² A / integral p² dA</c>. The field on the axis
    /// is taken from the Rayleigh integral over the aperture with true distances, and the integral of p² is the flat wall's own response (AngularSpectrum); neither
    /// makes the Fresnel approximation. Hole of 1.5 mm: p² changes by some 5 % across it.
    /// </summary>
    [Theory]
    [InlineData(12e-3)]
    [InlineData(20e-3)]
    public void AddEchoes_SmallFlatBottomHole_IsAreaOverFootprint(double depth)
    {
        const double side = 4e-3;
        const double diameter = 1.5e-3;
        const double hertz = 5e6;
        WaveSettings settings = WaveBench.Settings with
        {
            Pulse = WavePulse.Gabor(hertz, 0.6),
            ApertureMetres = side,
            ElevationMetres = side,
            NominalCouplantMetres = 0.5e-3,
        };
        var bench = new WaveBench(settings);
        bench.Cell.ThicknessMetres = depth;
        double time = 2 * 0.5e-3 / Water + 2 * depth / Steel;
        Complex flat = WaveBench.SpectrumAt(bench.Record(1500), time, 0.9e-6, hertz);
        const int Count = 96;
        const double Spacing = 0.15e-3;
        Span<float> patch = bench.Cell.SetPatch(Count, Count, Spacing, Spacing);
        int points = 0;
        for (int j = 0; j < Count; j++)
        {
            for (int i = 0; i < Count; i++)
            {
                double x = (i - 0.5 * (Count - 1)) * Spacing;
                double y = (j - 0.5 * (Count - 1)) * Spacing;
                bool inside = Math.Sqrt(x * x + y * y) <= 0.5 * diameter;
                points += inside ? 1 : 0;
                patch[j * Count + i] = (float)(inside ? depth : depth + 6e-3);
            }
        }
        // Slopes at the rim would be weighed down; the hole is counted by its points.
        Complex hole = WaveBench.SpectrumAt(Record(settings, bench, depth), time, 0.9e-6, hertz);
        double area = points * Spacing * Spacing;
        double distance = depth + 0.5e-3 * Water / Steel;
        Complex axis = OnAxis(side, distance, hertz);
        var spectrum = new EchoToThickness.Tests.Estimation.AngularSpectrum(
            new EchoToThickness.Tests.Estimation.AngularSpectrumSetup
            {
                ApertureMetres = side,
                ElevationMetres = side,
                FrequencyHz = hertz,
                VelocityMetresPerSecond = Steel,
                CouplantMetresPerSecond = Water,
            }
        );
        double expected =
            axis.Magnitude
            * axis.Magnitude
            * area
            / (side * side)
            / spectrum.Response(hertz, 1, depth, 0.5e-3).Magnitude;
        Assert.Equal(expected, (hole / flat).Magnitude, 0.08 * expected);

        static float[] Record(WaveSettings settings, WaveBench from, double depth)
        {
            var fluid = new WaveBench(settings with { ShearVelocityMetresPerSecond = 0 });
            from.Cell.Patch.CopyTo(fluid.Cell.SetPatch(Count, Count, Spacing, Spacing));
            fluid.Cell.ThicknessMetres = depth;
            return fluid.Record(1500);
        }
    }

    /// <summary>Rayleigh integral on the axis of a square piston, amplitude 1 at the face: midpoint rule, 400 x 400.</summary>
    private static Complex OnAxis(double side, double distance, double hertz)
    {
        const int Count = 400;
        double wavelength = Steel / hertz;
        Complex sum = Complex.Zero;
        for (int i = 0; i < Count; i++)
        {
            for (int j = 0; j < Count; j++)
            {
                double x = ((i + 0.5) / Count - 0.5) * side;
                double y = ((j + 0.5) / Count - 0.5) * side;
                double r = Math.Sqrt(x * x + y * y + distance * distance);
                sum += Complex.FromPolarCoordinates(distance / r / r, 2 * Math.PI * (r - distance) / wavelength);
            }
        }
        return sum * side * side / Count / Count / wavelength;
    }

    /// <summary>
    /// Half the footprint one millimetre nearer: two echoes at their own walls, each with half the amplitude (a level wall cut by an edge through the axis:
    /// by symmetry exactly one half).
    /// </summary>
    [Fact]
    public void AddEchoes_EdgeThroughTheAxis_GivesTwoHalfEchoes()
    {
        WaveSettings settings = WaveBench.Settings with { ShearVelocityMetresPerSecond = 0 };
        var bench = new WaveBench(settings);
        Span<float> patch = bench.Cell.SetPatch(64, 64, 0.25e-3, 0.25e-3);
        for (int i = 0; i < patch.Length; i++)
            patch[i] = i % 64 < 32 ? 4e-3f : 10e-3f;
        float[] record = bench.Record();
        foreach (double wall in (double[])[4e-3, 10e-3])
        {
            var flat = new WaveBench(settings);
            flat.Cell.ThicknessMetres = wall;
            double time = 2 * 4e-3 / Water + 2 * wall / Steel;
            Complex ratio =
                WaveBench.SpectrumAt(record, time, 0.45e-6, 7e6)
                / WaveBench.SpectrumAt(flat.Record(), time, 0.45e-6, 7e6);
            // The table's depth steps of 3 % change the beam's edges, not the half.
            Assert.Equal(0.5, ratio.Real, 0.01);
            Assert.Equal(0, ratio.Imaginary, 0.01);
        }
    }

    /// <summary>The whole patch a little thinner than the wall on the axis says: the echo follows the patch, by 2 dh/c, in amplitude unchanged.</summary>
    [Fact]
    public void AddEchoes_PatchThinnerThanTheAxis_MovesTheEcho()
    {
        var bench = new WaveBench(WaveBench.Settings);
        bench.Cell.SetPatch(64, 64, 0.25e-3, 0.25e-3).Fill(7.9e-3f);
        var flat = new WaveBench(WaveBench.Settings);
        flat.Cell.ThicknessMetres = 7.9e-3f;
        float[] expected = flat.Record();
        float[] record = bench.Record();
        for (int i = 0; i < record.Length; i++)
            Assert.Equal(expected[i], record[i], 2e-5);
    }

    /// <summary>Free steel surface, cL/cS = 5920/3230: coefficients at 0 and 30 degrees worked out by hand from Graff's formula (6.1.33, from memory).</summary>
    [Fact]
    public void SlopeReflection_KnownAngles()
    {
        Assert.Equal(-1, SlopeReflection.Coefficient(0, 5920, 3230), 1e-12);
        // sin b = 0.5/1.83282 = 0.27280; b = 15.831 deg; sin 60 sin 31.661 = 0.45457; k² cos² 31.661 = 3.35924 * 0.72450 = 2.43377.
        Assert.Equal(
            (0.45457 - 2.43377) / (0.45457 + 2.43377),
            SlopeReflection.Coefficient(Math.PI / 6, 5920, 3230),
            1e-4
        );
        var table = new SlopeReflection(5920, 3230);
        for (double angle = 0; angle < 80; angle += 3.7)
        {
            double slope = Math.Tan(angle * Math.PI / 180);
            double expected = -SlopeReflection.Coefficient(angle * Math.PI / 180, 5920, 3230);
            Assert.Equal(expected, table.At((float)(slope * slope)), 2e-4);
        }
    }

    [Fact]
    public void AddEchoes_UnevenWall_DoesNotAllocate()
    {
        var bench = new WaveBench(WaveBench.Settings);
        var random = new System.Random(5);
        foreach (ref float metal in bench.Cell.SetPatch(48, 48, 0.25e-3, 0.25e-3))
            metal = (float)(8e-3 + 0.2e-3 * Normal(random));
        bench.Record();
        var samples = new float[1000];
        bench.Model.AddEchoes(bench.Cell, 1e-6, 100e6, samples, bench.Workspace, out _);
        long before = GC.GetAllocatedBytesForCurrentThread();
        for (int i = 0; i < 5; i++)
            bench.Model.AddEchoes(bench.Cell, 1e-6, 100e6, samples, bench.Workspace, out _);
        Assert.Equal(0, GC.GetAllocatedBytesForCurrentThread() - before);
    }

    private static double Normal(System.Random random) =>
        Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
}
