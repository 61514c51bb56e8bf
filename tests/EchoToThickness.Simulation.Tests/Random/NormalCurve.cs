namespace EchoToThickness.Simulation.Tests.Random;

/// <summary>The normal distribution, by series and continued fraction (Abramowitz and Stegun 1964, 26.2.10 and 26.2.14).</summary>
internal static class NormalCurve
{
    public static double Cdf(double x) => x > 0 ? 1 - Tail(x) : Tail(-x);

    /// <summary>Probability of a value above x, x not negative; relative error below 1e-10.</summary>
    public static double Tail(double x)
    {
        double density = Math.Exp(-x * x / 2) / Math.Sqrt(2 * Math.PI);
        if (x < 2.5)
        {
            double term = x;
            double sum = x;
            for (int n = 1; n < 200; n++)
            {
                term *= x * x / (2 * n + 1);
                sum += term;
            }
            return 0.5 - density * sum;
        }
        double fraction = 0;
        for (int n = 200; n > 0; n--)
            fraction = n / (x + fraction);
        return density / (x + fraction);
    }
}
