namespace EchoToThickness.Validation.Effects;

/// <summary>One effect of a two-level design.</summary>
/// <param name="Name">Factor or interaction.</param>
/// <param name="Aliases">Other effects of the order looked at that the design cannot tell from it.</param>
/// <param name="Effect">Change of the mean from the low to the high level, with interval.</param>
public sealed record FactorialEffect(string Name, IReadOnlyList<string> Aliases, Estimate Effect);
