namespace EchoToThickness.Stacks;

/// <summary>A source that also knows the truth of its cells (simulated stacks, reference blocks).</summary>
public interface ITruthSource
{
    /// <summary>
    /// Names of the truth layers present, from: <c>thickness</c> (wall on the beam axis), <c>minimum_thickness</c>,
    /// <c>mean_thickness</c> (under the aperture), <c>reflector_depth</c>, <c>couplant_path</c>, <c>coating_thickness</c>.
    /// </summary>
    IReadOnlyList<string> TruthLayers { get; }

    /// <summary>Reads one truth layer.</summary>
    /// <param name="layer">A name from <see cref="TruthLayers"/>.</param>
    /// <param name="firstScan">First scan position.</param>
    /// <param name="scanCount">Scan positions.</param>
    /// <param name="destinationMetres">Shape [scan, beam]; metres, NaN where not known.</param>
    void ReadTruth(string layer, int firstScan, int scanCount, Span<double> destinationMetres);
}
