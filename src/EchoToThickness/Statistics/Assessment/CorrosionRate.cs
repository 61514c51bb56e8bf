namespace EchoToThickness.Statistics.Assessment;

/// <summary>A corrosion rate between two readings.</summary>
/// <param name="MetresPerYear">Loss a year; below zero the wall seems to grow.</param>
/// <param name="StandardUncertaintyMetresPerYear">Standard uncertainty.</param>
/// <param name="SeemsToGrow">Whether the wall seems to grow: then the rate must not be used for a life.</param>
public sealed record CorrosionRate(double MetresPerYear, double StandardUncertaintyMetresPerYear, bool SeemsToGrow)
{
    /// <summary>Rate between two readings: difference over years, uncertainty <c>sqrt(u1^2 + u2^2) / years</c> (JCGM 100).</summary>
    /// <param name="earlierMetres">Earlier wall.</param>
    /// <param name="laterMetres">Later wall.</param>
    /// <param name="years">Years between, above zero.</param>
    /// <param name="earlierUncertaintyMetres">Standard uncertainty of the earlier wall.</param>
    /// <param name="laterUncertaintyMetres">Standard uncertainty of the later wall.</param>
    public static CorrosionRate Between(
        double earlierMetres,
        double laterMetres,
        double years,
        double earlierUncertaintyMetres = 0,
        double laterUncertaintyMetres = 0
    )
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(years);
        double rate = (earlierMetres - laterMetres) / years;
        double uncertainty = double.Hypot(earlierUncertaintyMetres, laterUncertaintyMetres) / years;
        return new CorrosionRate(rate, uncertainty, rate < 0);
    }

    /// <summary>The greater of the long-term and the short-term rate (API 570).</summary>
    /// <param name="longTerm">From the first reading.</param>
    /// <param name="shortTerm">From the last but one reading.</param>
    public static CorrosionRate Governing(CorrosionRate longTerm, CorrosionRate shortTerm)
    {
        ArgumentNullException.ThrowIfNull(longTerm);
        ArgumentNullException.ThrowIfNull(shortTerm);
        return longTerm.MetresPerYear >= shortTerm.MetresPerYear ? longTerm : shortTerm;
    }
}
