using System.Numerics;
using EchoToThickness.Signals;
using Xunit;

namespace EchoToThickness.Tests.Signals;

/// <summary>Against SciPy 1.10.1 (testdata/dsp/scipy.json) and NumPy (testdata/dsp/analytic.json).</summary>
public class FirDesignTests
{
    // Tolerance abs 1e-12: the table's own, double-precision rounding of a few operations.
    private const double Rounding = 1e-12;

    [Theory]
    [InlineData("win-hamming-9-sym", 9)]
    [InlineData("win-hamming-10-sym", 10)]
    [InlineData("win-hamming-1", 1)]
    public void Hamming_AnyLength_MatchesSciPy(string id, int taps) =>
        DspVectors.Near(DspVectors.Doubles(DspVectors.Scipy(id)), FirWindow.Hamming(taps), Rounding);

    [Theory]
    [InlineData("win-kaiser-8.6-9-sym", 9, 8.6)]
    [InlineData("win-kaiser-8.6-10-sym", 10, 8.6)]
    [InlineData("win-kaiser-0-9-sym", 9, 0)]
    public void Kaiser_AnyShape_MatchesSciPy(string id, int taps, double beta) =>
        DspVectors.Near(DspVectors.Doubles(DspVectors.Scipy(id)), FirWindow.Kaiser(taps, beta), Rounding);

    [Fact]
    public void BandPass_KaiserWindow_MatchesSciPyFirwin() =>
        DspVectors.Near(
            DspVectors.Doubles(DspVectors.Scipy("firwin-bp")),
            FirDesign.BandPass(2e6, 8e6, 100e6, FirWindow.Kaiser(31, 6)),
            Rounding
        );

    [Theory]
    [InlineData("firwin-lp", 21)]
    [InlineData("firwin-1tap", 1)]
    public void LowPass_HammingWindow_MatchesSciPyFirwin(string id, int taps) =>
        DspVectors.Near(
            DspVectors.Doubles(DspVectors.Scipy(id)),
            FirDesign.LowPass(0.3, 2, FirWindow.Hamming(taps)),
            Rounding
        );

    [Fact]
    public void ResponseAt_BandPass_MatchesSciPyFreqz()
    {
        double[] taps = FirDesign.BandPass(2e6, 8e6, 100e6, FirWindow.Kaiser(31, 6));
        double[] frequencies = [0, 1e6, 2e6, 5e6, 8e6, 20e6, 50e6];
        Complex[] response = frequencies.Select(f => FrequencyResponse.At(taps, f, 100e6)).ToArray();
        DspVectors.Near(
            DspVectors.Doubles(DspVectors.Scipy("freqz-bp").GetProperty("re")),
            response.Select(h => h.Real).ToArray(),
            Rounding
        );
        DspVectors.Near(
            DspVectors.Doubles(DspVectors.Scipy("freqz-bp").GetProperty("im")),
            response.Select(h => h.Imaginary).ToArray(),
            Rounding
        );
    }

    [Fact]
    public void AnalyticBandPass_TapsAndResponse_MatchNumPy()
    {
        var reference = DspVectors.Read("analytic.json");
        AnalyticTaps taps = FirDesign.AnalyticBandPass(63, 3e6, 12e6, 100e6);
        DspVectors.Near(DspVectors.Doubles(reference.GetProperty("re")), taps.Real, Rounding);
        DspVectors.Near(DspVectors.Doubles(reference.GetProperty("im")), taps.Imaginary, Rounding);
        double[] f = DspVectors.Doubles(reference.GetProperty("f_hz"));
        Complex[] response = f.Select(q => FrequencyResponse.At(taps, q, 100e6)).ToArray();
        DspVectors.Near(
            DspVectors.Doubles(reference.GetProperty("h_re")),
            response.Select(h => h.Real).ToArray(),
            Rounding
        );
        DspVectors.Near(
            DspVectors.Doubles(reference.GetProperty("h_im")),
            response.Select(h => h.Imaginary).ToArray(),
            Rounding
        );
    }

    [Fact]
    public void AnalyticBandPass_Physics_PassesTheBandAndDropsNegativeFrequencies()
    {
        AnalyticTaps taps = FirDesign.AnalyticBandPass(63, 3e6, 12e6, 100e6);
        // A real cosine of amplitude 1 is half positive, half negative frequency: gain 2 makes its envelope 1.
        Assert.Equal(2, FrequencyResponse.At(taps, 7.5e6, 100e6).Magnitude, 1e-12);
        Assert.Equal(1, FrequencyResponse.At(taps, 3e6, 100e6).Magnitude, 0.01);
        Assert.Equal(1, FrequencyResponse.At(taps, 12e6, 100e6).Magnitude, 0.01);
        // Hamming side lobes lie under -50 dB of the pass band (theory: -53 dB for long filters).
        for (double f = -50e6; f < -2e6; f += 0.25e6)
            Assert.True(FrequencyResponse.At(taps, f, 100e6).Magnitude < 2 * 0.0035, $"{f} Hz");
    }

    [Fact]
    public void Gain_Taps_BoundsEveryOutput()
    {
        AnalyticTaps taps = FirDesign.AnalyticBandPass(63, 3e6, 12e6, 100e6);
        // The worst input aligns with the taps: |sum g x| reaches at most sum |g|.
        double worst = 0;
        for (double phase = 0; phase < Math.PI; phase += 0.01)
        {
            double re = 0;
            double im = 0;
            for (int k = 0; k < taps.Count; k++)
            {
                double sign = Math.Sign(Math.Cos(phase) * taps.Real[k] + Math.Sin(phase) * taps.Imaginary[k]);
                re += sign * taps.Real[k];
                im += sign * taps.Imaginary[k];
            }
            worst = Math.Max(worst, double.Hypot(re, im));
        }
        Assert.True(worst <= taps.Gain);
        Assert.True(worst > 0.6 * taps.Gain);
    }

    [Theory]
    [InlineData(0, 8e6)]
    [InlineData(8e6, 2e6)]
    [InlineData(2e6, 50e6)]
    [InlineData(double.NaN, 8e6)]
    public void BandPass_ImpossibleBand_Throws(double low, double high) =>
        Assert.Throws<ArgumentOutOfRangeException>(() => FirDesign.BandPass(low, high, 100e6, FirWindow.Hamming(31)));

    [Fact]
    public void AnalyticBandPass_EvenTaps_Throws() =>
        Assert.Contains(
            "odd",
            Assert.Throws<ArgumentOutOfRangeException>(() => FirDesign.AnalyticBandPass(64, 3e6, 12e6, 100e6)).Message
        );
}
