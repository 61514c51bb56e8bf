using EchoToThickness.Signals;
using Xunit;

namespace EchoToThickness.Tests.Signals;

/// <summary>Against SciPy (testdata/dsp/scipy.json) and direct sums in double precision.</summary>
public class CorrelationTests
{
    public static TheoryData<KernelPath> Paths => DspVectors.AllPaths;

    [Theory]
    [MemberData(nameof(Paths))]
    public void Sliding_X16_MatchesSciPyValid(KernelPath path)
    {
        float[] x = DspVectors.Floats(DspVectors.Data("x16"));
        var r = new float[12];
        Correlation.Sliding(x, x.AsSpan(0, 5), r, path);
        DspVectors.Near(DspVectors.Doubles(DspVectors.Scipy("correlate-valid")), r, 2e-6);
    }

    [Theory]
    [MemberData(nameof(Paths))]
    public void SlidingNormalised_X16Reversed_MatchesTable(KernelPath path)
    {
        float[] x = DspVectors.Floats(DspVectors.Data("x16"));
        var r = new float[1];
        Correlation.SlidingNormalised(x, [.. x.Reverse()], r, path);
        Assert.Equal(DspVectors.Scipy("ncc")[0].GetDouble(), r[0], 1e-6);
    }

    [Fact]
    public void EveryPath_EveryLength_GivesTheScalarBits()
    {
        for (int template = 1; template <= 256; template += 17)
        {
            for (int lags = 1; lags <= 256; lags += 5)
            {
                float[] x = DspVectors.Noise(lags + template - 1, lags);
                float[] t = DspVectors.Noise(template, template);
                var expected = new float[lags];
                Correlation.Sliding(x, t, expected, KernelPath.Scalar);
                foreach (KernelPath path in DspVectors.Paths)
                {
                    var r = new float[lags];
                    Correlation.Sliding(x, t, r, path);
                    Assert.Equal(expected, r);
                }
            }
        }
    }

    [Theory]
    [MemberData(nameof(Paths))]
    public void Normalised_AnyGainAndOffset_FindsTheTemplate(KernelPath path)
    {
        float[] t = DspVectors.Noise(64, 1);
        float[] x = DspVectors.Noise(500, 2).Select(v => 0.05f * v).ToArray();
        for (int k = 0; k < 64; k++)
            x[200 + k] = -0.4f * t[k];
        var plain = new float[437];
        var centred = new float[437];
        Correlation.SlidingNormalised(x, t, plain, path);
        Correlation.SlidingCentred(x.Select(v => v + 3f).ToArray(), t, new float[64], centred, path);
        Assert.Equal(200, Magnitude.IndexOfLargest(plain, path));
        Assert.Equal(-1, plain[200], 1e-5);
        Assert.Equal(200, Magnitude.IndexOfLargest(centred, path));
        // The offset of 3 costs digits: sums of 64 x 9 against a spread of 1.
        Assert.Equal(-1, centred[200], 1e-3);
        Assert.All(plain, r => Assert.InRange(r, -1, 1));
    }

    [Fact]
    public void Normalised_SilentStretch_GivesZero()
    {
        float[] t = [1, -1, 1];
        var r = new float[8];
        Correlation.SlidingNormalised([1, 2, 3, 0, 0, 0, 0, 1, 0, 0], t, r, KernelPath.Scalar);
        Assert.Equal(0f, r[3]);
        Correlation.SlidingCentred([5, 5, 5, 5, 5, 5, 5, 1, 0, 0], t, new float[3], r, KernelPath.Scalar);
        Assert.Equal(0f, r[0]);
        Assert.Equal(0f, r[4]);
    }

    [Theory]
    [MemberData(nameof(Paths))]
    public void Auto_EveryLength_MatchesDirectSum(KernelPath path)
    {
        for (int n = 1; n <= 256; n += 3)
        {
            float[] x = DspVectors.Noise(n, n);
            foreach (int firstLag in new[] { 0, 1, n / 2, n + 3 })
            {
                var r = new float[n];
                Correlation.Auto(x, firstLag, r, new float[2 * n + firstLag], path);
                for (int l = 0; l < n; l++)
                {
                    double sum = 0;
                    for (int i = 0; i + firstLag + l < n; i++)
                        sum += (double)x[i] * x[i + firstLag + l];
                    // 256 products of at most 0.25, rounded at sums up to 21.
                    Assert.Equal(sum, r[l], 1e-5);
                }
            }
        }
    }

    [Theory]
    [MemberData(nameof(Paths))]
    public void NeighbourAverage_ThreeRecords_IsTheirMean(KernelPath path)
    {
        for (int n = 0; n <= 256; n++)
        {
            float[] a = DspVectors.Noise(n, 1);
            float[] b = DspVectors.Noise(n, 2);
            float[] c = DspVectors.Noise(n, 3);
            var sum = new float[n];
            NeighbourAverage.Add(a, sum, path);
            NeighbourAverage.Add(b, sum, path);
            NeighbourAverage.Add(c, sum, path);
            NeighbourAverage.Scale(sum, 1 / 3f, path);
            Assert.Equal(Enumerable.Range(0, n).Select(i => (a[i] + b[i] + c[i]) * (1 / 3f)), sum);
        }
    }
}
