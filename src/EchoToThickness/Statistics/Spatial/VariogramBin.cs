namespace EchoToThickness.Statistics.Spatial;

/// <summary>One lag of an empirical variogram.</summary>
/// <param name="LagMetres">Mean distance of the pairs.</param>
/// <param name="Semivariance">Half the mean squared difference, in squared units of the values.</param>
/// <param name="Pairs">Pairs.</param>
public readonly record struct VariogramBin(double LagMetres, double Semivariance, long Pairs);
