namespace EchoToThickness.Studies.Tune;

/// <summary>One of the best rule sets with small changes of every ordered key.</summary>
/// <param name="Result">The rule set.</param>
/// <param name="Neighbours">Each small change: number of the axis, what it becomes, its result.</param>
public sealed record RobustRow(
    RuleSetResult Result,
    IReadOnlyList<(int Axis, string Text, RuleSetResult Result)> Neighbours
)
{
    /// <summary>Largest loss among the rule set and its neighbours: small where the optimum is flat.</summary>
    public double WorstLoss => Neighbours.Select(n => n.Result.Loss).Append(Result.Loss).Max();

    /// <summary>Whether the rule set and all its neighbours keep the limits of the study.</summary>
    public bool KeepsLimits => Result.KeepsLimits && Neighbours.All(n => n.Result.KeepsLimits);
}
