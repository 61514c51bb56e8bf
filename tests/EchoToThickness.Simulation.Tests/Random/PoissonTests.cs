using EchoToThickness.Simulation.Random;
using Xunit;

namespace EchoToThickness.Simulation.Tests.Random;

public sealed class PoissonTests
{
    [Theory]
    [InlineData(0.0)]
    [InlineData(0.3)]
    [InlineData(4.0)]
    [InlineData(120.0)]
    public void Draw_ManyNumbers_HaveMeanAndVarianceOfTheLaw(double mean)
    {
        const int count = 200_000;
        double sum = 0;
        double squares = 0;
        for (int i = 0; i < count; i++)
        {
            int n = Poisson.Draw(mean, CounterNoise.Uniform(5, 6, (ulong)i));
            sum += n;
            squares += (n - mean) * (n - mean);
        }
        // Standard deviations of mean and variance over the draw: sqrt(m / N) and sqrt((m + 2 m^2) / N).
        Assert.Equal(mean, sum / count, 4 * Math.Sqrt(mean / count) + 1e-12);
        Assert.Equal(mean, squares / count, 4 * Math.Sqrt((mean + 2 * mean * mean) / count) + 1e-12);
    }

    [Fact]
    public void Draw_EndsOfTheUniform_AreFinite()
    {
        Assert.Equal(0, Poisson.Draw(3, 0));
        Assert.InRange(Poisson.Draw(3, 1 - 1.0 / (1UL << 53)), 10, 40);
        Assert.Throws<ArgumentOutOfRangeException>(() => Poisson.Draw(-1, 0.5));
        Assert.Throws<ArgumentOutOfRangeException>(() => Poisson.Draw(501, 0.5));
    }
}
