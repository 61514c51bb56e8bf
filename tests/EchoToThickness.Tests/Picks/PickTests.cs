using EchoToThickness.Picks;
using EchoToThickness.Signals;
using EchoToThickness.Tests.Signals;
using Xunit;

namespace EchoToThickness.Tests.Picks;

/// <summary>Picks: SciPy-table values, delay moves the pick by the delay, amplitude does not move relative picks, edges.</summary>
public class PickTests
{
    private const KernelPath Path = KernelPath.Scalar;
    private static readonly AnalyticFir Band = new(FirDesign.AnalyticBandPass(63, 3e6, 12e6, 100e6), KernelPaths.Best);

    // Pulse of 13.3 samples a cycle (7.5 MHz at 100 MS/s), 60 % bandwidth: sigma 8.3 samples.
    private static float[] Pulse(double centre, double amplitude, int length = 400)
    {
        var x = new float[length];
        for (int i = 0; i < length; i++)
        {
            double t = i - centre;
            x[i] = (float)(amplitude * Math.Exp(-0.5 * t * t / (8.3 * 8.3)) * Math.Cos(2 * Math.PI * 0.075 * t));
        }
        return x;
    }

    [Fact]
    public void Flank_Echo64_MatchesTable()
    {
        // threshold-cross and zero-cross of testdata/dsp/scipy.json, in single precision: slope 0.2 per sample, values rounded to 6e-8.
        float[] x = DspVectors.Floats(DspVectors.Data("echo64"));
        Assert.Equal(
            DspVectors.Scipy("threshold-cross")[0].GetDouble(),
            FlankPick.First(x, 0, 64, 0.500000007f, Path),
            1e-6
        );
        Assert.Equal(DspVectors.Scipy("zero-cross")[0].GetDouble(), ZeroCrossingPick.After(x, 20, 64), 1e-6);
    }

    [Fact]
    public void EveryPick_DelayByWholeSamples_MovesByThatMany()
    {
        float[] template = Pulse(40, 1, 81);
        for (int k = 0; k <= 50; k += 7)
        {
            // Centre 150.37: every pick lies between samples. A whole-sample delay gives the same values at other indices: exact.
            (double flank, double peak, double zero, double envelope, double lag) = All(Pulse(150.37, 0.6), template);
            float[] moved = new float[400];
            Pulse(150.37, 0.6).AsSpan(0, 400 - k).CopyTo(moved.AsSpan(k));
            (double flankK, double peakK, double zeroK, double envelopeK, double lagK) = All(moved, template);
            Assert.Equal(flank + k, flankK, 1e-10);
            Assert.Equal(peak + k, peakK, 1e-10);
            Assert.Equal(zero + k, zeroK, 1e-10);
            Assert.Equal(envelope + k, envelopeK, 1e-10);
            Assert.Equal(lag + k, lagK, 1e-10);
        }
    }

    [Fact]
    public void EveryPick_AnySubSampleDelay_FollowsWithinItsBias()
    {
        float[] template = Pulse(40, 1, 81);
        for (double d = 0; d < 1; d += 0.05)
        {
            (double _, double peak, double zero, double envelope, double lag) = All(Pulse(150 + d, 0.6), template);
            // Parabola at 13.3 samples a cycle: largest bias 0.0036 on a cosine; the envelope of the pulse bends it a little more.
            Assert.Equal(150 + d, peak, 0.005);
            // The zero of the carrier lies a quarter cycle, 3.33 samples, after the centre. There the envelope falls by
            // 3.33 / 8.3^2 = 0.048 per sample: the chord errs by a quarter of that, and by 0.0036 as on a sine.
            Assert.Equal(150 + d + 1 / 0.3, zero, 0.012 + 0.0036);
            Assert.Equal(150 + d, envelope, 0.005);
            Assert.Equal(110 + d, lag, 0.005);
        }
    }

    [Fact]
    public void RelativePicks_AmplitudeScaled_DoNotMove()
    {
        float[] template = Pulse(40, 1, 81);
        (double flank, double peak, double zero, double envelope, double lag) = All(Pulse(150.37, 0.8), template);
        foreach (float gain in new[] { 0.5f, 0.125f, 4f })
        {
            // Powers of two scale floats exactly: not a bit may change.
            float[] x = Pulse(150.37, 0.8).Select(v => v * gain).ToArray();
            (double f, double p, double z, double e, double l) = All(x, template);
            Assert.Equal((flank, peak, zero, envelope, lag), (f, p, z, e, l));
        }
    }

    [Fact]
    public void Correlation_InvertedEcho_NeedsTheRightSign()
    {
        float[] template = Pulse(40, 1, 81);
        float[] x = Pulse(150, -0.5);
        var scratch = new float[400];
        Assert.Equal(110, CorrelationPick.Best(x, template, -1, scratch, Path, out double c), 1e-6);
        Assert.Equal(-1, c, 1e-5);
        Assert.Equal(110, CorrelationPick.Best(x, template, 0, scratch, Path, out c), 1e-6);
        // With the wrong sign the best fit is a side lobe, half a cycle (6.7 samples) away: the classic wrong cycle.
        double wrong = CorrelationPick.Best(x, template, 1, scratch, Path, out c);
        Assert.Equal(1 / 0.15, Math.Abs(wrong - 110), 0.8);
        Assert.True(c is > 0 and < 0.95);
        Assert.True(double.IsNaN(CorrelationPick.Best(new float[400], template, 1, scratch, Path, out c)));
    }

    [Fact]
    public void Flank_Edges_FollowTheConvention()
    {
        float[] x = [0.5f, 0.2f, 0.4f, 0.6f, 0.6f];
        Assert.Equal(0, FlankPick.First(x, 0, 5, 0.5f, Path));
        Assert.Equal(2.5, FlankPick.First(x, 1, 5, 0.5f, Path), 1e-6);
        Assert.Equal(3, FlankPick.First(x, 3, 5, 0.5f, Path));
        Assert.Equal(3, FlankPick.First(x, 1, 5, 0.6f, Path), 1e-6);
        Assert.True(double.IsNaN(FlankPick.First(x, 1, 3, 0.5f, Path)));
        Assert.True(double.IsNaN(FlankPick.First(x, 2, 2, 0.5f, Path)));
        Assert.Equal(2.5, FlankPick.Before(x, 1, 4, 0.5), 1e-6);
        Assert.Equal(3, FlankPick.Before(x, 3, 4, 0.5));
    }

    [Fact]
    public void Peak_Edges_FollowTheConvention()
    {
        float[] x = [3, 1, 2, 2, 1, 0];
        Assert.Equal(0, PeakPick.Highest(x, 0, 6, Path));
        Assert.Equal(0, PeakPick.Refine(x, 0));
        Assert.Equal(2, PeakPick.Highest(x, 1, 6, Path));
        Assert.Equal(2.5, PeakPick.Refine(x, 2));
        Assert.Equal(-1, PeakPick.Highest(x, 3, 3, Path));
        Assert.Equal(5, PeakPick.Refine(x, 5));
    }

    [Fact]
    public void ZeroCrossing_Edges_FollowTheConvention()
    {
        Assert.Equal(2, ZeroCrossingPick.After([1, 0.5f, 0, -1], 0, 4));
        Assert.Equal(1.25, ZeroCrossingPick.After([-1, -0.25f, 0.75f], 0, 3));
        Assert.True(double.IsNaN(ZeroCrossingPick.After([1, 1, -1], 0, 2)));
        Assert.True(double.IsNaN(ZeroCrossingPick.After([0, 1, -1], 0, 3)));
    }

    [Theory]
    [InlineData(10)]
    [InlineData(20)]
    public void ZeroCrossing_SampledSine_StaysWithinTheStatedBias(int samplesPerCycle)
    {
        double omega = 2 * Math.PI / samplesPerCycle;
        double worst = 0;
        for (double f = 0; f < 1; f += 0.001)
        {
            float[] x = [(float)Math.Sin(omega * f), (float)Math.Sin(omega * (f - 1))];
            if (x[0] > 0)
                worst = Math.Max(worst, Math.Abs(ZeroCrossingPick.After(x, 0, 2) - f));
        }
        Assert.InRange(worst, omega * omega / 65, omega * omega / 61);
    }

    private static (double Flank, double Peak, double Zero, double Envelope, double Lag) All(
        float[] x,
        float[] template
    )
    {
        var rectified = x.Select(MathF.Abs).ToArray();
        int highest = PeakPick.Highest(rectified, 0, x.Length, Path);
        return (
            FlankPick.Before(rectified, 0, highest, 0.5 * rectified[highest]),
            PeakPick.Refine(rectified, highest),
            ZeroCrossingPick.After(x, highest, x.Length),
            EnvelopePeakPick.Near(Band, x, highest, 20, new float[43]),
            CorrelationPick.Best(x, template, 1, new float[400], KernelPaths.Best, out _)
        );
    }
}
