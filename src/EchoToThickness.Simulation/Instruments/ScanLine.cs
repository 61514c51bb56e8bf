using EchoToThickness.Simulation.Scenes;

namespace EchoToThickness.Simulation.Instruments;

/// <summary>Where one stored line really was.</summary>
/// <param name="TrueLine">Line of the plan on which the array stood, counted from 0.</param>
/// <param name="IndexOffsetMetres">Distance to add along the index axis to get where it stood; the written index positions lack it.</param>
/// <param name="Labels">What was planted here.</param>
public readonly record struct ScanLine(int TrueLine, double IndexOffsetMetres, PlantedFailure Labels);
