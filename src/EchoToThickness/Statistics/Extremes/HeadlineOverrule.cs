namespace EchoToThickness.Statistics.Extremes;

/// <summary>A person's decision for another headline than the thinnest result.</summary>
/// <param name="Label">Label of the statement chosen.</param>
/// <param name="Reason">Why; must not be empty.</param>
/// <param name="By">Who, as given by the user; must not be empty.</param>
public sealed record HeadlineOverrule(string Label, string Reason, string By);
