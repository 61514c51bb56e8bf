namespace EchoToThickness.Measurement.Shared;

/// <summary>Plans that cut a stack alike.</summary>
/// <param name="Plans">The plans.</param>
/// <param name="Numbers">Their numbers for the caller.</param>
/// <param name="Geometry">How the stack is cut.</param>
internal sealed record PlanClass(
    IReadOnlyList<MeasurementPlan> Plans,
    IReadOnlyList<int> Numbers,
    MeasurementGeometry Geometry
);
