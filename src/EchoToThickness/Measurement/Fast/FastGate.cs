namespace EchoToThickness.Measurement.Fast;

/// <summary>A gate of a <see cref="FastPlan"/>.</summary>
/// <param name="StartSeconds">Start behind the followed echo.</param>
/// <param name="WidthSeconds">Width.</param>
/// <param name="Level">Level, fraction of full scale.</param>
/// <param name="FollowsInterface">Rides on the interface, else on the first gate's echo.</param>
internal readonly record struct FastGate(double StartSeconds, double WidthSeconds, float Level, bool FollowsInterface);
