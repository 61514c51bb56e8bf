namespace EchoToThickness.Statistics.Extremes;

/// <summary>The generalised Pareto distribution of excesses over a threshold; shape 0 is exponential.</summary>
/// <param name="Threshold">Threshold.</param>
/// <param name="Scale">Scale, above zero.</param>
/// <param name="Shape">Shape in the sign of Coles 2001.</param>
public readonly record struct GeneralisedPareto(double Threshold, double Scale, double Shape)
{
    /// <summary>Probability of exceeding a value, given that the threshold is exceeded.</summary>
    /// <param name="value">Value.</param>
    /// <remarks>Source: Coles 2001, eq. 4.2.</remarks>
    public double Exceedance(double value)
    {
        double z = (value - Threshold) / Scale;
        if (z <= 0)
            return 1;
        if (Shape == 0)
            return Math.Exp(-z);
        double y = Shape * z;
        return y <= -1 ? 0 : Math.Exp(-GeneralisedExtremeValue.LogOnePlus(y) / Shape);
    }

    /// <summary>Probability of an excess at or below a value.</summary>
    /// <param name="value">Value.</param>
    public double Cumulative(double value) => 1 - Exceedance(value);

    /// <summary>The value that is exceeded with a given probability.</summary>
    /// <param name="exceedance">Above 0, up to 1.</param>
    public double AtExceedance(double exceedance)
    {
        double log = -Math.Log(exceedance);
        return Threshold + Scale * (Shape == 0 ? log : GeneralisedExtremeValue.ExpMinusOne(Shape * log) / Shape);
    }

    /// <summary>Distribution of the largest of a Poisson number of excesses.</summary>
    /// <param name="expectedExcesses">Mean number, above zero.</param>
    /// <returns>Agrees with the maximum wherever that exceeds the threshold (Coles 2001, section 4.2 and chapter 7).</returns>
    public GeneralisedExtremeValue OfMaximum(double expectedExcesses)
    {
        double scale = Scale * Math.Pow(expectedExcesses, Shape);
        return new GeneralisedExtremeValue(AtExceedance(1 / expectedExcesses), scale, Shape);
    }
}
