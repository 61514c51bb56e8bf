namespace EchoToThickness.Simulation.Random;

/// <summary>Poisson numbers from one uniform number, by inversion of the distribution.</summary>
public static class Poisson
{
    /// <summary>Draws a number of events.</summary>
    /// <param name="mean">Mean number, 0 to 500.</param>
    /// <param name="uniform">Uniform in [0, 1).</param>
    /// <returns>The smallest n whose cumulative probability is above the uniform number.</returns>
    public static int Draw(double mean, double uniform)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(mean);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(mean, 500);
        double probability = Math.Exp(-mean);
        double sum = probability;
        int n = 0;
        // The sum ends a rounding below 1; the bound is beyond any number a uniform of 53 bits can reach.
        while (uniform >= sum && n < 1000)
        {
            n++;
            probability *= mean / n;
            sum += probability;
        }
        return n;
    }
}
