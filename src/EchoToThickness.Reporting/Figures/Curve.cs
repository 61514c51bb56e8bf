namespace EchoToThickness.Reporting.Figures;

/// <summary>One method's curve in a panel.</summary>
/// <param name="Method">Number of the method, for colour, dash and mark.</param>
/// <param name="X">Places.</param>
/// <param name="Y">Values; NaN where there is none.</param>
/// <param name="Low">Lower limits of intervals; NaN where there is none.</param>
/// <param name="High">Upper limits of intervals; NaN where there is none.</param>
public sealed record Curve(
    int Method,
    IReadOnlyList<double> X,
    IReadOnlyList<double> Y,
    IReadOnlyList<double> Low,
    IReadOnlyList<double> High
);
