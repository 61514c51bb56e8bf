namespace EchoToThickness.Studies.Drawings;

/// <summary>What a drawing says of the cells of a scan, shape [scan, beam] row by row.</summary>
public sealed record DrawnTruth
{
    /// <summary>Walls under a beam that differ by less are one wall, metres.</summary>
    public const double EvenMetres = 50e-6;

    /// <summary>Certified wall on the beam's axis, metres; NaN where none is certified.</summary>
    public required double[] ThicknessMetres { get; init; }

    /// <summary>Smallest certified wall within half a footprint (or the position tolerance, if that is more), metres; NaN where none is certified.</summary>
    public required double[] MinimumMetres { get; init; }

    /// <summary>Largest certified wall within the position tolerance, metres; NaN where none is certified.</summary>
    public required double[] MaximumMetres { get; init; }

    /// <summary>Standard uncertainty of the certified wall, metres; NaN where none is certified.</summary>
    public required double[] StandardUncertaintyMetres { get; init; }

    /// <summary>Whether the wall is even under the whole beam and as far as the position may be off: only then a reading has one right value.</summary>
    public required bool[] IsEven { get; init; }

    /// <summary>Feature of each cell, index into <see cref="Drawing.Features"/>; <see cref="Drawing.NoFeature"/> where none is certified.</summary>
    public required int[] Feature { get; init; }

    /// <summary>Lays cells on a drawing.</summary>
    /// <param name="drawing">The drawing.</param>
    /// <param name="cells">Where the cells lie on the scan.</param>
    /// <param name="registration">Where the scan lies on the drawing.</param>
    public static DrawnTruth Of(Drawing drawing, ScannedCells cells, DrawingRegistration registration)
    {
        ArgumentNullException.ThrowIfNull(drawing);
        ArgumentNullException.ThrowIfNull(cells);
        ArgumentNullException.ThrowIfNull(registration);
        int beams = cells.AcrossMetres.Length;
        var thickness = new double[cells.Count];
        var minimum = new double[cells.Count];
        var maximum = new double[cells.Count];
        var uncertainty = new double[cells.Count];
        var feature = new int[cells.Count];
        var even = new bool[cells.Count];
        double tolerance = drawing.File.Header.PositionToleranceMetres;
        double radius = Math.Max(drawing.File.Header.FootprintMetres / 2, tolerance);
        Parallel.For(
            0,
            cells.AlongMetres.Length,
            scan =>
            {
                for (int beam = 0; beam < beams; beam++)
                {
                    int cell = scan * beams + beam;
                    (double along, double across) = registration.Place(
                        cells.AlongMetres[scan],
                        cells.AcrossMetres[beam]
                    );
                    thickness[cell] = drawing.WallMetres(along, across, out feature[cell]);
                    bool known = feature[cell] != Drawing.NoFeature;
                    (double smallest, double largest) = known
                        ? drawing.WallsWithin(along, across, radius)
                        : (double.NaN, double.NaN);
                    minimum[cell] = smallest;
                    even[cell] = largest - smallest <= EvenMetres;
                    maximum[cell] = known ? drawing.WallsWithin(along, across, tolerance).Largest : double.NaN;
                    uncertainty[cell] = known ? drawing.Features[feature[cell]].StandardUncertaintyMetres : double.NaN;
                }
            }
        );
        return new DrawnTruth
        {
            ThicknessMetres = thickness,
            MinimumMetres = minimum,
            MaximumMetres = maximum,
            StandardUncertaintyMetres = uncertainty,
            Feature = feature,
            IsEven = even,
        };
    }
}
