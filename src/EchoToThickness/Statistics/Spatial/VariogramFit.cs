using EchoToThickness.Statistics.Numerics;

namespace EchoToThickness.Statistics.Spatial;

/// <summary>Fits variogram models by weighted least squares.</summary>
public static class VariogramFit
{
    /// <summary>Fits one form: weights are pairs over squared distance, as usual in geostatistics (Pebesma 2004).</summary>
    /// <param name="bins">At least three lags.</param>
    /// <param name="shape">Form.</param>
    /// <returns>Nugget and sill are not below zero. For a given range both follow by linear least squares; the range is searched.</returns>
    public static VariogramModel Fit(IReadOnlyList<VariogramBin> bins, VariogramShape shape)
    {
        ArgumentNullException.ThrowIfNull(bins);
        if (bins.Count < 3)
            throw new ArgumentException("At least three lags are needed.", nameof(bins));
        double least = bins.Min(b => b.LagMetres);
        double largest = bins.Max(b => b.LagMetres);
        double Squares(double logRange) => Linear(bins, shape, Math.Exp(logRange)).WeightedSquares;
        // A coarse scan first: the sum of squares may have more than one minimum.
        double low = Math.Log(least / 4);
        double high = Math.Log(largest * 4);
        const int steps = 60;
        int best = 0;
        double bestSquares = double.PositiveInfinity;
        for (int k = 0; k <= steps; k++)
        {
            double squares = Squares(low + k * (high - low) / steps);
            if (squares < bestSquares)
            {
                bestSquares = squares;
                best = k;
            }
        }
        double step = (high - low) / steps;
        double found = Roots.Minimum(
            Squares,
            low + Math.Max(0, best - 1) * step,
            low + Math.Min(steps, best + 1) * step,
            1e-9
        );
        return Linear(bins, shape, Math.Exp(found));
    }

    /// <summary>Fits all forms and returns the one with the smallest weighted sum of squares.</summary>
    /// <param name="bins">At least three lags.</param>
    public static VariogramModel FitBest(IReadOnlyList<VariogramBin> bins) =>
        Enum.GetValues<VariogramShape>().Select(shape => Fit(bins, shape)).MinBy(model => model.WeightedSquares)!;

    private static VariogramModel Linear(IReadOnlyList<VariogramBin> bins, VariogramShape shape, double range)
    {
        double s = 0;
        double sx = 0;
        double sxx = 0;
        double sy = 0;
        double sxy = 0;
        foreach (VariogramBin bin in bins)
        {
            double weight = bin.Pairs / (bin.LagMetres * bin.LagMetres);
            double x = VariogramModel.Structure(shape, bin.LagMetres / range);
            s += weight;
            sx += weight * x;
            sxx += weight * x * x;
            sy += weight * bin.Semivariance;
            sxy += weight * x * bin.Semivariance;
        }
        double determinant = s * sxx - sx * sx;
        double sill = determinant > 1e-12 * s * sxx ? (s * sxy - sx * sy) / determinant : 0;
        double nugget = (sy - sill * sx) / s;
        if (sill < 0)
            (nugget, sill) = (sy / s, 0);
        if (nugget < 0)
            (nugget, sill) = (0, sxx > 0 ? Math.Max(0, sxy / sxx) : 0);
        double squares = 0;
        foreach (VariogramBin bin in bins)
        {
            double residual = bin.Semivariance - nugget - sill * VariogramModel.Structure(shape, bin.LagMetres / range);
            squares += bin.Pairs / (bin.LagMetres * bin.LagMetres) * residual * residual;
        }
        return new VariogramModel(shape, nugget, sill, range, squares);
    }
}
