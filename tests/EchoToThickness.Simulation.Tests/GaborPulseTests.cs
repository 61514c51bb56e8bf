using EchoToThickness.Simulation;
using Xunit;

namespace EchoToThickness.Simulation.Tests;

public sealed class GaborPulseTests
{
    [Fact]
    public void Add_SpectrumAtHalfTheBandwidth_IsSixDecibelsDown()
    {
        const double rate = 1e9;
        var samples = new float[4000];
        new GaborPulse(7e6, 0.6).Add(samples, 0, rate, 2e-6, 1);
        double centre = Magnitude(samples, rate, 7e6);
        // A spectrum of exp(-(2 pi D)^2 s^2 / 2) is one half at D = B f / 2 by the choice of s; the mirror image at -7 MHz adds under 1e-4.
        Assert.Equal(0.5, Magnitude(samples, rate, 7e6 * 1.3) / centre, 1e-3);
        Assert.Equal(0.5, Magnitude(samples, rate, 7e6 * 0.7) / centre, 1e-3);
    }

    [Fact]
    public void Add_ArrivalBetweenSamples_IsCentredThere()
    {
        var samples = new float[400];
        const double arrival = 2.00037e-6;
        new GaborPulse(7e6, 0.6).Add(samples, 0, 100e6, arrival, 0.8);
        double energy = 0;
        double moment = 0;
        for (int i = 0; i < samples.Length; i++)
        {
            energy += samples[i] * samples[i];
            moment += samples[i] * samples[i] * (i / 100e6);
        }
        // The pulse is even about its arrival, so the centroid of its energy is the arrival; float32 leaves about 1e-7 of a sample.
        Assert.Equal(arrival, moment / energy, 1e-13);
    }

    [Fact]
    public void Add_ArrivalOutsideTheRecord_TouchesNothing()
    {
        var samples = new float[100];
        var pulse = new GaborPulse(7e6, 0.6);
        pulse.Add(samples, 1e-6, 100e6, 0, 1);
        pulse.Add(samples, 1e-6, 100e6, 1e-3, 1);
        Assert.All(samples, s => Assert.Equal(0, s));
    }

    private static double Magnitude(float[] samples, double rate, double frequency)
    {
        double real = 0;
        double imaginary = 0;
        for (int i = 0; i < samples.Length; i++)
        {
            real += samples[i] * Math.Cos(2 * Math.PI * frequency * i / rate);
            imaginary += samples[i] * Math.Sin(2 * Math.PI * frequency * i / rate);
        }
        return Math.Sqrt(real * real + imaginary * imaginary);
    }
}
