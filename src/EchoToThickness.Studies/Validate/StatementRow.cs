using EchoToThickness.Validation;

namespace EchoToThickness.Studies.Validate;

/// <summary>One figure of a statement.</summary>
/// <param name="Label">What it is.</param>
/// <param name="Figure">The figure, SI, with interval, numbers behind it, method, or why it is refused.</param>
/// <param name="Unit">In what it is shown.</param>
/// <param name="Note">Further words; may be empty.</param>
public sealed record StatementRow(string Label, Estimate Figure, StatementUnit Unit, string Note = "");
