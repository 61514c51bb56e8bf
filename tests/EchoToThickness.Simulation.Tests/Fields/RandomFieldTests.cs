using System.Numerics;
using EchoToThickness.Simulation.Fields;
using EchoToThickness.Simulation.Scenes;
using MathNet.Numerics;
using MathNet.Numerics.IntegralTransforms;
using Xunit;

namespace EchoToThickness.Simulation.Tests.Fields;

/// <summary>
/// What was asked of a random field is found again in it. Seeds are fixed; tolerances are four standard deviations of the estimates. For a
/// Gaussian field on an area A the variance of a mean of z² or z z' is at most 2 ∫ρ² / A; ∫ρ² = π ℓx ℓy / 2 for both the Gaussian and the
/// exponential correlation.
/// </summary>
public sealed class RandomFieldTests
{
    private const double Side = 0.24;

    public static TheoryData<RoughnessSpectrum, double, double> Spectra =>
        new()
        {
            { RoughnessSpectrum.Gaussian, 2e-3, 2e-3 },
            { RoughnessSpectrum.Gaussian, 4e-3, 2e-3 },
            { RoughnessSpectrum.Exponential, 3e-3, 3e-3 },
            // A Hurst exponent of 1/2 is the exponential correlation.
            { RoughnessSpectrum.Power, 4e-3, 3e-3 },
        };

    [Theory]
    [MemberData(nameof(Spectra))]
    public void Values_MeanSquareAndCorrelation_AreThoseAsked(RoughnessSpectrum spectrum, double along, double around)
    {
        const int side = 400;
        const double step = Side / side;
        double[] z = Grid(new RandomField(Settings(spectrum, along, around), 11, 1).Add, side, step);
        Func<double, double> correlation =
            spectrum == RoughnessSpectrum.Gaussian ? r => Math.Exp(-r * r) : r => Math.Exp(-r);
        double tolerance = 4 * Math.Sqrt(2 * Math.PI / 2 * along * around) / Side;
        // Waves below a fifth of the correlation length are left out: 1/sqrt(1 + (10 π)²) = 3.2 % of the variance, put back evenly.
        if (spectrum != RoughnessSpectrum.Gaussian)
            tolerance += 0.033;
        Assert.InRange(Lagged(z, side, 0, 0), 1 - tolerance, 1 + tolerance);
        foreach (double lag in (double[])[0.5, 1, 1.5])
        {
            int rows = (int)Math.Round(lag * along / step);
            int columns = (int)Math.Round(lag * around / step);
            Assert.Equal(correlation(rows * step / along), Lagged(z, side, rows, 0), tolerance);
            Assert.Equal(correlation(columns * step / around), Lagged(z, side, 0, columns), tolerance);
        }
    }

    [Fact]
    public void Values_FarApart_AreNormal()
    {
        // Three correlation lengths apart the Gaussian correlation is exp(-9): independent for this purpose.
        double[] z = Grid(new RandomField(Settings(RoughnessSpectrum.Gaussian, 2e-3, 2e-3), 12, 1).Add, 40, 6e-3);
        double distance = FieldScenes.Distance(z, x => 0.5 * SpecialFunctions.Erfc(-x / Math.Sqrt(2)));
        Assert.InRange(distance, 0, FieldScenes.Critical(z.Length));
    }

    [Theory]
    [InlineData(RoughnessSpectrum.Gaussian, 0.8)]
    [InlineData(RoughnessSpectrum.Power, 0.8)]
    [InlineData(RoughnessSpectrum.Power, 0.3)]
    public void Spectrum_RingByRing_IsTheDensityAsked(RoughnessSpectrum spectrum, double hurst)
    {
        RandomFieldSettings settings = Settings(spectrum, 6e-3, 6e-3) with
        {
            HurstExponent = hurst,
            IsClosedAround = true,
        };
        var field = new RandomField(settings, 5, 2);
        const int n = 512;
        double[] z = new double[n * n];
        double[] ones = [.. Enumerable.Repeat(1.0, n)];
        (double stepAlong, double stepAround) = (field.PeriodAlongMetres / n, field.PeriodAroundMetres / n);
        field.Add(0, stepAlong, n, 0, stepAround, n, ones, ones, z, n);
        Complex[] spectrumOfZ = Transform(z, n);
        double limit = spectrum == RoughnessSpectrum.Gaussian ? 7.434 : 2 * Math.PI * 5;
        double[] edges = spectrum == RoughnessSpectrum.Gaussian ? [0.5, 1, 1.5, 2, 3, 4] : [0.5, 1, 2, 4, 8, 16, 28];
        double total = 0;
        double[] found = new double[edges.Length - 1];
        double[] asked = new double[edges.Length - 1];
        int[] waves = new int[edges.Length - 1];
        for (int m = -n / 2 + 1; m < n / 2; m++)
        for (int k = -n / 2 + 1; k < n / 2; k++)
        {
            double x = 2 * Math.PI * m / field.PeriodAlongMetres * 6e-3;
            double y = 2 * Math.PI * k / field.PeriodAroundMetres * 6e-3;
            double kappa = Math.Sqrt(x * x + y * y);
            if (kappa == 0 || kappa > limit)
                continue;
            double density =
                spectrum == RoughnessSpectrum.Gaussian
                    ? Math.Exp(-kappa * kappa / 4)
                    : Math.Pow(1 + kappa * kappa, -1 - hurst);
            total += density;
            int ring = Array.FindLastIndex(edges, e => e <= kappa);
            if (ring < 0 || ring >= found.Length)
                continue;
            Complex value = spectrumOfZ[(m + n) % n * n + (k + n) % n] / (n * (double)n);
            found[ring] += value.Real * value.Real + value.Imaginary * value.Imaginary;
            asked[ring] += density;
            waves[ring]++;
        }
        for (int ring = 0; ring < found.Length; ring++)
        {
            // Half of the waves are independent, each a chi-square of two degrees: relative deviation sqrt(2/waves). The spline loses up to
            // 1.5 % of the amplitude an axis at the shortest wave (here at most two thirds of it): 2 %.
            double tolerance = 4 * Math.Sqrt(2.0 / waves[ring]) + 0.02;
            Assert.Equal(1, found[ring] * total / asked[ring], tolerance);
        }
    }

    [Fact]
    public void Values_OneGirthOn_AreTheSame()
    {
        var field = new RandomField(
            Settings(RoughnessSpectrum.Exponential, 8e-3, 6e-3) with
            {
                IsClosedAround = true,
            },
            3,
            1
        );
        foreach (double at in (double[])[0, 0.01, 0.2399, -0.05])
            Assert.Equal(field.ValueAt(0.1, at), field.ValueAt(0.1, at + Side), 9);
        Assert.True(field.PeriodAlongMetres > Side);
    }

    [Fact]
    public void RandomSurface_TooFineToHoldWhole_KeepsVarianceCorrelationAndSeam()
    {
        RandomFieldSettings settings = Settings(RoughnessSpectrum.Exponential, 0.4e-3, 0.4e-3) with
        {
            IsClosedAround = true,
        };
        var surface = new RandomSurface(settings, 21, 1);
        Assert.True(surface.IsBlended);
        // 500 x 500 points 0.48 mm apart cover the whole surface, cell borders too. All of it comes from one tile of 2048 nodes of ℓ/20, 41 mm:
        // its area stands in the variance of a mean square (the bound above), and sampling adds less than 2/n.
        const int side = 500;
        double[] z = Grid(surface.Add, side, Side / side);
        double tolerance = 4 * Math.Sqrt(Math.PI * 0.4 * 0.4 / (40.96 * 40.96) + 2.0 / (side * side)) + 0.033;
        Assert.Equal(1, Lagged(z, side, 0, 0), tolerance);
        Assert.Equal(Math.Exp(-1.2), Lagged(z, side, 1, 0), tolerance);
        Assert.Equal(Math.Exp(-1.2), Lagged(z, side, 0, 1), tolerance);
        // Nothing repeats after a tile (85 steps).
        Assert.InRange(Lagged(z, side, 85, 0), -tolerance, tolerance);
        Assert.InRange(Lagged(z, side, 0, 85), -tolerance, tolerance);
        foreach (double at in (double[])[0, 0.01, 0.2399])
            Assert.Equal(surface.ValueAt(0.1, at), surface.ValueAt(0.1, at + Side), 6);
        // A rough line along the seam: neighbours on either side are as close as anywhere.
        double jump = Math.Abs(surface.ValueAt(0.1, 1e-9) - surface.ValueAt(0.1, Side - 1e-9));
        Assert.InRange(jump, 0, 1e-4);
    }

    [Fact]
    public void Add_PieceByPiece_IsThePointValue()
    {
        var field = new RandomField(Settings(RoughnessSpectrum.Gaussian, 5e-3, 2e-3), 8, 3);
        double[] rows = [.. Enumerable.Range(0, 7).Select(i => 1.0 + i)];
        double[] columns = [.. Enumerable.Range(0, 600).Select(i => i % 3 == 0 ? 0.0 : 0.5)];
        double[] values = new double[7 * 700];
        field.Add(0.01, 0.7e-3, 7, -0.02, 0.31e-3, 600, rows, columns, values, 700);
        for (int i = 0; i < 7; i++)
        for (int j = 0; j < 600; j += 13)
            Assert.Equal(
                rows[i] * columns[j] * field.ValueAt(0.01 + i * 0.7e-3, -0.02 + j * 0.31e-3),
                values[i * 700 + j],
                9
            );
        Assert.Equal(0, values[650]);
    }

    [Fact]
    public void NewField_SameSeedOnManyThreads_IsTheSame()
    {
        RandomFieldSettings settings = Settings(RoughnessSpectrum.Power, 20e-3, 20e-3);
        double[] values = new double[8];
        var threads = Enumerable
            .Range(0, 8)
            .Select(i => new Thread(() => values[i] = new RandomField(settings, 77, 4).ValueAt(0.123, 0.045)))
            .ToArray();
        Array.ForEach(threads, t => t.Start());
        Array.ForEach(threads, t => t.Join());
        Assert.All(values, v => Assert.Equal(values[0], v));
        Assert.NotEqual(values[0], new RandomField(settings, 78, 4).ValueAt(0.123, 0.045));
        Assert.NotEqual(values[0], new RandomField(settings, 77, 5).ValueAt(0.123, 0.045));
    }

    private static RandomFieldSettings Settings(RoughnessSpectrum spectrum, double along, double around) =>
        new()
        {
            LengthMetres = Side,
            WidthMetres = Side,
            CorrelationAlongMetres = along,
            CorrelationAroundMetres = around,
            Spectrum = spectrum,
            HurstExponent = 0.5,
        };

    private delegate void Adder(
        double firstAlong,
        double stepAlong,
        int rows,
        double firstAround,
        double stepAround,
        int columns,
        ReadOnlySpan<double> rowFactor,
        ReadOnlySpan<double> columnFactor,
        Span<double> values,
        int stride
    );

    private static double[] Grid(Adder add, int side, double step)
    {
        double[] values = new double[side * side];
        double[] ones = [.. Enumerable.Repeat(1.0, side)];
        add(0, step, side, 0, step, side, ones, ones, values, side);
        return values;
    }

    private static double Lagged(double[] z, int side, int rows, int columns)
    {
        double sum = 0;
        for (int i = 0; i + rows < side; i++)
        for (int j = 0; j + columns < side; j++)
            sum += z[i * side + j] * z[(i + rows) * side + j + columns];
        return sum / ((side - rows) * (side - columns));
    }

    private static Complex[] Transform(double[] z, int n)
    {
        Complex[] all = [.. z.Select(v => new Complex(v, 0))];
        var line = new Complex[n];
        for (int row = 0; row < n; row++)
        {
            Array.Copy(all, row * n, line, 0, n);
            Fourier.Forward(line, FourierOptions.NoScaling);
            Array.Copy(line, 0, all, row * n, n);
        }
        for (int column = 0; column < n; column++)
        {
            for (int row = 0; row < n; row++)
                line[row] = all[row * n + column];
            Fourier.Forward(line, FourierOptions.NoScaling);
            for (int row = 0; row < n; row++)
                all[row * n + column] = line[row];
        }
        return all;
    }
}
