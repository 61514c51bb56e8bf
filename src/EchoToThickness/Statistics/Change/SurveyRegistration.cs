namespace EchoToThickness.Statistics.Change;

/// <summary>Finds shift, rotation and stretch between two surveys of one component by correlation.</summary>
public static class SurveyRegistration
{
    private const int MostPairs = 40_000;
    private const int Strips = 4;

    /// <summary>Finds where the later survey lies on the earlier one.</summary>
    /// <param name="earlier">Earlier survey.</param>
    /// <param name="later">Later survey; pitches may differ.</param>
    /// <param name="settings">Limits; null for the defaults.</param>
    /// <remarks>
    /// Correlation over all cells measured in both, of the earlier map with the later one sampled by bilinear interpolation: all whole-cell
    /// displacements on a thinned map, then parabolas through three correlations one cell apart on more cells. The stretch is the slope of
    /// the shifts of four strips along. A common change of all walls does not matter.
    /// </remarks>
    /// <exception cref="StatisticsException">Too few cells are measured in both.</exception>
    public static Registration Find(ThicknessMap earlier, ThicknessMap later, RegistrationSettings? settings = null)
    {
        ArgumentNullException.ThrowIfNull(earlier);
        ArgumentNullException.ThrowIfNull(later);
        settings ??= new RegistrationSettings();
        double stepAlong = Math.Max(earlier.Axes.AlongPitchMetres, later.Axes.AlongPitchMetres);
        double stepAround = Math.Max(earlier.Axes.AroundPitchMetres, later.Axes.AroundPitchMetres);
        int reachAlong = (int)(settings.LargestAlongMetres / stepAlong);
        double around = settings.LargestAroundMetres;
        if (earlier.Axes.WrapsAround)
            around = Math.Min(around, earlier.Axes.GirthMetres / 2);
        int reachAround = (int)(around / stepAround);
        (double unmoved, int _) = Correlation(earlier, later, 0, 0, 0, MostPairs);
        long tries = (long)(2 * reachAlong + 1) * (2 * reachAround + 1);
        int coarsePairs = (int)Math.Clamp(200_000_000 / Math.Max(1, tries), 400, 4000);
        var best = (Along: 0.0, Around: 0.0, Stretch: 0.0, Value: double.NegativeInfinity);
        var rows = new (double Along, double Around, double Stretch, double Value)[2 * reachAlong + 1];
        Parallel.For(
            -reachAlong,
            reachAlong + 1,
            a =>
            {
                var top = (Along: 0.0, Around: 0.0, Stretch: 0.0, Value: double.NegativeInfinity);
                for (int b = -reachAround; b <= reachAround; b++)
                {
                    (double value, int cells) = Correlation(
                        earlier,
                        later,
                        a * stepAlong,
                        b * stepAround,
                        0,
                        coarsePairs
                    );
                    if (cells >= Math.Min(settings.LeastCells, coarsePairs / 4) && value > top.Value)
                        top = (a * stepAlong, b * stepAround, 0, value);
                }
                rows[a + reachAlong] = top;
            }
        );
        foreach ((double Along, double Around, double Stretch, double Value) row in rows)
            if (row.Value > best.Value)
                best = row;
        if (double.IsNegativeInfinity(best.Value))
            throw new StatisticsException(
                "Too few cells are measured in both surveys at any displacement.",
                "registration of two surveys",
                "check that both maps cover the same part of the component"
            );
        bool atEdge =
            Math.Abs(best.Along) > (reachAlong - 0.5) * stepAlong && reachAlong > 0
            || (
                Math.Abs(best.Around) > (reachAround - 0.5) * stepAround
                && reachAround > 0
                && !CoversGirth(earlier, around)
            );
        best = Refine(earlier, later, best, stepAlong, stepAround, settings.LargestStretch);
        (double correlation, int count) = Correlation(
            earlier,
            later,
            best.Along,
            best.Around,
            best.Stretch,
            int.MaxValue
        );
        bool reliable = correlation >= settings.LeastCorrelation && count >= settings.LeastCells && !atEdge;
        string note =
            atEdge ? "The best place is at the edge of the search: widen it, or check the datum."
            : !reliable ? "The surveys do not resemble each other enough to be laid on each other: the datum decides."
            : "Registered by correlation; a change that moves like a shift would be taken for one.";
        return new Registration(best.Along, best.Around, best.Stretch, correlation, unmoved, count, reliable, note);
    }

    /// <summary>The later survey sampled at the cells of the earlier one.</summary>
    /// <param name="earlier">Earlier survey.</param>
    /// <param name="later">Later survey.</param>
    /// <param name="registration">Where it lies.</param>
    /// <returns>A map on the axes of the earlier one: bilinear walls and uncertainties, NaN where one of the four cells was not measured.</returns>
    public static ThicknessMap Resample(ThicknessMap earlier, ThicknessMap later, Registration registration)
    {
        ArgumentNullException.ThrowIfNull(earlier);
        ArgumentNullException.ThrowIfNull(later);
        ArgumentNullException.ThrowIfNull(registration);
        var wall = new double[earlier.Count];
        var uncertainty = new double[earlier.Count];
        var sampler = new MapSampler(later);
        double centre = Centre(earlier);
        for (int k = 0; k < wall.Length; k++)
        {
            MapPosition place = earlier.PositionOf(k);
            double along =
                centre + (place.AlongMetres - centre) * (1 + registration.Stretch) + registration.AlongMetres;
            wall[k] = sampler.At(
                along,
                place.AroundMetres + registration.AroundMetres,
                later.ThicknessMetres,
                out double u
            );
            uncertainty[k] = double.IsNaN(wall[k]) ? 0 : u;
        }
        return new ThicknessMap(earlier.Axes, wall, default, uncertainty, earlier.AreaSquareMetres);
    }

    /// <summary>The same map with what a displacement that is left does to every wall added to its uncertainty: displacement times slope.</summary>
    /// <param name="map">The map.</param>
    /// <param name="placementMetres">Standard uncertainty of places, along and around alike, metres.</param>
    /// <remarks>
    /// Slopes by differences of the two neighbours, or of one and the cell where the other was not measured; so that the flanks of a pit that lies half a cell
    /// off are not called loss and growth.
    /// </remarks>
    public static ThicknessMap WithPlacementUncertainty(ThicknessMap map, double placementMetres)
    {
        ArgumentNullException.ThrowIfNull(map);
        int n = map.AroundCount;
        var uncertainty = map.StandardUncertaintyMetres.ToArray();
        double[] wall = map.ThicknessMetres.ToArray();
        double Slope(int cell, int before, int after, double pitch)
        {
            int low = before >= 0 && !double.IsNaN(wall[before]) ? before : cell;
            int high = after >= 0 && !double.IsNaN(wall[after]) ? after : cell;
            int steps = (low != cell ? 1 : 0) + (high != cell ? 1 : 0);
            return steps == 0 ? 0 : (wall[high] - wall[low]) / (steps * pitch);
        }
        for (int cell = 0; cell < wall.Length; cell++)
        {
            if (double.IsNaN(wall[cell]))
                continue;
            int i = cell / n;
            int j = cell % n;
            int left =
                j > 0 ? cell - 1
                : map.Axes.WrapsAround ? cell + n - 1
                : -1;
            int right =
                j < n - 1 ? cell + 1
                : map.Axes.WrapsAround ? cell - n + 1
                : -1;
            double along = Slope(
                cell,
                i > 0 ? cell - n : -1,
                i < map.AlongCount - 1 ? cell + n : -1,
                map.Axes.AlongPitchMetres * map.Axes.AlongScale[j]
            );
            double around = Slope(cell, left, right, map.Axes.AroundPitchMetres);
            uncertainty[cell] = double.Hypot(uncertainty[cell], placementMetres * double.Hypot(along, around));
        }
        return new ThicknessMap(map.Axes, wall, map.Status, uncertainty, map.AreaSquareMetres);
    }

    private static bool CoversGirth(ThicknessMap map, double around) =>
        map.Axes.WrapsAround && around >= map.Axes.GirthMetres / 2 - map.Axes.AroundPitchMetres;

    /// <summary>
    /// Three correlations a whole cell apart share one position between cells, hence one smoothing of the noise: their parabola has no
    /// preference for places between cells, which a continuous search would have.
    /// </summary>
    private static (double Along, double Around, double Stretch, double Value) Refine(
        ThicknessMap earlier,
        ThicknessMap later,
        (double Along, double Around, double Stretch, double Value) best,
        double stepAlong,
        double stepAround,
        double largestStretch
    )
    {
        double along = best.Along;
        double around = best.Around;
        double stretch = 0;
        for (int round = 0; round < 3; round++)
        {
            double fixedAlong = along;
            double fixedStretch = stretch;
            around = Vertex(
                value => Correlation(earlier, later, fixedAlong, value, fixedStretch, MostPairs).Value,
                around,
                stepAround
            );
            if (largestStretch > 0 && earlier.AlongCount >= Strips * 8)
                (along, stretch) = AlongLine(earlier, later, along, around, stepAlong, largestStretch);
            else
            {
                double fixedAround = around;
                along = Vertex(
                    value => Correlation(earlier, later, value, fixedAround, 0, MostPairs).Value,
                    along,
                    stepAlong
                );
            }
        }
        return (along, around, stretch, best.Value);
    }

    /// <summary>Shift of strips along; the line through them is shift and stretch.</summary>
    private static (double Along, double Stretch) AlongLine(
        ThicknessMap earlier,
        ThicknessMap later,
        double along,
        double around,
        double step,
        double largestStretch
    )
    {
        double centre = Centre(earlier);
        double sum = 0;
        double sumX = 0;
        double sumXX = 0;
        double sumY = 0;
        double sumXY = 0;
        for (int strip = 0; strip < Strips; strip++)
        {
            int from = strip * earlier.AlongCount / Strips;
            int to = (strip + 1) * earlier.AlongCount / Strips;
            double x = 0.5 * (earlier.Axes.AlongMetres[from] + earlier.Axes.AlongMetres[to - 1]) - centre;
            int reach = 1 + (int)Math.Ceiling(largestStretch * Math.Abs(x) / step);
            double Value(double shift) => Correlation(earlier, later, shift, around, 0, MostPairs, from, to).Value;
            int place = 0;
            double top = double.NegativeInfinity;
            for (int k = -reach; k <= reach; k++)
                if (Value(along + k * step) is var value && value > top)
                    (place, top) = (k, value);
            if (!(top > 0.2))
                continue;
            double found = Vertex(Value, along + place * step, step);
            double weight = top * top;
            sum += weight;
            sumX += weight * x;
            sumXX += weight * x * x;
            sumY += weight * found;
            sumXY += weight * x * found;
        }
        double spread = sum * sumXX - sumX * sumX;
        if (!(spread > 0))
            return (along, 0);
        double slope = Math.Clamp((sum * sumXY - sumX * sumY) / spread, -largestStretch, largestStretch);
        return ((sumY - slope * sumX) / sum, slope);
    }

    private static double Vertex(Func<double, double> function, double at, double step)
    {
        double low = function(at - step);
        double middle = function(at);
        double high = function(at + step);
        double curvature = low - 2 * middle + high;
        return double.IsFinite(curvature) && curvature < 0
            ? at + step * Math.Clamp(0.5 * (low - high) / curvature, -1, 1)
            : at;
    }

    private static double Centre(ThicknessMap map) => 0.5 * (map.Axes.AlongMetres[0] + map.Axes.AlongMetres[^1]);

    private static (double Value, int Cells) Correlation(
        ThicknessMap earlier,
        ThicknessMap later,
        double along,
        double around,
        double stretch,
        int mostPairs,
        int fromRow = 0,
        int toRow = int.MaxValue
    )
    {
        ReadOnlySpan<double> wall = earlier.ThicknessMetres;
        int first = fromRow * earlier.AroundCount;
        int end = (int)Math.Min(wall.Length, (long)toRow * earlier.AroundCount);
        var sampler = new MapSampler(later);
        double centre = Centre(earlier);
        // Cells by a stride that is odd against the row length, so that no column is preferred.
        int stride = Math.Max(1, (end - first) / Math.Max(1, mostPairs));
        while (stride > 1 && stride % 2 == 0 | earlier.AroundCount % stride == 0)
            stride++;
        int count = 0;
        double sumA = 0;
        double sumB = 0;
        double squaresA = 0;
        double squaresB = 0;
        double cross = 0;
        double reference = double.NaN;
        for (int k = first; k < end; k += stride)
        {
            if (double.IsNaN(wall[k]))
                continue;
            int row = k / earlier.AroundCount;
            double x = earlier.Axes.AlongMetres[row];
            double y = earlier.Axes.AroundMetres[k - row * earlier.AroundCount];
            double other = sampler.At(centre + (x - centre) * (1 + stretch) + along, y + around, later.ThicknessMetres);
            if (double.IsNaN(other))
                continue;
            if (count++ == 0)
                reference = wall[k];
            double a = wall[k] - reference;
            double b = other - reference;
            sumA += a;
            sumB += b;
            squaresA += a * a;
            squaresB += b * b;
            cross += a * b;
        }
        if (count < 3)
            return (double.NegativeInfinity, count);
        double varianceA = squaresA - sumA * sumA / count;
        double varianceB = squaresB - sumB * sumB / count;
        return varianceA > 0 && varianceB > 0
            ? ((cross - sumA * sumB / count) / Math.Sqrt(varianceA * varianceB), count)
            : (0, count);
    }
}
