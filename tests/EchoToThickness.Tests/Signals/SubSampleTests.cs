using System.Globalization;
using System.Text.RegularExpressions;
using EchoToThickness.Signals;
using Xunit;

namespace EchoToThickness.Tests.Signals;

/// <summary>Closed-form biases (testdata/dsp/interpolation.csv, mpmath) and delayed pulses (testdata/dsp/pulses.json, SciPy).</summary>
public class SubSampleTests
{
    [Fact]
    public void Parabola_SampledCosine_HasTheClosedFormBias()
    {
        int seen = 0;
        foreach (string row in File.ReadLines(Path.Combine(DspVectors.Folder, "interpolation.csv")))
        {
            Match match = Regex.Match(
                row,
                @"^TD-par-(\d+)-([\d.]+),.*true sub-sample offset [\d.]+"",([-\d.e]+),samples,abs 1e-9"
            );
            if (!match.Success)
                continue;
            seen++;
            double omega = 2 * Math.PI / int.Parse(match.Groups[1].Value, CultureInfo.InvariantCulture);
            double d = double.Parse(match.Groups[2].Value, CultureInfo.InvariantCulture);
            double bias = double.Parse(match.Groups[3].Value, CultureInfo.InvariantCulture);
            double estimate = SubSample.Parabola(
                Math.Cos(omega * (-1 - d)),
                Math.Cos(omega * d),
                Math.Cos(omega * (1 - d))
            );
            Assert.Equal(bias, estimate - d, 1e-9);
        }
        Assert.Equal(24, seen);
    }

    [Theory]
    [InlineData(1.0, 0.25, -0.0453920515321)]
    [InlineData(2.0, 0.4, -0.00916419327156)]
    [InlineData(5.0, 0.25, -0.00187340243887)]
    public void ParabolaAndGaussian_SampledGaussian_HaveTheClosedFormBias(double sigma, double d, double bias)
    {
        // Rows TD-gau-* (parabola) and TD-gaulog-* (logarithms: exact).
        double Y(int k) => Math.Exp(-(k - d) * (k - d) / (2 * sigma * sigma));
        Assert.Equal(bias, SubSample.Parabola(Y(-1), Y(0), Y(1)) - d, 1e-9);
        Assert.Equal(d, SubSample.Gaussian(Y(-1), Y(0), Y(1)), 1e-12);
    }

    [Fact]
    public void Cosine_SampledCosine_IsExact()
    {
        // Row TD-cos: bias 0 for any frequency and offset.
        for (double omega = 0.1; omega < 3; omega += 0.1)
        {
            for (double d = -0.5; d <= 0.5; d += 0.05)
                Assert.Equal(
                    d,
                    SubSample.Cosine(Math.Cos(omega * (-1 - d)), Math.Cos(omega * d), Math.Cos(omega * (1 - d))),
                    1e-10
                );
        }
    }

    [Fact]
    public void Pulses_DelayedCopies_GiveSciPysEstimates()
    {
        var pulses = DspVectors.Read("pulses.json");
        double[] reference = DspVectors.Doubles(pulses.GetProperty("reference").GetProperty("x"));
        int seen = 0;
        foreach (var pulse in pulses.GetProperty("cases").EnumerateArray())
        {
            double[] x = DspVectors.Doubles(pulse.GetProperty("x"));
            if (pulse.GetProperty("name").GetString()!.StartsWith("inverted", StringComparison.Ordinal))
                x = x.Select(v => -v).ToArray();
            double R(int lag) =>
                Enumerable.Range(0, 192).Where(i => i + lag is >= 0 and < 192).Sum(i => reference[i] * x[i + lag]);
            int best = Enumerable.Range(-60, 121).MaxBy(R);
            var results = pulse.GetProperty("results");
            // Half-sample case: the two lags tie within rounding, either is right (README of the table).
            Assert.InRange(
                best,
                results.GetProperty("argmax_lag").GetInt32() - 1,
                results.GetProperty("argmax_lag").GetInt32()
            );
            Assert.Equal(
                results.GetProperty("lag_parabolic").GetDouble(),
                best + SubSample.Parabola(R(best - 1), R(best), R(best + 1)),
                1e-9
            );
            Assert.Equal(
                results.GetProperty("lag_cosine").GetDouble(),
                best + SubSample.Cosine(R(best - 1), R(best), R(best + 1)),
                1e-9
            );
            seen++;
        }
        Assert.Equal(6, seen);
    }

    [Fact]
    public void EveryRule_NoPeak_StaysOnTheSample()
    {
        Assert.Equal(0, SubSample.Parabola(1, 1, 1));
        Assert.Equal(0, SubSample.Parabola(2, 1, 2));
        Assert.Equal(0, SubSample.Cosine(0, 0, 0));
        Assert.Equal(0, SubSample.Gaussian(0, 0, 0));
        Assert.Equal(0, SubSample.Parabola(double.NaN, 1, 0));
        Assert.Equal(0.5, SubSample.Parabola(0, 1, 1.5));
        Assert.Equal(-0.5, SubSample.Parabola(1.5, 1, 0));
    }

    [Fact]
    public void Phase_RotatingValue_FindsZeroPhase()
    {
        for (double d = -3; d <= 3; d += 0.25)
            Assert.Equal(d, SubSample.Phase(Math.Cos(-0.5 * d), Math.Sin(-0.5 * d), 0.5), 1e-12);
        Assert.Throws<ArgumentOutOfRangeException>(() => SubSample.Phase(1, 0, 0));
    }
}
