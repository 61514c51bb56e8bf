using EchoToThickness.Statistics.Numerics;

namespace EchoToThickness.Statistics.Spatial;

/// <summary>How dense a scan, or how many samples, would have sufficed.</summary>
public static class ScanDensity
{
    /// <summary>Probability that a square grid of points meets a disc at a random place at least once.</summary>
    /// <param name="diameterMetres">Diameter of the disc.</param>
    /// <param name="pitchMetres">Pitch of the grid.</param>
    /// <remarks>
    /// Area of the disc over area of the cell while discs around the points do not overlap, the cell's part of the overlapping discs above
    /// that, 1 from the diagonal of the cell on (geometric probability; elementary integration).
    /// </remarks>
    public static double HitProbability(double diameterMetres, double pitchMetres)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(diameterMetres);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(pitchMetres);
        double r = diameterMetres / pitchMetres / 2;
        if (r <= 0.5)
            return Math.PI * r * r;
        if (r >= Math.Sqrt(0.5))
            return 1;
        // Disc less its four segments outside the cell.
        return Math.PI * r * r - 4 * (r * r * Math.Acos(0.5 / r) - 0.5 * Math.Sqrt(r * r - 0.25));
    }

    /// <summary>Largest pitch of a square grid that meets a disc with a wanted probability.</summary>
    /// <param name="diameterMetres">Diameter of the disc.</param>
    /// <param name="probability">Above 0, up to 1.</param>
    public static double PitchToHit(double diameterMetres, double probability)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(diameterMetres);
        if (!(probability is > 0 and <= 1))
            throw new ArgumentOutOfRangeException(nameof(probability), probability, "Above 0, up to 1.");
        if (probability == 1)
            return diameterMetres * Math.Sqrt(0.5);
        double high = diameterMetres * Math.Sqrt(Math.PI / 4 / probability) * 2;
        return Roots.Between(
            pitch => HitProbability(diameterMetres, pitch) - probability,
            diameterMetres * Math.Sqrt(0.5),
            high
        );
    }

    /// <summary>Largest pitch at which the wall midway between four points is known well enough.</summary>
    /// <param name="model">Variogram of the wall.</param>
    /// <param name="deviationMetres">Wanted standard deviation of the estimate, structure only.</param>
    /// <returns>Pitch in metres; infinity where the sill itself is small enough, 0 where no pitch suffices.</returns>
    /// <remarks>
    /// Ordinary kriging from the four corners; by symmetry all weights are a quarter, so the variance is
    /// <c>2 g(d) - mean of g over the pairs of corners</c> with the diagonal's half d (Matheron 1963).
    /// </remarks>
    public static double PitchForMidpoint(VariogramModel model, double deviationMetres)
    {
        ArgumentNullException.ThrowIfNull(model);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(deviationMetres);
        double wanted = deviationMetres * deviationMetres;
        double Variance(double pitch)
        {
            double corner = Gamma(model, pitch * Math.Sqrt(0.5));
            double pairs = (8 * Gamma(model, pitch) + 4 * Gamma(model, pitch * Math.Sqrt(2))) / 16;
            // The nugget stays in each reading: a quarter of it is left in the mean of four.
            return 2 * corner - pairs + model.Nugget / 4;
        }
        if (model.Nugget / 4 >= wanted)
            return 0;
        double far = 20 * model.PracticalRangeMetres;
        if (Variance(far) <= wanted)
            return double.PositiveInfinity;
        return Roots.Between(pitch => Variance(pitch) - wanted, 1e-6 * model.RangeMetres, far);
    }

    /// <summary>Independent sample windows for a mean within a half width.</summary>
    /// <param name="windowDeviationMetres">Standard deviation of the windows' means.</param>
    /// <param name="halfWidthMetres">Half width of the confidence interval.</param>
    /// <param name="confidence">Confidence.</param>
    /// <remarks>Normal approximation, <c>(z s / h)^2</c>, rounded up; at least 2.</remarks>
    public static int WindowsForMean(double windowDeviationMetres, double halfWidthMetres, double confidence = 0.95)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(windowDeviationMetres);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(halfWidthMetres);
        double z = NormalDistribution.Quantile(0.5 + confidence / 2);
        return Math.Max(2, (int)Math.Ceiling(Math.Pow(z * windowDeviationMetres / halfWidthMetres, 2)));
    }

    private static double Gamma(VariogramModel model, double distance) =>
        model.PartialSill * VariogramModel.Structure(model.Shape, distance / model.RangeMetres);
}
