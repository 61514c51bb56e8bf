namespace EchoToThickness.Statistics.Extremes;

/// <summary>The generalised extreme-value distribution of block maxima; shape 0 is Gumbel's.</summary>
/// <param name="Location">Location.</param>
/// <param name="Scale">Scale, above zero.</param>
/// <param name="Shape">Shape in the sign of Coles 2001: above zero a heavy tail, below zero an upper end.</param>
public readonly record struct GeneralisedExtremeValue(double Location, double Scale, double Shape)
{
    /// <summary>Minus the logarithm of the distribution function: <c>(1 + shape z)^(-1/shape)</c>, <c>exp(-z)</c> for shape 0.</summary>
    /// <param name="value">Value; above the upper end 0, below the lower end infinity.</param>
    /// <remarks>Source: Coles, An Introduction to Statistical Modeling of Extreme Values, 2001, eq. 3.2.</remarks>
    public double Hazard(double value)
    {
        double z = (value - Location) / Scale;
        if (Shape == 0)
            return Math.Exp(-z);
        double y = Shape * z;
        return y <= -1 ? (Shape < 0 ? 0 : double.PositiveInfinity) : Math.Exp(-LogOnePlus(y) / Shape);
    }

    /// <summary>Probability of a maximum at or below a value.</summary>
    /// <param name="value">Value.</param>
    public double Cumulative(double value) => Math.Exp(-Hazard(value));

    /// <summary>Density.</summary>
    /// <param name="value">Value.</param>
    public double Density(double value)
    {
        double t = Hazard(value);
        return t is 0 or double.PositiveInfinity ? 0 : Math.Exp((Shape + 1) * Math.Log(t) - t) / Scale;
    }

    /// <summary>The value that a share of the maxima does not exceed.</summary>
    /// <param name="probability">Above 0, below 1.</param>
    public double Quantile(double probability) => AtHazard(-Math.Log(probability));

    /// <summary>The value at which <see cref="Hazard"/> has a given value.</summary>
    /// <param name="hazard">Above zero.</param>
    public double AtHazard(double hazard)
    {
        double log = -Math.Log(hazard);
        return Location + Scale * (Shape == 0 ? log : ExpMinusOne(Shape * log) / Shape);
    }

    /// <summary>Distribution of the maximum over many blocks (max-stability; HSE RR016 5.3.3 for the rule).</summary>
    /// <param name="blocks">Number of blocks, above zero, need not be whole: the ratio of areas.</param>
    public GeneralisedExtremeValue OverBlocks(double blocks)
    {
        double factor = Math.Pow(blocks, Shape);
        return new GeneralisedExtremeValue(AtHazard(1 / blocks), Scale * factor, Shape);
    }

    /// <summary>The level exceeded once in so many blocks: quantile <c>1 - 1/blocks</c>.</summary>
    /// <param name="blocks">Above 1.</param>
    public double ReturnLevel(double blocks) => AtHazard(-LogOnePlus(-1 / blocks));

    internal static double LogOnePlus(double x)
    {
        // Kahan: exact to rounding for small x.
        double u = 1 + x;
        return u == 1 ? x : Math.Log(u) * x / (u - 1);
    }

    internal static double ExpMinusOne(double x) =>
        Math.Abs(x) < 1e-5 ? x * (1 + x / 2 * (1 + x / 3)) : Math.Exp(x) - 1;
}
