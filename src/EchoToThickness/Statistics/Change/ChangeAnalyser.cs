using EchoToThickness.Statistics.Describe;
using EchoToThickness.Statistics.Numerics;

namespace EchoToThickness.Statistics.Change;

/// <summary>Change, its significance, and rates between two surveys.</summary>
public static class ChangeAnalyser
{
    /// <summary>Compares two surveys on the same cells.</summary>
    /// <param name="earlier">Earlier survey.</param>
    /// <param name="later">Later survey, brought onto the same axes by <see cref="SurveyRegistration.Resample"/>.</param>
    /// <param name="settings">How.</param>
    /// <exception cref="StatisticsException">The maps differ in shape, nothing is measured in both, or no uncertainty is known.</exception>
    /// <remarks>
    /// Uncertainty of a difference: root of the sum of squares of both and of the registration (JCGM 100). For a long-term rate give the
    /// first survey as the earlier one, for a short-term rate the last but one.
    /// </remarks>
    public static ThicknessChange Compare(ThicknessMap earlier, ThicknessMap later, ChangeSettings settings)
    {
        ArgumentNullException.ThrowIfNull(earlier);
        ArgumentNullException.ThrowIfNull(later);
        ArgumentNullException.ThrowIfNull(settings);
        Check(earlier, later, settings);
        int count = earlier.Count;
        var loss = new double[count];
        var uncertainty = new double[count];
        var rate = new double[count];
        var probabilities = new List<double>();
        var cells = new List<int>();
        double noise = 0;
        double compared = 0;
        double growing = 0;
        for (int k = 0; k < count; k++)
        {
            loss[k] = earlier.ThicknessMetres[k] - later.ThicknessMetres[k];
            rate[k] = loss[k] / settings.Years;
            uncertainty[k] = double.NaN;
            if (double.IsNaN(loss[k]))
                continue;
            double u = double.Hypot(
                double.Hypot(earlier.StandardUncertaintyMetres[k], later.StandardUncertaintyMetres[k]),
                settings.RegistrationUncertaintyMetres
            );
            if (!(u > 0))
                throw new StatisticsException(
                    "The uncertainty of a difference is zero: every change would be significant.",
                    FormattableString.Invariant($"cell [{k / earlier.AroundCount}, {k % earlier.AroundCount}]"),
                    "give the uncertainty layer of at least one survey, or a registration uncertainty"
                );
            uncertainty[k] = u;
            double z = loss[k] / u;
            probabilities.Add(
                settings.OnlyLoss ? NormalDistribution.Below(-z) : 2 * NormalDistribution.Below(-Math.Abs(z))
            );
            cells.Add(k);
            double area = earlier.AreaSquareMetres[k];
            compared += area;
            noise += area * u * u;
            if (loss[k] < 0)
                growing += area;
        }
        bool[] significant = new bool[count];
        bool[] found = FalseDiscovery.Reject(probabilities.ToArray(), settings.FalseDiscoveryRate);
        double significantArea = 0;
        for (int k = 0; k < found.Length; k++)
            if (found[k])
            {
                significant[cells[k]] = true;
                significantArea += earlier.AreaSquareMetres[cells[k]];
            }
        WeightedMoments moments = WeightedMoments.Of(rate, AreasOf(earlier, rate));
        double explained = noise / compared / (settings.Years * settings.Years);
        return new ThicknessChange
        {
            Settings = settings,
            LossMetres = loss,
            UncertaintyMetres = uncertainty,
            IsSignificant = significant,
            Cells = cells.Count,
            SignificantCells = found.Count(f => f),
            SignificantAreaSquareMetres = significantArea,
            RateMetresPerYear = rate,
            Rate = moments,
            TrueRateDeviationMetresPerYear = Math.Sqrt(
                Math.Max(0, moments.StandardDeviation * moments.StandardDeviation - explained)
            ),
            RateQuantiles = QuantilesOf(earlier, rate, cells),
            GrowingFraction = growing / compared,
        };
    }

    private static double[] AreasOf(ThicknessMap map, double[] rate)
    {
        // Cells that were not compared are NaN in the rate and never read; an area there may be anything.
        double[] areas = map.AreaSquareMetres.ToArray();
        for (int k = 0; k < areas.Length; k++)
            if (double.IsNaN(rate[k]))
                areas[k] = 1;
        return areas;
    }

    private static (double, double)[] QuantilesOf(ThicknessMap map, double[] rate, List<int> cells)
    {
        double[] values = cells.Select(k => rate[k]).ToArray();
        double[] areas = cells.Select(k => map.AreaSquareMetres[k]).ToArray();
        Array.Sort(values, areas);
        for (int k = 1; k < areas.Length; k++)
            areas[k] += areas[k - 1];
        return ((double[])[0.01, 0.05, 0.25, 0.5, 0.75, 0.95, 0.99])
            .Select(p => (p, Quantiles.OfWeighted(values, areas, p)))
            .ToArray();
    }

    private static void Check(ThicknessMap earlier, ThicknessMap later, ChangeSettings settings)
    {
        if (earlier.AlongCount != later.AlongCount || earlier.AroundCount != later.AroundCount)
            throw new StatisticsException(
                FormattableString.Invariant(
                    $"The earlier survey has {earlier.AlongCount} by {earlier.AroundCount} cells, the later {later.AlongCount} by {later.AroundCount}."
                ),
                "comparison of two surveys",
                "register them and resample the later one onto the earlier"
            );
        if (!(settings.Years > 0) || !(settings.FalseDiscoveryRate is > 0 and < 1))
            throw new StatisticsException(
                FormattableString.Invariant(
                    $"{settings.Years} years, false-discovery rate {settings.FalseDiscoveryRate}."
                ),
                "change settings",
                "give years above zero and a rate between 0 and 1"
            );
        for (int k = 0; k < earlier.Count; k++)
            if (earlier.IsMeasured(k) && later.IsMeasured(k))
                return;
        throw new StatisticsException(
            "No cell is measured in both surveys.",
            "comparison of two surveys",
            "check datum and direction of both maps"
        );
    }
}
