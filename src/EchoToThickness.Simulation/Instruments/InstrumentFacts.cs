using EchoToThickness.Simulation.Scenes;

namespace EchoToThickness.Simulation.Instruments;

/// <summary>What the instrument did to one A-scan.</summary>
/// <param name="RailSamples">Samples at the rails of the digitiser.</param>
/// <param name="GainDecibels">Gain of this cell against the scene's, decibels.</param>
/// <param name="Labels">
/// <see cref="PlantedFailure.GainStep"/> and <see cref="PlantedFailure.Spike"/>. A spike counts when its peak is above three standard
/// deviations of the noise.
/// </param>
public readonly record struct InstrumentFacts(int RailSamples, double GainDecibels, PlantedFailure Labels);
