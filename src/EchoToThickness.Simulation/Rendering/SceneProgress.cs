namespace EchoToThickness.Simulation.Rendering;

/// <summary>How far the writing of a scene is.</summary>
/// <param name="Done">A-scans computed.</param>
/// <param name="Total">A-scans in all.</param>
public readonly record struct SceneProgress(long Done, long Total);
