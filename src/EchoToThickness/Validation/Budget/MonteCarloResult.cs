namespace EchoToThickness.Validation.Budget;

/// <summary>A result by propagation of distributions.</summary>
/// <param name="Value">Mean.</param>
/// <param name="StandardUncertainty">Standard deviation.</param>
/// <param name="Shortest">Shortest coverage interval (JCGM 101, 5.3.4).</param>
/// <param name="Symmetric">Probabilistically symmetric coverage interval: the same share on both sides.</param>
/// <param name="Trials">Trials made.</param>
/// <param name="IsSettled">Whether the adaptive procedure met its tolerance before its last trial.</param>
/// <param name="NumericalTolerance">The tolerance, half of the last significant digit asked for.</param>
public sealed record MonteCarloResult(
    double Value,
    double StandardUncertainty,
    ConfidenceInterval Shortest,
    ConfidenceInterval Symmetric,
    int Trials,
    bool IsSettled,
    double NumericalTolerance
)
{
    /// <summary>Validates a budget by this result (JCGM 101, clause 8.1).</summary>
    /// <param name="budget">Budget of the same model and coverage.</param>
    /// <param name="digits">Significant digits of the standard uncertainty that count, 1 or 2.</param>
    public BudgetValidation Validate(MeasurementBudget budget, int digits = 2)
    {
        ArgumentNullException.ThrowIfNull(budget);
        double tolerance = MonteCarloPropagation.ToleranceOf(budget.StandardUncertainty, digits);
        ConfidenceInterval interval = budget.Expanded.Interval;
        double low = Math.Abs(interval.Low - Shortest.Low);
        double high = Math.Abs(interval.High - Shortest.High);
        return new BudgetValidation(low, high, tolerance, low <= tolerance && high <= tolerance);
    }
}
