namespace EchoToThickness.Stacks.Sanity;

/// <summary>One thing the sanity report found, with its evidence and what to do.</summary>
/// <param name="Check">What it is about.</param>
/// <param name="Severity">How much it matters.</param>
/// <param name="Evidence">What was seen, with numbers.</param>
/// <param name="Remedy">What the user can do.</param>
public sealed record SanityFinding(SanityCheck Check, SanitySeverity Severity, string Evidence, string Remedy);
