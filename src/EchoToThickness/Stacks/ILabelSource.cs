namespace EchoToThickness.Stacks;

/// <summary>
/// A source that also knows what was done to its cells on purpose (simulated stacks): up to 32 yes-or-no labels a cell, against which
/// detectors and statuses are scored.
/// </summary>
public interface ILabelSource
{
    /// <summary>Names of the label layers present; the one known is <c>planted</c>.</summary>
    IReadOnlyList<string> LabelLayers { get; }

    /// <summary>What the bits of a layer mean.</summary>
    /// <param name="layer">A name from <see cref="LabelLayers"/>.</param>
    /// <returns>At most 32 names, that of bit 0 first; empty text where a bit has no meaning.</returns>
    IReadOnlyList<string> LabelNames(string layer);

    /// <summary>Reads the labels of whole scan positions.</summary>
    /// <param name="layer">A name from <see cref="LabelLayers"/>.</param>
    /// <param name="firstScan">First scan position.</param>
    /// <param name="scanCount">Scan positions.</param>
    /// <param name="destination">Shape [scan, beam]; takes one word of bits a cell.</param>
    void ReadLabels(string layer, int firstScan, int scanCount, Span<uint> destination);
}
