namespace EchoToThickness.Geometry;

/// <summary>Nominal wall of one schedule of a pipe size.</summary>
/// <param name="Schedule">Schedule as written in the standard.</param>
/// <param name="WallMetres">Nominal wall, metres; the mill may be 12.5 % below it.</param>
public readonly record struct PipeWall(string Schedule, double WallMetres);
