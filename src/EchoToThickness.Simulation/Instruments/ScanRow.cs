using EchoToThickness.Simulation.Scenes;

namespace EchoToThickness.Simulation.Instruments;

/// <summary>Where one stored scan position really was.</summary>
/// <param name="TrueScan">
/// Scan position of the plan at which the array stood; clamped into the plan where <paramref name="IsPresent"/> is false.
/// </param>
/// <param name="SignedCount">
/// Scan position that an encoder knowing its direction would have written; below or equal to the one before it in a reversal. The native
/// format refuses such positions, so they serve tests of importers only.
/// </param>
/// <param name="IsPresent">Whether an A-scan was stored.</param>
/// <param name="Labels">What was planted here.</param>
public readonly record struct ScanRow(int TrueScan, int SignedCount, bool IsPresent, PlantedFailure Labels);
