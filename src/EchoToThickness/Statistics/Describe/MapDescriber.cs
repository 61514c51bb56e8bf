using System.Globalization;
using EchoToThickness.Pairing;
using EchoToThickness.Statistics.Numerics;

namespace EchoToThickness.Statistics.Describe;

/// <summary>Describes a map: weighted moments, quantiles, mode, minimum, areas below thresholds, profiles.</summary>
public static class MapDescriber
{
    private const int ModeBins = 4096;

    /// <summary>Describes a map.</summary>
    /// <param name="map">The map.</param>
    /// <param name="settings">What to hold; null for the defaults.</param>
    /// <exception cref="StatisticsException">No cell was measured, or a setting is outside its range.</exception>
    public static MapDescription Describe(ThicknessMap map, DescribeSettings? settings = null)
    {
        ArgumentNullException.ThrowIfNull(map);
        settings ??= new DescribeSettings();
        Check(map, settings);
        var values = new double[map.MeasuredCount];
        var areas = new double[map.MeasuredCount];
        int smallest = Gather(map, values, areas, out double totalArea, out double squaredUncertainty);
        WeightedMoments moments = WeightedMoments.Of(values, areas);
        Array.Sort(values, areas);
        for (int k = 1; k < areas.Length; k++)
            areas[k] += areas[k - 1];
        (double mode, double bandwidth) = Mode(values, areas, moments);
        (Dictionary<CellStatus, int> cells, Dictionary<CellStatus, double> areaByStatus) = ByStatus(map);
        return new MapDescription
        {
            Settings = settings,
            CellsByStatus = cells,
            AreaByStatusSquareMetres = areaByStatus,
            MeasuredCells = map.MeasuredCount,
            MeasuredAreaSquareMetres = moments.WeightSum,
            TotalAreaSquareMetres = totalArea,
            MeanMetres = moments.Mean,
            StandardDeviationMetres = moments.StandardDeviation,
            TypicalUncertaintyMetres = Math.Sqrt(squaredUncertainty / moments.WeightSum),
            Quantiles = settings
                .QuantileProbabilities.Select(p => new MapQuantile(
                    p,
                    Quantiles.OfWeighted(values, areas, p, settings.QuantileType)
                ))
                .ToArray(),
            ModeMetres = mode,
            ModeBandwidthMetres = bandwidth,
            MaximumMetres = values[^1],
            Minimum = MinimumOf(map, smallest, settings.Confidence),
            Thresholds = settings
                .ThresholdsMetres.Select(t => BelowThreshold(map, t, settings.SureProbability))
                .ToArray(),
            AlongProfile = Profile(map, true),
            AroundProfile = Profile(map, false),
        };
    }

    /// <summary>Area below one threshold.</summary>
    /// <param name="map">The map.</param>
    /// <param name="thresholdMetres">Wall below which a cell counts.</param>
    /// <param name="sureProbability">See <see cref="DescribeSettings.SureProbability"/>.</param>
    /// <remarks>
    /// The probability of a cell is that of a normal variable with its combined uncertainty, given that the echo is the right one. The
    /// expected area is not corrected for noise that moves cells both ways over the threshold.
    /// </remarks>
    public static ThresholdArea BelowThreshold(ThicknessMap map, double thresholdMetres, double sureProbability = 0.95)
    {
        ArgumentNullException.ThrowIfNull(map);
        ReadOnlySpan<double> wall = map.ThicknessMetres;
        ReadOnlySpan<double> area = map.AreaSquareMetres;
        ReadOnlySpan<double> uncertainty = map.StandardUncertaintyMetres;
        int cells = 0;
        double below = 0;
        double measured = 0;
        double expected = 0;
        double surely = 0;
        double possibly = 0;
        double largest = 0;
        for (int k = 0; k < wall.Length; k++)
        {
            if (double.IsNaN(wall[k]))
                continue;
            measured += area[k];
            double probability = ProbabilityBelow(wall[k], uncertainty[k], thresholdMetres);
            if (wall[k] < thresholdMetres)
            {
                cells++;
                below += area[k];
            }
            if (probability == 0)
                continue;
            expected += probability * area[k];
            largest = Math.Max(largest, probability);
            if (probability >= sureProbability)
                surely += area[k];
            if (probability > 1 - sureProbability)
                possibly += area[k];
        }
        return new ThresholdArea
        {
            ThresholdMetres = thresholdMetres,
            CellsBelow = cells,
            AreaBelowSquareMetres = below,
            FractionBelow = measured > 0 ? below / measured : double.NaN,
            ExpectedAreaSquareMetres = expected,
            SurelyBelowSquareMetres = surely,
            PossiblyBelowSquareMetres = possibly,
            LargestProbability = largest,
        };
    }

    /// <summary>Probability that a true wall lies below a threshold.</summary>
    /// <param name="wallMetres">Measured wall.</param>
    /// <param name="standardUncertaintyMetres">Its standard uncertainty; zero gives 0 or 1.</param>
    /// <param name="thresholdMetres">Threshold.</param>
    public static double ProbabilityBelow(double wallMetres, double standardUncertaintyMetres, double thresholdMetres)
    {
        double distance = thresholdMetres - wallMetres;
        if (standardUncertaintyMetres == 0)
            return distance > 0 ? 1 : 0;
        double z = distance / standardUncertaintyMetres;
        // Beyond 8.3 deviations the tail is below rounding of 1.
        return z > 8.3 ? 1
            : z < -8.3 ? 0
            : NormalDistribution.Below(z);
    }

    /// <summary>Smallest wall at each place of one axis.</summary>
    /// <param name="map">The map.</param>
    /// <param name="along">True: a value at every place along, over all places around; false: the other way.</param>
    public static SmallestWallProfile Profile(ThicknessMap map, bool along)
    {
        ArgumentNullException.ThrowIfNull(map);
        ReadOnlySpan<double> wall = map.ThicknessMetres;
        int count = along ? map.AlongCount : map.AroundCount;
        var thickness = new double[count];
        var uncertainty = new double[count];
        var cell = new int[count];
        var fraction = new double[count];
        Array.Fill(thickness, double.NaN);
        Array.Fill(uncertainty, double.NaN);
        Array.Fill(cell, -1);
        int index = 0;
        for (int i = 0; i < map.AlongCount; i++)
        for (int j = 0; j < map.AroundCount; j++, index++)
        {
            if (double.IsNaN(wall[index]))
                continue;
            int place = along ? i : j;
            fraction[place]++;
            if (cell[place] >= 0 && !(wall[index] < thickness[place]))
                continue;
            thickness[place] = wall[index];
            cell[place] = index;
        }
        for (int k = 0; k < count; k++)
        {
            fraction[k] /= along ? map.AroundCount : map.AlongCount;
            if (cell[k] >= 0)
                uncertainty[k] = map.StandardUncertaintyMetres[cell[k]];
        }
        double[] positions = (along ? map.Axes.AlongMetres : map.Axes.AroundMetres).ToArray();
        return new SmallestWallProfile(positions, thickness, uncertainty, cell, fraction);
    }

    private static MinimumWall MinimumOf(ThicknessMap map, int cell, double confidence)
    {
        (double bias, int contenders) = MinimumBias.OfMap(map, cell);
        double measured = map.ThicknessMetres[cell];
        double uncertainty = map.StandardUncertaintyMetres[cell];
        double half = NormalDistribution.Quantile(0.5 + confidence / 2) * uncertainty;
        string note =
            contenders <= 1
                ? "No other cell could have been the smallest: the minimum carries the uncertainty of its cell and no selection bias to speak of."
                : string.Create(
                    CultureInfo.InvariantCulture,
                    $"The smallest of {contenders} cells that noise cannot tell apart is expected to read {-bias * 1e3:0.000} mm too thin. "
                );
        if (contenders > 1)
            note +=
                "The corrected value is thicker and for information only: it replaces neither the measured minimum nor feeds an assessment.";
        if (!map.KnowsNoise && contenders > 1)
            note +=
                " The part of the uncertainty that is common to the map is not known apart; all of it was taken as noise, which overstates the bias.";
        return new MinimumWall
        {
            CellIndex = cell,
            Position = map.PositionOf(cell),
            MeasuredMetres = measured,
            StandardUncertaintyMetres = uncertainty,
            LowerMetres = measured - half,
            UpperMetres = measured - bias + half,
            WrongEchoProbability = map.WrongEchoProbability.IsEmpty ? null : map.WrongEchoProbability[cell],
            BiasMetres = bias,
            BiasCorrectedMetres = measured - bias,
            Contenders = contenders,
            Note = note,
        };
    }

    /// <summary>Top of a Gaussian kernel density on 4096 bins; bandwidth by Silverman's rule (1986, eq. 3.31), not below one bin.</summary>
    private static (double Mode, double Bandwidth) Mode(
        double[] ascending,
        double[] cumulativeArea,
        WeightedMoments moments
    )
    {
        double low = ascending[0];
        double range = ascending[^1] - low;
        if (!(range > 0))
            return (low, 0);
        double quartiles =
            Quantiles.OfWeighted(ascending, cumulativeArea, 0.75)
            - Quantiles.OfWeighted(ascending, cumulativeArea, 0.25);
        double spread =
            quartiles > 0 ? Math.Min(moments.StandardDeviation, quartiles / 1.349) : moments.StandardDeviation;
        double step = range / (ModeBins - 1);
        double bandwidth = Math.Max(0.9 * spread * Math.Pow(ascending.Length, -0.2), step);
        var mass = new double[ModeBins];
        for (int k = 0; k < ascending.Length; k++)
        {
            double area = k == 0 ? cumulativeArea[0] : cumulativeArea[k] - cumulativeArea[k - 1];
            double place = (ascending[k] - low) / step;
            int bin = Math.Min((int)place, ModeBins - 2);
            mass[bin] += area * (1 - place + bin);
            mass[bin + 1] += area * (place - bin);
        }
        int reach = (int)Math.Ceiling(4 * bandwidth / step);
        var kernel = new double[reach + 1];
        for (int k = 0; k <= reach; k++)
            kernel[k] = NormalDistribution.Density(k * step / bandwidth);
        var density = new double[ModeBins];
        for (int bin = 0; bin < ModeBins; bin++)
        {
            double sum = 0;
            for (int k = Math.Max(0, bin - reach); k <= Math.Min(ModeBins - 1, bin + reach); k++)
                sum += mass[k] * kernel[Math.Abs(k - bin)];
            density[bin] = sum;
        }
        int top = Array.IndexOf(density, density.Max());
        double offset = 0;
        if (top > 0 && top < ModeBins - 1)
        {
            double curvature = density[top - 1] - 2 * density[top] + density[top + 1];
            if (curvature < 0)
                offset = 0.5 * (density[top - 1] - density[top + 1]) / curvature;
        }
        return (low + (top + offset) * step, bandwidth);
    }

    private static int Gather(
        ThicknessMap map,
        double[] values,
        double[] areas,
        out double totalArea,
        out double squaredUncertainty
    )
    {
        ReadOnlySpan<double> wall = map.ThicknessMetres;
        ReadOnlySpan<double> area = map.AreaSquareMetres;
        ReadOnlySpan<double> uncertainty = map.StandardUncertaintyMetres;
        totalArea = 0;
        squaredUncertainty = 0;
        int next = 0;
        int smallest = -1;
        for (int k = 0; k < wall.Length; k++)
        {
            if (area[k] > 0)
                totalArea += area[k];
            if (double.IsNaN(wall[k]))
                continue;
            values[next] = wall[k];
            areas[next++] = area[k];
            squaredUncertainty += area[k] * uncertainty[k] * uncertainty[k];
            if (smallest < 0 || wall[k] < wall[smallest])
                smallest = k;
        }
        return smallest;
    }

    private static (Dictionary<CellStatus, int>, Dictionary<CellStatus, double>) ByStatus(ThicknessMap map)
    {
        var cells = new int[256];
        var area = new double[256];
        for (int k = 0; k < map.Count; k++)
        {
            cells[(int)map.Status[k]]++;
            if (map.AreaSquareMetres[k] > 0)
                area[(int)map.Status[k]] += map.AreaSquareMetres[k];
        }
        CellStatus[] used = Enum.GetValues<CellStatus>().Where(s => cells[(int)s] > 0).ToArray();
        return (used.ToDictionary(s => s, s => cells[(int)s]), used.ToDictionary(s => s, s => area[(int)s]));
    }

    private static void Check(ThicknessMap map, DescribeSettings settings)
    {
        if (map.MeasuredCount == 0)
            throw new StatisticsException(
                string.Create(CultureInfo.InvariantCulture, $"None of the {map.Count} cells was measured."),
                "map, layer status",
                "measure the stack again, or choose another part of the map"
            );
        if (settings.QuantileProbabilities.Any(p => !(p is >= 0 and <= 1)))
            throw new StatisticsException(
                "A quantile probability lies outside 0 to 1.",
                "QuantileProbabilities",
                "give probabilities between 0 and 1"
            );
        if (!(settings.SureProbability is > 0.5 and < 1))
            throw new StatisticsException(
                string.Create(CultureInfo.InvariantCulture, $"The sure probability is {settings.SureProbability}."),
                "SureProbability",
                "give a probability above 0.5 and below 1"
            );
        if (!(settings.Confidence is > 0 and < 1))
            throw new StatisticsException(
                string.Create(CultureInfo.InvariantCulture, $"The confidence is {settings.Confidence}."),
                "Confidence",
                "give a confidence above 0 and below 1"
            );
    }
}
