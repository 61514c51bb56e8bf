using EchoToThickness.Components;
using EchoToThickness.Statistics.Extremes;

namespace EchoToThickness.Reporting.Inspection;

/// <summary>The statement about unmeasured metal of one zone of an elbow.</summary>
/// <param name="Zone">Zone.</param>
/// <param name="MeasuredSquareMetres">Area with a wall.</param>
/// <param name="TargetSquareMetres">Area the statement is about.</param>
/// <param name="Analysis">The analysis; null where there was too little to begin with.</param>
/// <param name="Reason">Why there is none; empty otherwise.</param>
public sealed record ZoneExtremes(
    SurfaceZone Zone,
    double MeasuredSquareMetres,
    double TargetSquareMetres,
    ExtremeAnalysis? Analysis,
    string Reason
);
