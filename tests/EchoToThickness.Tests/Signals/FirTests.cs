using EchoToThickness.Signals;
using Xunit;

namespace EchoToThickness.Tests.Signals;

/// <summary>Filters: against NumPy/SciPy, against the scalar path at every length 0..256, and at the ends of the record.</summary>
public class FirTests
{
    private static readonly AnalyticTaps Band = FirDesign.AnalyticBandPass(63, 3e6, 12e6, 100e6);

    public static TheoryData<KernelPath> Paths => DspVectors.AllPaths;

    // Single precision: 31 products of at most 0.2 x 1, each rounded to 6e-8 relative: 1e-6 is far above, an error of method far beyond.
    [Theory]
    [MemberData(nameof(Paths))]
    public void Same_Echo64_MatchesSciPyFftconvolve(KernelPath path)
    {
        float[] x = DspVectors.Floats(DspVectors.Data("echo64"));
        var fir = new RealFir(FirDesign.BandPass(2e6, 8e6, 100e6, FirWindow.Kaiser(31, 6)), path);
        var y = new float[64];
        fir.Same(x, 0, y);
        DspVectors.Near(DspVectors.Doubles(DspVectors.Scipy("fftconvolve-same")), y, 1e-6);
    }

    [Theory]
    [MemberData(nameof(Paths))]
    public void AnalyticSignal_TwoEchoes_MatchesNumPy(KernelPath path)
    {
        var reference = DspVectors.Read("analytic.json");
        float[] x = DspVectors.Floats(DspVectors.Doubles(reference.GetProperty("x")));
        var fir = new AnalyticFir(Band, path);
        var re = new float[150];
        var im = new float[150];
        var envelope = new float[150];
        fir.AnalyticSignal(x, 0, re, im);
        fir.Envelope(x, 0, envelope);
        double[] expectedRe = DspVectors.Doubles(reference.GetProperty("y_re"));
        double[] expectedIm = DspVectors.Doubles(reference.GetProperty("y_im"));
        DspVectors.Near(expectedRe, re, 1e-6);
        DspVectors.Near(expectedIm, im, 1e-6);
        DspVectors.Near(expectedRe.Zip(expectedIm, double.Hypot).ToArray(), envelope, 1e-6);
    }

    [Theory]
    [InlineData(63)]
    [InlineData(1)]
    [InlineData(5)]
    [InlineData(511)]
    public void EveryPath_EveryLengthAndOffset_GivesTheScalarBits(int taps)
    {
        var analytic = FirDesign.AnalyticBandPass(taps, 3e6, 12e6, 100e6);
        var real = FirDesign.BandPass(3e6, 12e6, 100e6, FirWindow.Hamming(taps));
        var complexFirs = DspVectors.Paths.Select(p => new AnalyticFir(analytic, p)).ToArray();
        var realFirs = DspVectors.Paths.Select(p => new RealFir(real, p)).ToArray();
        int step = taps > 100 ? 37 : 1;
        for (int length = 0; length <= 256; length += step)
        {
            float[] x = DspVectors.Noise(length, length);
            foreach (int first in new[] { 0, 1, 3, length / 2, length })
            {
                if (first > length)
                    continue;
                int count = length - first;
                var expected = new float[4][];
                for (int p = 0; p < complexFirs.Length; p++)
                {
                    var y = new float[count];
                    var squared = new float[count];
                    var re = new float[count];
                    var im = new float[count];
                    realFirs[p].Same(x, first, y);
                    complexFirs[p].SquaredEnvelope(x, first, squared);
                    complexFirs[p].AnalyticSignal(x, first, re, im);
                    float[][] got = [y, squared, re, im];
                    if (p == 0)
                        expected = got;
                    else
                        for (int k = 0; k < 4; k++)
                            Assert.Equal(expected[k], got[k]);
                }
            }
        }
    }

    [Theory]
    [MemberData(nameof(Paths))]
    public void SquaredEnvelope_Stretches_GiveTheBitsOfTheWhole(KernelPath path)
    {
        var fir = new AnalyticFir(Band, path);
        float[] x = DspVectors.Noise(300, 3);
        var whole = new float[300];
        fir.SquaredEnvelope(x, 0, whole);
        for (int first = 0; first < 300; first += 7)
        {
            for (int count = 0; count <= Math.Min(40, 300 - first); count += 3)
            {
                var part = new float[count];
                fir.SquaredEnvelope(x, first, part);
                Assert.Equal(whole.AsSpan(first, count).ToArray(), part);
            }
        }
    }

    [Theory]
    [MemberData(nameof(Paths))]
    public void Same_DirectSum_AgreesAtTheEnds(KernelPath path)
    {
        // Slow obvious sum in double precision, zeros outside the record.
        double[] taps = FirDesign.BandPass(3e6, 12e6, 100e6, FirWindow.Hamming(63));
        var fir = new RealFir(taps, path);
        foreach (int n in new[] { 1, 2, 30, 31, 32, 62, 63, 64, 100 })
        {
            float[] x = DspVectors.Noise(n, n);
            var y = new float[n];
            fir.Same(x, 0, y);
            var expected = new double[n];
            for (int i = 0; i < n; i++)
            {
                for (int k = 0; k < 63; k++)
                {
                    int j = i + 31 - k;
                    if (j >= 0 && j < n)
                        expected[i] += taps[k] * x[j];
                }
            }
            DspVectors.Near(expected, y, 1e-6);
        }
    }

    [Theory]
    [MemberData(nameof(Paths))]
    public void PhaseSplit_EveryLength_GivesEveryFourthFullRateValue(KernelPath path)
    {
        var fir = new AnalyticFir(Band, path);
        var split = new PhaseSplit(fir, 256);
        // Descending and mixed lengths: what an earlier, longer record left must not leak in.
        foreach (int n in Enumerable.Range(0, 257).Reverse().Concat([200, 3, 256, 17]))
        {
            float[] x = DspVectors.Noise(n, n + 1);
            split.Load(x);
            var full = new float[n];
            fir.SquaredEnvelope(x, 0, full);
            Assert.Equal((n + 3) / 4, split.OutputCount);
            for (int first = 0; first <= split.OutputCount; first += 5)
            {
                var coarse = new float[split.OutputCount - first];
                split.SquaredEnvelope(first, coarse);
                for (int j = 0; j < coarse.Length; j++)
                    Assert.Equal(full[4 * (first + j)], coarse[j]);
            }
        }
    }

    [Fact]
    public void AnalyticFir_TapsWithoutLinearPhase_Throws()
    {
        var taps = new AnalyticTaps([0.1, 0.5, 0.2], [0.1, 0, -0.1]);
        Assert.Contains(
            "linear phase",
            Assert.Throws<ArgumentException>(() => new AnalyticFir(taps, KernelPath.Scalar)).Message
        );
    }

    [Fact]
    public void Same_Overlap_Throws()
    {
        var buffer = new float[100];
        var fir = new RealFir([1.0], KernelPath.Scalar);
        Assert.Throws<ArgumentException>(() => fir.Same(buffer.AsSpan(0, 50), 0, buffer.AsSpan(10, 50)));
        Assert.Throws<ArgumentException>(() => fir.Same(buffer.AsSpan(0, 50), 10, buffer.AsSpan(50, 50)));
    }

    [Theory]
    [MemberData(nameof(Paths))]
    public void Envelope_PureTone_IsItsAmplitude(KernelPath path)
    {
        var fir = new AnalyticFir(Band, path);
        float[] x = Enumerable
            .Range(0, 400)
            .Select(i => (float)(0.7 * Math.Cos(2 * Math.PI * 0.075 * i + 1)))
            .ToArray();
        var envelope = new float[300];
        fir.Envelope(x, 50, envelope);
        // The negative-frequency trace of the FIR is below 0.35 % of the gain.
        Assert.All(envelope, e => Assert.Equal(0.7, e, 0.7 * 0.0035));
    }
}
