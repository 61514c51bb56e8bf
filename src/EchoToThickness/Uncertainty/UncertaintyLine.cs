namespace EchoToThickness.Uncertainty;

/// <summary>One line of an uncertainty budget.</summary>
/// <param name="Source">What is uncertain.</param>
/// <param name="Uncertainty">Its standard uncertainty, in <paramref name="Unit"/>; for a covariance, the covariance itself.</param>
/// <param name="Unit">Unit of the uncertainty.</param>
/// <param name="Sensitivity">Change of the wall with the quantity, metres per unit; for a covariance, twice the product of both.</param>
/// <param name="IsCovariance">Whether the line is a covariance and adds to the variance directly, with its sign.</param>
/// <param name="CommonToMap">Whether the error is the same in every cell (does not average out over an area).</param>
public sealed record UncertaintyLine(
    string Source,
    double Uncertainty,
    string Unit,
    double Sensitivity,
    bool IsCovariance,
    bool CommonToMap
)
{
    /// <summary>What the line adds to the variance of the wall, square metres; a covariance may lower it.</summary>
    public double Variance =>
        IsCovariance ? Sensitivity * Uncertainty : Sensitivity * Sensitivity * (Uncertainty * Uncertainty);

    /// <summary>Contribution to the standard uncertainty of the wall, metres; negative for a covariance that lowers it.</summary>
    public double ContributionMetres => Math.Sign(Variance) * Math.Sqrt(Math.Abs(Variance));
}
