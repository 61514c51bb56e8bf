namespace EchoToThickness.Statistics.Spatial;

/// <summary>A fitted variogram: nugget plus a structure that grows to a sill.</summary>
/// <param name="Shape">Form.</param>
/// <param name="Nugget">Jump at distance zero: noise and what varies within a cell, squared units.</param>
/// <param name="PartialSill">Height of the structure above the nugget, squared units.</param>
/// <param name="RangeMetres">Range parameter of the form.</param>
/// <param name="WeightedSquares">Weighted sum of squares that was minimised.</param>
public sealed record VariogramModel(
    VariogramShape Shape,
    double Nugget,
    double PartialSill,
    double RangeMetres,
    double WeightedSquares
)
{
    /// <summary>Distance at which the structure has 95 % of its sill (spherical: all of it).</summary>
    public double PracticalRangeMetres =>
        Shape switch
        {
            VariogramShape.Exponential => 3 * RangeMetres,
            VariogramShape.Gaussian => Math.Sqrt(3) * RangeMetres,
            _ => RangeMetres,
        };

    /// <summary>Nugget plus sill: the variance of far-apart cells.</summary>
    public double TotalSill => Nugget + PartialSill;

    /// <summary>Semivariance at a distance; zero at zero.</summary>
    /// <param name="distanceMetres">Distance.</param>
    public double At(double distanceMetres) =>
        distanceMetres == 0 ? 0 : Nugget + PartialSill * Structure(Shape, distanceMetres / RangeMetres);

    /// <summary>Correlation of the structure alone (without nugget) at a distance.</summary>
    /// <param name="distanceMetres">Distance.</param>
    public double StructureCorrelation(double distanceMetres) =>
        PartialSill > 0 ? 1 - Structure(Shape, distanceMetres / RangeMetres) : (distanceMetres == 0 ? 1 : 0);

    /// <summary>Correlation of two cells at a distance; 1 at zero.</summary>
    /// <param name="distanceMetres">Distance.</param>
    public double Correlation(double distanceMetres) =>
        TotalSill > 0 ? 1 - At(distanceMetres) / TotalSill : (distanceMetres == 0 ? 1 : 0);

    internal static double Structure(VariogramShape shape, double ratio) =>
        shape switch
        {
            VariogramShape.Spherical => ratio >= 1 ? 1 : 1.5 * ratio - 0.5 * ratio * ratio * ratio,
            VariogramShape.Exponential => 1 - Math.Exp(-ratio),
            _ => 1 - Math.Exp(-ratio * ratio),
        };
}
