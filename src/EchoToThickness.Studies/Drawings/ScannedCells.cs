using EchoToThickness.Stacks;

namespace EchoToThickness.Studies.Drawings;

/// <summary>Where the cells of a scan line lie, on the scan's own axes.</summary>
/// <param name="AlongMetres">Shape [scan]: position along.</param>
/// <param name="AcrossMetres">Shape [beam]: position across.</param>
public sealed record ScannedCells(double[] AlongMetres, double[] AcrossMetres)
{
    /// <summary>Cells.</summary>
    public int Count => AlongMetres.Length * AcrossMetres.Length;

    /// <summary>Middle of the positions along.</summary>
    public double CentreAlongMetres => (AlongMetres.Min() + AlongMetres.Max()) / 2;

    /// <summary>Middle of the positions across.</summary>
    public double CentreAcrossMetres => (AcrossMetres.Min() + AcrossMetres.Max()) / 2;

    /// <summary>Largest step between neighbours, along and across, metres.</summary>
    public double PitchMetres =>
        Math.Max(
            (AlongMetres.Max() - AlongMetres.Min()) / Math.Max(1, AlongMetres.Length - 1),
            (AcrossMetres.Max() - AcrossMetres.Min()) / Math.Max(1, AcrossMetres.Length - 1)
        );

    /// <summary>Positions of a line.</summary>
    /// <param name="info">What the stack says of it.</param>
    /// <param name="file">File, for messages.</param>
    /// <exception cref="StackFormatException">A position is not known.</exception>
    public static ScannedCells Of(StackInfo info, string file)
    {
        ArgumentNullException.ThrowIfNull(info);
        double[] along = Known(info.ScanPositionsMetres, info.Shape.Scans, "scan positions");
        double[] across = Known(info.IndexPositionsMetres, info.Shape.Beams, "index positions of the beams");
        double offset = info.Placement.IndexOffsetMetres ?? 0;
        return new ScannedCells(along, [.. across.Select(a => a + offset)]);

        double[] Known(IReadOnlyList<double>? positions, int count, string what) =>
            positions is { } known && known.Count == count && known.All(double.IsFinite)
                ? [.. known]
                : throw new StackFormatException(
                    $"The {what} are not known, so the scan cannot be laid on a drawing.",
                    file,
                    info.Name,
                    "state them in the stack or in the layout map."
                );
    }
}
