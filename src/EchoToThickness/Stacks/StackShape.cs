namespace EchoToThickness.Stacks;

/// <summary>Extent of a stack, <c>[scan, beam, sample]</c>.</summary>
/// <param name="Scans">Positions along the scan axis.</param>
/// <param name="Beams">Focal laws of the array (positions along the index axis within a scan line).</param>
/// <param name="Samples">Samples of one A-scan.</param>
public readonly record struct StackShape(int Scans, int Beams, int Samples)
{
    /// <summary>Number of A-scans.</summary>
    public long Cells => (long)Scans * Beams;
}
