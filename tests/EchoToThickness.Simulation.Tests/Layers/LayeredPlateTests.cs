using System.Runtime.InteropServices;
using EchoToThickness.Simulation.Layers;
using EchoToThickness.Simulation.Random;
using EchoToThickness.Stacks;
using EchoToThickness.Storage.Foreign;
using Xunit;

namespace EchoToThickness.Simulation.Tests.Layers;

/// <summary>
/// Against the C0 reference stack, an exact one-dimensional solution made outside this program (water, steel, free surface; densities
/// 1000 and 7850 kg/m3 are not stated there and were found by the residual), with white noise at 5 to 50 dB.
/// </summary>
public sealed class LayeredPlateTests
{
    [Theory]
    [InlineData(0, 1762.255968)]
    [InlineData(1, 313.378350)]
    [InlineData(2, 55.727427)]
    [InlineData(3, 9.909894)]
    public void Render_EveryBeamOfTheReferenceStack_LeavesWhiteNoiseOfTheStatedSize(int position, double noiseCounts)
    {
        using IAScanSource source = Open();
        StackInfo info = source.Info;
        double[] wall = Truth(source, "thickness");
        double[] couplant = Truth(source, "couplant_path");
        LayeredPlate plate = Plate(info);
        double[] model = new double[info.Shape.Samples];
        using IAScanReader reader = source.OpenReader();
        for (int beam = 0; beam < info.Shape.Beams; beam++)
        {
            int cell = position * info.Shape.Beams + beam;
            plate.Render(couplant[cell], wall[cell], model);
            double[] stored = Stored(reader, position, beam);
            double scale = Dot(stored, model) / Dot(model, model);
            double[] residual = [.. stored.Select((s, i) => s - scale * model[i])];
            double rms = Math.Sqrt(Dot(residual, residual) / residual.Length);
            // The estimate of a standard deviation from N numbers scatters by 1 / sqrt(2 N) of it, and the amplitude of the pulse by
            // noise / sqrt(energy); rounding to counts adds 1/12 of a squared count. Limits: 4.5 of these over 56 A-scans.
            double expected = Math.Sqrt(noiseCounts * noiseCounts + 1.0 / 12);
            Assert.Equal(expected, rms, 4.5 * expected / Math.Sqrt(2.0 * residual.Length));
            Assert.Equal(26190, scale, 4.5 * noiseCounts / Math.Sqrt(Dot(model, model)) + 10);
            // A residual that is white has no correlation at lag 1; a shift of 1 ns of the model would leave one of 0.8 at 50 dB.
            double lag = Dot(residual[1..], residual[..^1]) / Dot(residual, residual);
            Assert.InRange(lag, -4.5 / Math.Sqrt(residual.Length), 4.5 / Math.Sqrt(residual.Length));
        }
    }

    // Stated by the reference stack: noise in counts, bound in millimetres with couplant and amplitude unknown, bound with the couplant
    // known. The amplitude of its pulse, 26190 counts, is the one the fits of the other test find.
    [Theory]
    [InlineData(0, 0, 1762.255968, 0.003976558093, 0.003906208809)]
    [InlineData(0, 3, 1762.255968, 0.0005705697527, 0.0005498226856)]
    [InlineData(1, 7, 313.378350, 0.0003220120659, 0.0003134365138)]
    [InlineData(2, 11, 55.727427, 7.016011326e-05, 6.846304469e-05)]
    [InlineData(3, 0, 9.909894, 1.607357927e-05, 1.573218599e-05)]
    [InlineData(3, 7, 9.909894, 1.24758544e-05, 1.217412575e-05)]
    public void WallBound_OfTheReferenceStack_IsTheStatedOne(
        int position,
        int beam,
        double noiseCounts,
        double boundMillimetres,
        double boundCouplantKnownMillimetres
    )
    {
        using IAScanSource source = Open();
        int cell = position * source.Info.Shape.Beams + beam;
        double couplant = Truth(source, "couplant_path")[cell];
        double wall = Truth(source, "thickness")[cell];
        LayeredPlate plate = Plate(source.Info);
        double noise = noiseCounts / 26190;
        Assert.Equal(boundMillimetres, 1e3 * plate.WallBoundMetres(couplant, wall, noise), 2e-3 * boundMillimetres);
        Assert.Equal(
            boundCouplantKnownMillimetres,
            1e3 * plate.WallBoundMetres(couplant, wall, noise, couplantKnown: true),
            2e-3 * boundCouplantKnownMillimetres
        );
    }

    [Fact]
    public void WallBound_MaximumLikelihoodInLittleNoise_ReachesIt()
    {
        // One Gauss-Newton step from the truth is the maximum-likelihood estimate in little noise; its scatter over 400 A-scans is the
        // bound within 4 / sqrt(2 * 400) = 14 %.
        LayeredPlate plate = new(new LayeredAScan(7e6, 0.6, 0, 100e6, 3e-6, 700));
        const double couplant = 3e-3;
        const double wall = 6e-3;
        const double noise = 1e-3;
        double[][] slopes = [.. Enumerable.Range(0, 3).Select(_ => new double[700])];
        double[] plus = new double[700];
        double[] minus = new double[700];
        plate.Render(couplant, wall, slopes[2]);
        foreach ((int axis, double dw, double dc) in ((int, double, double)[])[(0, 1e-7, 0), (1, 0, 1e-7)])
        {
            plate.Render(couplant + dc, wall + dw, plus);
            plate.Render(couplant - dc, wall - dw, minus);
            for (int i = 0; i < 700; i++)
                slopes[axis][i] = (plus[i] - minus[i]) / 2e-7;
        }
        double[,] normal = new double[3, 3];
        for (int a = 0; a < 3; a++)
        for (int b = 0; b < 3; b++)
            normal[a, b] = Dot(slopes[a], slopes[b]);
        double squares = 0;
        float[] deviates = new float[700];
        for (ulong trial = 0; trial < 400; trial++)
        {
            NormalNoise.Fill(deviates, (float)noise, 4, trial);
            double[] right = [.. slopes.Select(s => Dot(s, [.. deviates.Select(v => (double)v)]))];
            double error = FirstOfSolution(normal, right);
            squares += error * error;
        }
        double bound = plate.WallBoundMetres(couplant, wall, noise);
        Assert.Equal(1, Math.Sqrt(squares / 400) / bound, 0.14);
    }

    [Fact]
    public void Plate_Truth_IsTheArithmeticOfItsLayers()
    {
        LayeredPlate plate = new(new LayeredAScan(7e6, 0.6, 0, 100e6, 0, 100))
        {
            Coats = [new MediumLayer(new LayerMaterial(2300, 1200), 0.23e-3)],
        };
        Assert.Equal(2 * 8.88e-3 / 5920, plate.RoundTripSeconds(8.88e-3), 1e-15);
        Assert.Equal(2 * 2.96e-3 / 1480 + 0.2e-6, plate.InterfaceSeconds(2.96e-3), 1e-15);
        // r = (46.472 - 1.48) / (46.472 + 1.48): 1 - r² = 0.11967.
        Assert.Equal(1 - Math.Pow(44.992 / 47.952, 2), plate.BackWallAmplitude(), 1e-12);
    }

    private static double FirstOfSolution(double[,] m, double[] r)
    {
        // Cramer's rule.
        static double Determinant(
            double a,
            double b,
            double c,
            double d,
            double e,
            double f,
            double g,
            double h,
            double i
        ) => a * (e * i - f * h) - b * (d * i - f * g) + c * (d * h - e * g);
        double below = Determinant(m[0, 0], m[0, 1], m[0, 2], m[1, 0], m[1, 1], m[1, 2], m[2, 0], m[2, 1], m[2, 2]);
        return Determinant(r[0], m[0, 1], m[0, 2], r[1], m[1, 1], m[1, 2], r[2], m[2, 1], m[2, 2]) / below;
    }

    private static LayeredPlate Plate(StackInfo info) =>
        new(
            new LayeredAScan(
                info.Acquisition.FrequencyHz!.Value,
                info.Acquisition.BandwidthFraction!.Value,
                0,
                info.TimeBase.SampleRateHz,
                info.TimeBase.StartSeconds,
                info.Shape.Samples
            )
        );

    private static IAScanSource Open() =>
        StackOpener
            .Open(
                Checks.PathOf("testdata", "fullwave", "C0_extract.h5"),
                Checks.PathOf("testdata", "layouts", "fullwave.toml")
            )[0]
            .Source;

    private static double[] Truth(IAScanSource source, string layer)
    {
        double[] metres = new double[source.Info.Shape.Cells];
        ((ITruthSource)source).ReadTruth(layer, 0, source.Info.Shape.Scans, metres);
        return metres;
    }

    private static double[] Stored(IAScanReader reader, int scan, int beam)
    {
        AScanBlock block = reader.Lend(scan, 1, beam, 1);
        return [.. MemoryMarshal.Cast<byte, short>(block.Bytes).ToArray().Select(count => (double)count)];
    }

    private static double Dot(ReadOnlySpan<double> a, ReadOnlySpan<double> b)
    {
        double sum = 0;
        for (int i = 0; i < a.Length; i++)
            sum += a[i] * b[i];
        return sum;
    }
}
