using System.Numerics;

namespace EchoToThickness.Simulation.Waves;

/// <summary>What the front of the metal, with its coats, does to a plane wave at one frequency.</summary>
/// <param name="Outside">Reflection seen from outside.</param>
/// <param name="Through">Product of the transmissions inward and outward.</param>
/// <param name="Inside">Reflection seen from the metal.</param>
internal readonly record struct FrontCoefficients(Complex Outside, Complex Through, Complex Inside);
