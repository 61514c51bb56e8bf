using System.Numerics;
using EchoToThickness.Simulation.Waves;
using Xunit;

namespace EchoToThickness.Simulation.Tests.Waves;

public sealed class WaveKernelTests
{
    /// <summary>Values from the tables of Abramowitz and Stegun, Handbook of Mathematical Functions, table 7.7 (7 digits), from memory, and the limit 1/2.</summary>
    [Theory]
    [InlineData(0, 0, 0)]
    [InlineData(0.5, 0.4923442, 0.0647324)]
    [InlineData(1, 0.7798934, 0.4382591)]
    [InlineData(-1, -0.7798934, -0.4382591)]
    [InlineData(2, 0.4882534, 0.3434157)]
    [InlineData(1e9, 0.5, 0.5)]
    public void Fresnel_KnownArguments(double s, double expectedCosine, double expectedSine)
    {
        FresnelIntegral.At(s, out double cosine, out double sine);
        Assert.Equal(expectedCosine, cosine, 1e-7);
        Assert.Equal(expectedSine, sine, 1e-7);
    }

    /// <summary>Both branches against Simpson's rule with steps of 1e-4 (error below 1e-10), across the seam at 8.</summary>
    [Fact]
    public void Fresnel_AgreesWithSimpsonAcrossTheSeam()
    {
        double cosine = 0;
        double sine = 0;
        const double h = 1e-4;
        for (int i = 0; i < 120000; i++)
        {
            double u = i * h;
            cosine += h / 6 * (Cos(u) + 4 * Cos(u + h / 2) + Cos(u + h));
            sine += h / 6 * (Sin(u) + 4 * Sin(u + h / 2) + Sin(u + h));
            if (i % 333 == 332)
            {
                FresnelIntegral.At((i + 1) * h, out double c, out double s);
                Assert.Equal(cosine, c, 3e-8);
                Assert.Equal(sine, s, 3e-8);
            }
        }

        static double Cos(double u) => Math.Cos(Math.PI / 2 * u * u);
        static double Sin(double u) => Math.Sin(Math.PI / 2 * u * u);
    }

    [Fact]
    public void Synthesis_VectorsAndScalar_GiveEqualBitsAtEveryLength()
    {
        double[] hertz = Enumerable.Range(0, 9).Select(i => 1e6 + i * 0.7e6).ToArray();
        float[] rotations = SynthesisKernel.Rotations(hertz, 100e6);
        float[] real = hertz.Select((_, i) => MathF.Sin(i + 1)).ToArray();
        float[] imaginary = hertz.Select((_, i) => MathF.Cos(3 * i)).ToArray();
        var all = new float[256];
        var one = new float[256];
        for (int length = 0; length <= 256; length++)
        {
            Span<float> vector = all.AsSpan(0, (length + 15) / 16 * 16);
            Span<float> scalar = one.AsSpan(0, length);
            SynthesisKernel.Sum(real, imaginary, rotations, 1, vector);
            SynthesisKernel.SumScalar(real, imaginary, rotations, 1, scalar);
            Assert.True(vector[..length].SequenceEqual(scalar), $"length {length}");
        }
    }

    /// <summary>Against the defining sum in double precision; 256 samples are 16 turns of rounding to 6e-8.</summary>
    [Theory]
    [InlineData(1)]
    [InlineData(4)]
    public void Synthesis_IsTheSumOfOscillations(int stride)
    {
        double[] hertz = Enumerable.Range(0, 17).Select(i => 1e6 + i * 0.7e6).ToArray();
        float[] rotations = SynthesisKernel.Rotations(hertz, 100e6);
        int terms = 16 / stride + 1;
        float[] real = Enumerable.Range(0, terms).Select(i => MathF.Sin(i + 1)).ToArray();
        float[] imaginary = Enumerable.Range(0, terms).Select(i => MathF.Cos(3 * i)).ToArray();
        var sums = new float[256];
        SynthesisKernel.Sum(real, imaginary, rotations, stride, sums);
        for (int n = 0; n < sums.Length; n++)
        {
            double expected = 0;
            for (int m = 0; m < terms; m++)
                expected += (
                    new Complex(real[m], imaginary[m])
                    * Complex.FromPolarCoordinates(1, -2 * Math.PI * hertz[m * stride] * n / 100e6)
                ).Real;
            Assert.Equal(expected, sums[n], 3e-5);
        }
    }

    [Theory]
    [InlineData(1, 1)]
    [InlineData(3, 15)]
    [InlineData(2, 16)]
    [InlineData(5, 17)]
    [InlineData(4, 40)]
    public void Footprint_VectorsAndScalar_GiveEqualBits(int rows, int points)
    {
        FootprintCase data = new(rows, points);
        var vector = new float[2 * 16 * data.Terms];
        var scalar = new float[2 * 16 * data.Terms];
        FootprintKernel.Sum(data.Input, vector);
        FootprintKernel.SumScalar(data.Input, scalar);
        Assert.Equal(scalar, vector);
    }

    /// <summary>Against the defining sum in double precision.</summary>
    [Fact]
    public void Footprint_IsTheSumOverPoints()
    {
        FootprintCase data = new(6, 21);
        var sums = new float[2 * 16 * data.Terms];
        FootprintKernel.Sum(data.Input, sums);
        for (int m = 0; m < data.Terms; m++)
        {
            Complex expected = data.Expected(m);
            float real = sums.AsSpan(32 * m, 16).ToArray().Sum();
            float imaginary = sums.AsSpan(32 * m + 16, 16).ToArray().Sum();
            Assert.Equal(expected.Real, real, 2e-4);
            Assert.Equal(expected.Imaginary, imaginary, 2e-4);
        }
    }

    [Fact]
    public void CosineSine_AgreesWithTheMathLibrary()
    {
        for (float x = -700; x < 700; x += 0.0371f)
        {
            (float cosine, float sine) = FootprintKernel.CosineSine(x);
            Assert.Equal(Math.Cos(x), cosine, 2e-7);
            Assert.Equal(Math.Sin(x), sine, 2e-7);
        }
    }

    private sealed class FootprintCase
    {
        private readonly int _rows;
        private readonly int _points;
        private readonly FieldSamples _inner;
        private readonly FieldSamples _outer;
        private readonly float[] _heights;
        private readonly float[] _weights;

        public FootprintCase(int rows, int points)
        {
            (_rows, _points) = (rows, points);
            _inner = Samples(points, 0.3);
            _outer = Samples(rows, 1.1);
            _heights = new float[rows * _inner.Row];
            _weights = new float[rows * _inner.Row];
            for (int j = 0; j < rows; j++)
            {
                for (int i = 0; i < points; i++)
                {
                    _heights[j * _inner.Row + i] = 1e-3f * MathF.Sin(3 * i + 5 * j);
                    _weights[j * _inner.Row + i] = (i + j) % 7 == 0 ? 0 : 0.5f + 0.01f * i;
                }
            }
        }

        public int Terms => 3;

        public FootprintInput Input =>
            new()
            {
                Heights = _heights,
                Weights = _weights,
                Inner = _inner,
                Outer = _outer,
                FirstRadiansPerMetre = 9000,
                StepRadiansPerMetre = 700,
                Stride = 4,
                Terms = Terms,
            };

        public Complex Expected(int term)
        {
            Complex sum = Complex.Zero;
            int m = 4 * term;
            for (int j = 0; j < _rows; j++)
            {
                for (int i = 0; i < _points; i++)
                {
                    int place = j * _inner.Row + i;
                    sum +=
                        _weights[place]
                        * Complex.FromPolarCoordinates(1, _heights[place] * (9000.0 + 700.0 * term))
                        * new Complex(_inner.Real[m * _inner.Row + i], _inner.Imaginary[m * _inner.Row + i])
                        * new Complex(_outer.Real[m * _outer.Row + j], _outer.Imaginary[m * _outer.Row + j]);
                }
            }
            return sum;
        }

        private static FieldSamples Samples(int count, double phase)
        {
            var samples = new FieldSamples(count, 1e-3, 9);
            for (int m = 0; m < 9; m++)
            {
                for (int i = 0; i < count; i++)
                    samples.Set(m, i, Complex.FromPolarCoordinates(1 + 0.1 * m, phase * i * i - m));
            }
            samples.Close();
            return samples;
        }
    }
}
