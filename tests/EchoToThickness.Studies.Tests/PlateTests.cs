using EchoToThickness.Simulation.Layers;
using EchoToThickness.Stacks;
using EchoToThickness.Studies.Sources;
using EchoToThickness.Studies.StudyFiles;
using EchoToThickness.Uncertainty;
using Xunit;

namespace EchoToThickness.Studies.Tests;

/// <summary>The exact plate and its bound, against closed forms and the library's own bound.</summary>
public sealed class PlateTests
{
    private static readonly PlateSettings Steel = new()
    {
        WallMetres = 8.6e-3,
        WallRangeMetres = 0,
        SnrDecibels = 20,
    };

    [Fact]
    public void AddEchoes_SteelInWater_HasTheEchoesOfThePlaneWaveFormula()
    {
        var model = new PlateModel(Steel);
        var samples = new double[model.Samples];
        model.AddEchoes(samples, model.MeanInterfaceSeconds, Steel.WallMetres);
        double rate = Steel.SampleRateHz;
        double At(double seconds) => samples[(int)Math.Round((seconds - model.StartSeconds) * rate)];
        // R = 30.4 / 32.4; interface 0.7, back walls -(1 - R²)/R · R^(n-1) of it (Brekhovskikh). Times chosen on a sample: within half a
        // sample of the peak the pulse is above cos(2 pi 7 MHz 5 ns) = 0.976.
        double reflection = 30.4 / 32.4;
        double trip = 2 * 8.6e-3 / 5920;
        double first = 0.7 * (1 - reflection * reflection) / reflection;
        Assert.Equal(0.7, At(model.MeanInterfaceSeconds), 0.7 * 0.025);
        Assert.Equal(-first, At(model.MeanInterfaceSeconds + trip), first * 0.025);
        Assert.Equal(-first * reflection, At(model.MeanInterfaceSeconds + 2 * trip), first * 0.025);
    }

    [Fact]
    public void BoundMetres_PairsOfEchoes_IsTheLibrarysBound()
    {
        var model = new PlateModel(Steel with { Bound = BoundChoice.InterfaceWall });
        var pulse = new GaussianPulse(7e6, 0.6);
        double wall = model.InterfaceLevel * model.FirstWallPerInterface;
        // SNR 20 dB: noise a tenth of back-wall echo 1.
        Assert.Equal(wall / 10, model.NoiseFraction, 1e-15);
        double a = CramerRao.DelaySeconds(pulse, model.InterfaceLevel, model.NoiseFraction, 100e6);
        double b = CramerRao.DelaySeconds(pulse, wall, model.NoiseFraction, 100e6);
        Assert.Equal(5920 / 2.0 * Math.Sqrt(a * a + b * b), model.BoundMetres(8.6e-3), 1e-12);
    }

    [Fact]
    public void BoundMetres_WholeRecord_IsTheBoundOfALineThroughItsEchoes()
    {
        // Echoes far apart: each tells its own delay, u_n = u_1 / R^(n-1) for back walls. The round trip is the slope of delay over order,
        // weighted by 1 / u², amplitudes being irrelevant when echoes do not overlap: var = 1 / (Σw n² - (Σw n)² / Σw).
        var model = new PlateModel(Steel);
        var pulse = new GaussianPulse(7e6, 0.6);
        double reflection = 30.4 / 32.4;
        double w0 = Math.Pow(1 / CramerRao.DelaySeconds(pulse, model.InterfaceLevel, model.NoiseFraction, 100e6), 2);
        (double sum, double first, double second) = (w0, 0.0, 0.0);
        // 14 us less 1 us lead: back walls 1 to 4 are whole (2.905 us apart).
        for (int n = 1; n <= 4; n++)
        {
            double amplitude = model.InterfaceLevel * model.FirstWallPerInterface * Math.Pow(reflection, n - 1);
            double w = Math.Pow(1 / CramerRao.DelaySeconds(pulse, amplitude, model.NoiseFraction, 100e6), 2);
            sum += w;
            first += w * n;
            second += w * n * n;
        }
        double expected = 5920 / 2.0 / Math.Sqrt(second - first * first / sum);
        Assert.Equal(expected, model.BoundMetres(8.6e-3), 1e-3 * expected);
    }

    [Fact]
    public void BoundMetres_TwentyDecibels_IsThePublishedFigure()
    {
        // Outside check value for 7 MHz, 60 %, 100 MS/s, interface 1, back wall 0.35, 20 dB: 2.5 um from interface to back wall 1.
        var pulse = new GaussianPulse(7e6, 0.6);
        double a = CramerRao.DelaySeconds(pulse, 1, 0.035, 100e6);
        double b = CramerRao.DelaySeconds(pulse, 0.35, 0.035, 100e6);
        Assert.Equal(2.5e-6, CramerRao.ThicknessMetres(Math.Sqrt(a * a + b * b), 5920), 0.05e-6);
    }

    /// <summary>
    /// Values of the full-wave reference stack C0 (positions 1 to 3; walls, water paths and ratios as stored): bound of the whole record
    /// with gap, wall and amplitude unknown. Computed by another program.
    /// </summary>
    [Theory]
    [InlineData(6.874421624262873, 3.297577243034091, 20, 0.32201201575900526)]
    [InlineData(9.430380816665034, 5.793738068315002, 35, 0.1257494812574061)]
    [InlineData(3.22428464077419, 3.853267127491937, 50, 0.004674197023145012)]
    [InlineData(9.18953745669129, 2.1178818787843876, 50, 0.012475854398372798)]
    public void BoundMetres_WholeRecord_IsThatOfTheReferenceStack(
        double wallMillimetres,
        double gapMillimetres,
        double snrDecibels,
        double boundMicrometres
    )
    {
        double arrival = 2 * gapMillimetres * 1e-3 / 1480;
        var model = new PlateModel(
            new PlateSettings
            {
                SnrDecibels = snrDecibels,
                CouplantPathMetres = gapMillimetres * 1e-3,
                LeadSeconds = arrival - 0.8e-6,
                DurationSeconds = 19.5e-6,
                ImpedanceRatio = 7850 * 5920 / (1000 * 1480.0),
            }
        );
        // The stack's noise is stated for its stored, rounded counts: 0.1 % seen, 0.5 % allowed.
        Assert.Equal(
            boundMicrometres * 1e-6,
            model.BoundMetres(wallMillimetres * 1e-3),
            5e-3 * boundMicrometres * 1e-6
        );
    }

    /// <summary>The sum of echoes against the transfer matrix of the same layer in the frequency domain, and both bounds.</summary>
    [Theory]
    [InlineData(2.1e-3)]
    [InlineData(8.6e-3)]
    public void AddEchoesAndBound_AgreeWithTheTransferMatrix(double wallMetres)
    {
        PlateSettings steel = Steel with { ImpedanceRatio = 7850 * 5920 / (1000 * 1480.0) };
        var model = new PlateModel(steel);
        var plate = new LayeredPlate(new LayeredAScan(7e6, 0.6, 0, 100e6, model.StartSeconds, model.Samples));
        var sum = new double[model.Samples];
        var exact = new double[model.Samples];
        model.AddEchoes(sum, model.MeanInterfaceSeconds, wallMetres);
        plate.Render(steel.CouplantPathMetres, wallMetres, exact);
        double reflection = (steel.ImpedanceRatio - 1) / (steel.ImpedanceRatio + 1);
        double scale = model.InterfaceLevel / reflection;
        // Echoes are cut where the pulse is 7e-10 of its peak, and echoes under 1e-9 are left out.
        for (int i = 0; i < sum.Length; i++)
            Assert.Equal(exact[i] * scale, sum[i], 1e-7);
        double bound = plate.WallBoundMetres(steel.CouplantPathMetres, wallMetres, model.NoiseFraction / scale);
        // One amplitude unknown there, two here: an unknown more never lowers a bound, and costs little. The derivative there is a central
        // difference over h = 0.1 um, which loses (n k h)²/6 on echo n, k = 4 pi f / c: 1e-4 at the 17th, the last one at 2.1 mm.
        Assert.InRange(model.BoundMetres(wallMetres) / bound, 1 - 1e-4, 1.01);
    }

    [Fact]
    public void Load_Noise_HasTheStatedRatio()
    {
        var point = new PlatePoint(Steel with { DurationSeconds = 40e-6, WallMetres = 100e-3 }, [], 1, 20);
        using StudyBlock block = point.Load(0, TestContext.Current.CancellationToken);
        using IAScanReader reader = block.Source.OpenReader();
        AScanBlock scans = reader.Lend(0, 20, 0, 1);
        // A wall of 100 mm has its first echo at 33.8 us: samples 200 to 3200 hold noise alone.
        double squares = 0;
        for (int i = 0; i < 20; i++)
            foreach (short count in scans.AScan<short>(i, 0)[200..3200])
                squares += (double)count * count;
        double deviation = Math.Sqrt(squares / 60_000) / short.MaxValue;
        // 60 000 normal deviates know their spread to 0.3 %: four of these.
        Assert.Equal(point.Model.NoiseFraction, deviation, 0.012 * deviation);
    }

    [Fact]
    public void Load_AnotherOrderOrBlock_GivesTheSameRecords()
    {
        var long_ = new PlatePoint(Steel, [], 3, 1500);
        using StudyBlock second = long_.Load(1, TestContext.Current.CancellationToken);
        using StudyBlock again = new PlatePoint(Steel, [], 3, 1500).Load(1, TestContext.Current.CancellationToken);
        using StudyBlock other = new PlatePoint(Steel, [], 4, 1500).Load(1, TestContext.Current.CancellationToken);
        Assert.Equal(Bytes(second), Bytes(again));
        Assert.NotEqual(Bytes(second), Bytes(other));
        Assert.Equal(500, second.Truth.ThicknessMetres.Length);
    }

    private static byte[] Bytes(StudyBlock block)
    {
        using IAScanReader reader = block.Source.OpenReader();
        return reader.Lend(0, block.Source.Info.Shape.Scans, 0, 1).Bytes.ToArray();
    }
}
