namespace EchoToThickness.Measurement;

/// <summary>One hypothesis about the wall and how well it explains the A-scan.</summary>
/// <param name="Name">What it says, in words.</param>
/// <param name="ThicknessMetres">Wall, metres.</param>
/// <param name="Score">Score; the highest wins.</param>
/// <param name="Reason">Why it won or lost.</param>
public sealed record HypothesisTrace(string Name, double ThicknessMetres, double Score, string Reason);
