using EchoToThickness.Simulation.Instruments;
using Xunit;

namespace EchoToThickness.Simulation.Tests.Instruments;

public sealed class GrainFieldTests
{
    private const int Samples = 800;
    private const double Rate = 100e6;
    private const double Correlation = 4e-3;

    [Fact]
    public void Noise_OfManyPlaces_HasItsSizeAndDecay()
    {
        // 3 dB in 1 us.
        GrainField field = Field(3e6);
        double[] power = new double[Samples];
        const int places = 1000;
        float[] samples = new float[Samples];
        for (int i = 0; i < places; i++)
        {
            Array.Clear(samples);
            field.Add(samples, i * 31e-3, 0.1, 100, 0.02);
            for (int k = 0; k < Samples; k++)
                power[k] += (double)samples[k] * samples[k] / places;
        }
        Assert.All(power[..100], p => Assert.Equal(0, p));
        // Averages over 100 samples of 1000 places hold some 1000 × 7 independent values: 2 % of the power, 1 % of the size.
        foreach (int at in (int[])[200, 400, 600])
        {
            double rms = Math.Sqrt(power[(at - 50)..(at + 50)].Average());
            double expected = 0.02 * Math.Pow(10, -3e6 * (at - 100) / Rate / 20);
            Assert.Equal(expected, rms, 0.04 * expected);
        }
    }

    [Theory]
    [InlineData(0.0, 1.0)]
    [InlineData(1e-3, 0.9394)]
    [InlineData(2e-3, 0.7788)]
    [InlineData(4e-3, 0.3679)]
    [InlineData(8e-3, 0.0183)]
    public void Noise_OfNeighbouringBeams_CorrelatesAsTheirBeamsOverlap(double distance, double expected)
    {
        // exp(-(d / D)²) with D the correlation distance, along and around alike.
        GrainField field = Field(0);
        double[] sums = new double[6];
        float[] here = new float[Samples];
        float[] along = new float[Samples];
        float[] around = new float[Samples];
        for (int i = 0; i < 300; i++)
        {
            // Places fall anywhere between the nodes of the lattice.
            (double a, double c) = (i * 33.37e-3, i * 0.771e-3);
            Array.Clear(here);
            Array.Clear(along);
            Array.Clear(around);
            field.Add(here, a, c, 0, 1);
            field.Add(along, a + distance, c, 0, 1);
            field.Add(around, a, c + distance, 0, 1);
            for (int k = 0; k < Samples; k++)
            {
                sums[0] += (double)here[k] * here[k];
                sums[1] += (double)along[k] * along[k];
                sums[2] += (double)around[k] * around[k];
                sums[3] += (double)here[k] * along[k];
                sums[4] += (double)here[k] * around[k];
            }
        }
        // Some 300 × 50 independent values: 0.008 standard deviation; the lattice adds 0.004.
        Assert.Equal(expected, sums[3] / Math.Sqrt(sums[0] * sums[1]), 0.03);
        Assert.Equal(expected, sums[4] / Math.Sqrt(sums[0] * sums[2]), 0.03);
    }

    [Fact]
    public void Noise_MovesWithTheInterface()
    {
        // The same metal under a thicker couplant: the same noise, later. A whole sample is exact, a part is rounded to a quarter sample.
        GrainField field = Field(2e6);
        float[] first = new float[Samples];
        float[] later = new float[Samples];
        field.Add(first, 0.05, 0.02, 100.5, 0.1);
        field.Add(later, 0.05, 0.02, 137.5, 0.1);
        for (int k = 101; k < Samples - 37; k++)
            Assert.Equal(first[k], later[k + 37]);
        float[] part = new float[Samples];
        field.Add(part, 0.05, 0.02, 100.75, 0.1);
        double difference = Math.Sqrt(
            first.Zip(part, (a, b) => Math.Pow(a - b, 2)).Sum() / first.Sum(a => (double)a * a)
        );
        // A quarter of a sample at 7 MHz is a phase of 2 pi × 7e6 × 2.5e-9 = 0.11.
        Assert.InRange(difference, 0.08, 0.14);
    }

    [Fact]
    public void Noise_HasTheSpectrumOfThePulse()
    {
        GrainField field = Field(0);
        double low = 0;
        double middle = 0;
        double high = 0;
        float[] samples = new float[Samples];
        for (int i = 0; i < 200; i++)
        {
            Array.Clear(samples);
            field.Add(samples, i * 40e-3, 0, -100, 1);
            low += Power(samples, 7e6 * 0.7);
            middle += Power(samples, 7e6);
            high += Power(samples, 7e6 * 1.3);
        }
        // At ±30 % of the centre a pulse of 60 % bandwidth has lost 6 dB. 200 values: 7 % each.
        Assert.Equal(0.25, low / middle, 0.08);
        Assert.Equal(0.25, high / middle, 0.08);
    }

    [Theory]
    [InlineData(double.NaN)]
    [InlineData(800.0)]
    [InlineData(1e9)]
    [InlineData(-1e9)]
    [InlineData(double.NegativeInfinity)]
    public void Add_InterfaceOutsideTheRecord_LeavesNothingWrong(double interfaceSample)
    {
        float[] samples = new float[Samples];
        Field(0).Add(samples, 0, 0, interfaceSample, 1);
        Assert.All(samples, v => Assert.Equal(0f, v));
    }

    private static double Power(float[] samples, double frequencyHz)
    {
        double re = 0;
        double im = 0;
        for (int k = 0; k < samples.Length; k++)
        {
            (double s, double c) = Math.SinCos(2 * Math.PI * frequencyHz * k / Rate);
            // A Hann window keeps the skirts of the strong middle out.
            double window = Math.Pow(Math.Sin(Math.PI * k / samples.Length), 2);
            re += window * samples[k] * c;
            im += window * samples[k] * s;
        }
        return re * re + im * im;
    }

    private static GrainField Field(double decayDecibelsPerSecond) =>
        new(11, 7e6, 0.6, Correlation, decayDecibelsPerSecond, Rate, Samples);
}
