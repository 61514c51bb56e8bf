namespace EchoToThickness.Studies.Running;

/// <summary>What one method made of one block, shape [scan, beam] row by row.</summary>
/// <param name="ThicknessMetres">Wall; NaN where not measured.</param>
/// <param name="UncertaintyMetres">Combined standard uncertainty; NaN where not measured.</param>
/// <param name="NoiseMetres">Noise part of it; NaN where not measured.</param>
/// <param name="WrongProbability">Stated probability that the echo is the wrong one; NaN where nobody states it.</param>
/// <param name="Status">Values of <see cref="Pairing.CellStatus"/>.</param>
public sealed record MethodResult(
    float[] ThicknessMetres,
    float[] UncertaintyMetres,
    float[] NoiseMetres,
    float[] WrongProbability,
    byte[] Status
)
{
    /// <summary>Layers of a grid that a result is made of.</summary>
    internal static IReadOnlyList<string> Layers { get; } =
    ["thickness", "uncertainty", "uncertainty_noise", "wrong_echo_probability"];
}
