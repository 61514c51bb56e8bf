using System.Runtime.InteropServices;
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
