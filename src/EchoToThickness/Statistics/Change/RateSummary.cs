using EchoToThickness.Statistics.Describe;

namespace EchoToThickness.Statistics.Change;

/// <summary>Rates of a part of a component.</summary>
/// <param name="Name">The part.</param>
/// <param name="Cells">Cells compared.</param>
/// <param name="AreaSquareMetres">Their true area.</param>
/// <param name="SignificantCells">Cells with a significant change (false-discovery rate over the whole map).</param>
/// <param name="MeanMetresPerYear">Area-weighted mean rate; loss above zero.</param>
/// <param name="TrueDeviationMetresPerYear">Deviation of the rate that the uncertainties do not explain; 0 where they explain all.</param>
/// <param name="UncertaintyMetresPerYear">Root mean square of the cells' standard uncertainty: that of the rate of one cell, and of all where the error is common.</param>
/// <param name="UpperMetresPerYear">
/// Rate that 95 % of the area does not exceed, noise taken out: mean plus 1.645 true deviations (normal). This feeds a remaining life.
/// </param>
/// <param name="GrowingFraction">Share of the area where the wall seems to grow.</param>
public sealed record RateSummary(
    string Name,
    int Cells,
    double AreaSquareMetres,
    int SignificantCells,
    double MeanMetresPerYear,
    double TrueDeviationMetresPerYear,
    double UncertaintyMetresPerYear,
    double UpperMetresPerYear,
    double GrowingFraction
)
{
    /// <summary>Summary of the cells of a part.</summary>
    /// <param name="name">Its name.</param>
    /// <param name="change">The change.</param>
    /// <param name="earlier">The earlier survey: areas of the cells.</param>
    /// <param name="holds">Whether a cell belongs to the part.</param>
    /// <returns>Null where fewer than two cells were compared.</returns>
    public static RateSummary? Of(string name, ThicknessChange change, ThicknessMap earlier, Func<int, bool> holds)
    {
        ArgumentNullException.ThrowIfNull(change);
        ArgumentNullException.ThrowIfNull(earlier);
        ArgumentNullException.ThrowIfNull(holds);
        var rates = new List<double>();
        var areas = new List<double>();
        double squares = 0;
        double growing = 0;
        int significant = 0;
        for (int k = 0; k < earlier.Count; k++)
        {
            if (double.IsNaN(change.LossMetres[k]) || !holds(k))
                continue;
            double area = earlier.AreaSquareMetres[k];
            double u = change.UncertaintyMetres[k] / change.Settings.Years;
            rates.Add(change.RateMetresPerYear[k]);
            areas.Add(area);
            squares += area * u * u;
            growing += change.LossMetres[k] < 0 ? area : 0;
            significant += change.IsSignificant[k] ? 1 : 0;
        }
        if (rates.Count < 2)
            return null;
        double whole = areas.Sum();
        WeightedMoments moments = WeightedMoments.Of(rates.ToArray(), areas.ToArray());
        double deviation = Math.Sqrt(
            Math.Max(0, moments.StandardDeviation * moments.StandardDeviation - squares / whole)
        );
        return new RateSummary(
            name,
            rates.Count,
            whole,
            significant,
            moments.Mean,
            deviation,
            Math.Sqrt(squares / whole),
            moments.Mean + 1.6448536269514722 * deviation,
            growing / whole
        );
    }
}
