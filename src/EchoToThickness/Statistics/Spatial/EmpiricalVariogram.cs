namespace EchoToThickness.Statistics.Spatial;

/// <summary>Empirical variograms of maps and of scattered points.</summary>
public static class EmpiricalVariogram
{
    /// <summary>Variogram of a map in one direction, one lag a cell.</summary>
    /// <param name="map">The map; pairs with a cell that was not measured are left out.</param>
    /// <param name="direction">Direction.</param>
    /// <param name="lags">Largest lag in cells; cut at half the map.</param>
    /// <param name="estimator">Average.</param>
    /// <param name="mostPairs">Rows are thinned so that a lag has about so many pairs at most.</param>
    /// <returns>Lags with at least one pair, ascending. Lags along are measured at the reference line.</returns>
    /// <remarks>Sources: Matheron, Econ. Geol. 58 (1963) 1246; Cressie and Hawkins, Math. Geol. 12 (1980) 115.</remarks>
    public static IReadOnlyList<VariogramBin> OfMap(
        ThicknessMap map,
        VariogramDirection direction,
        int lags,
        VariogramEstimator estimator = VariogramEstimator.Classical,
        long mostPairs = 400_000
    )
    {
        ArgumentNullException.ThrowIfNull(map);
        ArgumentOutOfRangeException.ThrowIfLessThan(lags, 1);
        int stepAlong = direction == VariogramDirection.Around ? 0 : 1;
        int stepAround = direction == VariogramDirection.Along ? 0 : 1;
        int limit = int.MaxValue;
        if (stepAlong > 0)
            limit = Math.Min(limit, map.AlongCount / 2);
        if (stepAround > 0)
            limit = Math.Min(limit, map.AroundCount / 2);
        double unit = Math.Sqrt(
            stepAlong * map.Axes.AlongPitchMetres * map.Axes.AlongPitchMetres
                + stepAround * map.Axes.AroundPitchMetres * map.Axes.AroundPitchMetres
        );
        var bins = new List<VariogramBin>();
        for (int lag = 1; lag <= Math.Min(lags, limit); lag++)
        {
            var sum = new LagSum(estimator);
            Add(map, lag * stepAlong, lag * stepAround, mostPairs, ref sum);
            if (direction == VariogramDirection.Diagonal)
                Add(map, lag * stepAlong, -lag * stepAround, mostPairs, ref sum);
            if (sum.Pairs > 0)
                bins.Add(new VariogramBin(lag * unit, sum.Semivariance, sum.Pairs));
        }
        return bins;
    }

    /// <summary>Variogram of scattered points, all directions.</summary>
    /// <param name="alongMetres">Shape [point].</param>
    /// <param name="aroundMetres">Shape [point].</param>
    /// <param name="values">Shape [point].</param>
    /// <param name="cutoffMetres">Largest distance.</param>
    /// <param name="widthMetres">Width of a bin; a bin holds distances above its lower end up to its upper end.</param>
    /// <param name="estimator">Average.</param>
    public static IReadOnlyList<VariogramBin> OfPoints(
        ReadOnlySpan<double> alongMetres,
        ReadOnlySpan<double> aroundMetres,
        ReadOnlySpan<double> values,
        double cutoffMetres,
        double widthMetres,
        VariogramEstimator estimator = VariogramEstimator.Classical
    )
    {
        if (alongMetres.Length != values.Length || aroundMetres.Length != values.Length)
            throw new ArgumentException("One place for each value is needed.", nameof(alongMetres));
        if (!(widthMetres > 0) || !(cutoffMetres >= widthMetres))
            throw new ArgumentOutOfRangeException(nameof(widthMetres), widthMetres, "Above zero, up to the cutoff.");
        int count = (int)Math.Ceiling(cutoffMetres / widthMetres * (1 - 1e-12));
        var sums = new LagSum[count];
        var distances = new double[count];
        Array.Fill(sums, new LagSum(estimator));
        for (int a = 0; a < values.Length; a++)
        for (int b = 0; b < a; b++)
        {
            double x = alongMetres[a] - alongMetres[b];
            double y = aroundMetres[a] - aroundMetres[b];
            double distance = Math.Sqrt(x * x + y * y);
            if (distance > cutoffMetres || distance == 0)
                continue;
            int bin = Math.Min(count - 1, Math.Max(0, (int)Math.Ceiling(distance / widthMetres) - 1));
            sums[bin].Add(values[a] - values[b]);
            distances[bin] += distance;
        }
        var bins = new List<VariogramBin>();
        for (int k = 0; k < count; k++)
            if (sums[k].Pairs > 0)
                bins.Add(new VariogramBin(distances[k] / sums[k].Pairs, sums[k].Semivariance, sums[k].Pairs));
        return bins;
    }

    private static void Add(ThicknessMap map, int along, int around, long mostPairs, ref LagSum sum)
    {
        ReadOnlySpan<double> wall = map.ThicknessMetres;
        int n = map.AroundCount;
        int rows = map.AlongCount - along;
        int stride = (int)Math.Max(1, (long)rows * n / mostPairs);
        bool wraps = map.Axes.WrapsAround;
        for (int i = 0; i < rows; i += stride)
        {
            ReadOnlySpan<double> first = wall.Slice(i * n, n);
            ReadOnlySpan<double> second = wall.Slice((i + along) * n, n);
            for (int j = 0; j < n; j++)
            {
                int other = j + around;
                if (wraps)
                    other = (other + n) % n;
                else if (other < 0 || other >= n)
                    continue;
                double difference = first[j] - second[other];
                if (!double.IsNaN(difference))
                    sum.Add(difference);
            }
        }
    }

    private struct LagSum(VariogramEstimator estimator)
    {
        private double _sum;

        public long Pairs { get; private set; }

        public void Add(double difference)
        {
            Pairs++;
            _sum +=
                estimator == VariogramEstimator.Classical ? difference * difference : Math.Sqrt(Math.Abs(difference));
        }

        public readonly double Semivariance
        {
            get
            {
                double mean = _sum / Pairs;
                // Cressie and Hawkins 1980, eq. 12: the expectation of the fourth power of a mean root.
                return estimator == VariogramEstimator.Classical
                    ? 0.5 * mean
                    : 0.5 * mean * mean * mean * mean / (0.457 + 0.494 / Pairs);
            }
        }
    }
}
