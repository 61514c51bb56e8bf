using System.Text.Json;
using EchoToThickness.Signals;
using Xunit;

namespace EchoToThickness.Tests.Signals;

/// <summary>Against NumPy 1.24.2 and SciPy 1.10.1 (testdata/dsp/spectral.json, made by tools/testdata/make_spectral_vectors.py).</summary>
public sealed class SpectralTests
{
    private static readonly JsonElement Vectors = DspVectors.Read("spectral.json");

    // Double precision through 7 stages of 128 points: a few hundred times the unit roundoff of sums of size 10.
    private const double Rounding = 1e-11;

    [Fact]
    public void Forward_Trace_IsNumPys()
    {
        (double[] real, double[] imaginary) = Spectrum("trace");
        DspVectors.Near(Part("fft", "re"), real, Rounding);
        DspVectors.Near(Part("fft", "im"), imaginary, Rounding);
    }

    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(8)]
    [InlineData(64)]
    public void Forward_AnyLength_IsTheSum(int length)
    {
        double[] real = DspVectors.Noise(length, 3).Select(v => (double)v).ToArray();
        double[] imaginary = DspVectors.Noise(length, 4).Select(v => (double)v).ToArray();
        double[] fr = [.. real];
        double[] fi = [.. imaginary];
        var transform = new FourierTransform(length);
        transform.Forward(fr, fi);
        for (int k = 0; k < length; k++)
        {
            (double r, double m) = (0, 0);
            for (int n = 0; n < length; n++)
            {
                (double s, double c) = Math.SinCos(-2 * Math.PI * k * n / length);
                r += real[n] * c - imaginary[n] * s;
                m += real[n] * s + imaginary[n] * c;
            }
            Assert.Equal(r, fr[k], Rounding);
            Assert.Equal(m, fi[k], Rounding);
        }
        transform.Inverse(fr, fi);
        DspVectors.Near(real, fr, Rounding);
        DspVectors.Near(imaginary, fi, Rounding);
    }

    [Theory]
    [InlineData(0)]
    [InlineData(12)]
    [InlineData(-4)]
    public void Transform_LengthNotAPowerOfTwo_IsRefused(int length) =>
        Assert.Throws<ArgumentOutOfRangeException>(() => new FourierTransform(length));

    [Fact]
    public void AnalyticSignalByTransform_Trace_IsSciPysHilbert()
    {
        (double[] real, double[] imaginary) = Spectrum("trace");
        for (int k = 1; k < 64; k++)
            (real[k], imaginary[k]) = (2 * real[k], 2 * imaginary[k]);
        real.AsSpan(65).Clear();
        imaginary.AsSpan(65).Clear();
        new FourierTransform(128).Inverse(real, imaginary);
        DspVectors.Near(Part("hilbert", "re"), real, Rounding);
        DspVectors.Near(Part("hilbert", "im"), imaginary, Rounding);
    }

    [Fact]
    public void AutocorrelationByTransform_Trace_IsSciPys()
    {
        double[] trace = Array("trace");
        double[] real = new double[256];
        double[] imaginary = new double[256];
        trace.CopyTo(real, 0);
        var transform = new FourierTransform(256);
        transform.Forward(real, imaginary);
        for (int k = 0; k < 256; k++)
            (real[k], imaginary[k]) = (real[k] * real[k] + imaginary[k] * imaginary[k], 0);
        transform.Inverse(real, imaginary);
        DspVectors.Near(Array("autocorrelation"), real[..128], Rounding);
    }

    [Fact]
    public void Wiener_Trace_IsNumPys()
    {
        (double[] real, double[] imaginary) = Spectrum("trace");
        (double[] pulseReal, double[] pulseImaginary) = Spectrum("reference");
        double largest = pulseReal.Zip(pulseImaginary, (r, m) => r * r + m * m).Max();
        Homomorphic.Wiener(real, imaginary, pulseReal, pulseImaginary, 0.01 * largest);
        new FourierTransform(128).Inverse(real, imaginary);
        DspVectors.Near(Part("wiener", "re"), real, Rounding);
        DspVectors.Near(Part("wiener", "im"), imaginary, Rounding);
    }

    [Fact]
    public void Wiener_NothingAnywhere_GivesZeros()
    {
        double[] real = new double[8];
        double[] imaginary = new double[8];
        Homomorphic.Wiener(real, imaginary, new double[8], new double[8], 0);
        Assert.All(real, v => Assert.Equal(0, v));
    }

    [Fact]
    public void RealCepstrum_Trace_IsNumPys()
    {
        double[] real = [.. Array("trace")];
        double[] imaginary = new double[128];
        Homomorphic.RealCepstrum(new FourierTransform(128), real, imaginary, 1e-3);
        // The logarithm of the smallest bins magnifies rounding by 1 / (|X| + 1e-3).
        DspVectors.Near(Array("cepstrum"), real, 1e-9);
    }

    [Theory]
    [InlineData("burg_real")]
    [InlineData("burg_complex")]
    public void Burg_OutsideSolution_SameCoefficients(string name)
    {
        JsonElement element = Vectors.GetProperty(name);
        bool complex = name == "burg_complex";
        double[] real = complex ? DspVectors.Doubles(element.GetProperty("x").GetProperty("re")) : Array("trace");
        double[] imaginary = complex
            ? DspVectors.Doubles(element.GetProperty("x").GetProperty("im"))
            : new double[real.Length];
        double[] expectedReal = Part(name, "a", "re");
        double[] expectedImaginary = Part(name, "a", "im");
        int order = expectedReal.Length;
        double[] a = new double[order];
        double[] b = new double[order];
        double power = AutoregressiveModel.Burg(real, imaginary, a, b, new double[4 * real.Length + 2 * order]);
        // Least squares by another algorithm: the conditioning of the last stage (residual 1e-4 of the signal) costs digits.
        DspVectors.Near(expectedReal, a, 1e-8);
        DspVectors.Near(expectedImaginary, b, 1e-8);
        Assert.Equal(element.GetProperty("power").GetDouble(), power, 1e-8);
    }

    [Fact]
    public void Extrapolate_ThreeTones_ContinuesThemAndItsOwnReflection()
    {
        JsonElement element = Vectors.GetProperty("burg_complex");
        double[] expected = Part("extrapolated", "re");
        double[] real = [.. DspVectors.Doubles(element.GetProperty("x").GetProperty("re")), .. new double[20]];
        double[] imaginary = [.. DspVectors.Doubles(element.GetProperty("x").GetProperty("im")), .. new double[20]];
        double[] a = Part("burg_complex", "a", "re");
        double[] b = Part("burg_complex", "a", "im");
        AutoregressiveModel.Extrapolate(real, imaginary, 0, 60, a, b);
        DspVectors.Near(expected, real[60..], 1e-9);
        // Backwards: the conjugate of the reversed sequence, continued forwards, is the same thing.
        double[] turnedReal = [.. new double[20], .. real.Take(60).Reverse()];
        double[] turnedImaginary = [.. new double[20], .. imaginary.Take(60).Reverse().Select(v => -v)];
        AutoregressiveModel.Extrapolate(turnedReal, turnedImaginary, 20, 80, a, b);
        DspVectors.Near(real[60..], turnedReal[..20].Reverse().ToArray(), 1e-9);
    }

    [Fact]
    public void YuleWalker_Autocorrelation_IsSciPysToeplitzSolution()
    {
        double[] lags = DspVectors.Doubles(Vectors.GetProperty("yule_walker").GetProperty("r"));
        double[] a = new double[6];
        double power = AutoregressiveModel.YuleWalker(lags, a, new double[6]);
        DspVectors.Near(DspVectors.Doubles(Vectors.GetProperty("yule_walker").GetProperty("a")), a, 1e-10);
        Assert.Equal(Vectors.GetProperty("yule_walker").GetProperty("power").GetDouble(), power, 1e-12);
    }

    [Fact]
    public void Burg_OrderTooLarge_SaysSo()
    {
        ArgumentException error = Assert.Throws<ArgumentException>(() =>
            AutoregressiveModel.Burg(new double[4], new double[4], new double[4], new double[4], new double[64])
        );
        Assert.Contains("Order 4 needs more than 4 samples", error.Message, StringComparison.Ordinal);
    }

    private static (double[] Real, double[] Imaginary) Spectrum(string name)
    {
        double[] real = new double[128];
        double[] imaginary = new double[128];
        Array(name).CopyTo(real, 0);
        new FourierTransform(128).Forward(real, imaginary);
        return (real, imaginary);
    }

    private static double[] Array(string name) => DspVectors.Doubles(Vectors.GetProperty(name));

    private static double[] Part(string name, string part) =>
        DspVectors.Doubles(Vectors.GetProperty(name).GetProperty(part));

    private static double[] Part(string name, string inner, string part) =>
        DspVectors.Doubles(Vectors.GetProperty(name).GetProperty(inner).GetProperty(part));
}
