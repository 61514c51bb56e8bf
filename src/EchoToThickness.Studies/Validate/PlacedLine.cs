using EchoToThickness.Stacks;

namespace EchoToThickness.Studies.Validate;

/// <summary>One line of a scan.</summary>
/// <param name="Line">Its name; empty for the only one.</param>
/// <param name="Info">What its stack says of it.</param>
/// <param name="Open">Opens its A-scans; the caller disposes them.</param>
/// <param name="OpenTruth">Opens a source that knows the line's own truth; the caller disposes it.</param>
public sealed record PlacedLine(string Line, StackInfo Info, Func<IAScanSource> Open, Func<IAScanSource> OpenTruth);
