namespace EchoToThickness.Studies.Drawings;

/// <summary>Where a scan lies on a drawing, how that was found, and how sure it is.</summary>
/// <remarks>
/// With c the centre of the scanned area, a place p of the scan lies at <c>c + R (M (p - c)) + shift</c> on the drawing: M turns reversed axes
/// round and stretches the scan axis, R turns by the angle from along towards across.
/// </remarks>
public sealed record DrawingRegistration
{
    /// <summary>Centre of the scanned area, along the scan, metres.</summary>
    public required double CentreAlongMetres { get; init; }

    /// <summary>Centre of the scanned area, across the scan, metres.</summary>
    public required double CentreAcrossMetres { get; init; }

    /// <summary>Shift along, metres.</summary>
    public double ShiftAlongMetres { get; init; }

    /// <summary>Shift across, metres.</summary>
    public double ShiftAcrossMetres { get; init; }

    /// <summary>Turn from along towards across, radians.</summary>
    public double AngleRadians { get; init; }

    /// <summary>Stretch of the scan axis: 0.01 means that the scan's lengths are 1 % too short.</summary>
    public double StretchFraction { get; init; }

    /// <summary>Whether the scan ran against the drawing.</summary>
    public bool ReversedAlong { get; init; }

    /// <summary>Whether beams count against the drawing.</summary>
    public bool ReversedAcross { get; init; }

    /// <summary>Measured cells that took part.</summary>
    public int Cells { get; init; }

    /// <summary>Mean absolute difference of measured and drawn walls, each cut at the limit of the search, metres.</summary>
    public double MismatchMetres { get; init; }

    /// <summary>The same at the best place that is really another one; NaN when there is none.</summary>
    public double RivalMismatchMetres { get; init; } = double.NaN;

    /// <summary>How many standard errors the rival is worse; NaN when there is none.</summary>
    public double RivalDistance { get; init; } = double.NaN;

    /// <summary>Whether the drawing decides the place along.</summary>
    public bool DecidedAlong { get; init; }

    /// <summary>Whether the drawing decides the place across.</summary>
    public bool DecidedAcross { get; init; }

    /// <summary>Median of measured less drawn wall, metres. Reported only: it never moves a wall.</summary>
    public double MedianDifferenceMetres { get; init; } = double.NaN;

    /// <summary>Whether the place may be used.</summary>
    public bool IsReliable { get; init; }

    /// <summary>In words.</summary>
    public required string Note { get; init; }

    /// <summary>A place of the scan on the drawing.</summary>
    /// <param name="alongMetres">Along the scan.</param>
    /// <param name="acrossMetres">Across the scan.</param>
    public (double AlongMetres, double AcrossMetres) Place(double alongMetres, double acrossMetres)
    {
        double x = (alongMetres - CentreAlongMetres) * (1 + StretchFraction) * (ReversedAlong ? -1 : 1);
        double y = (acrossMetres - CentreAcrossMetres) * (ReversedAcross ? -1 : 1);
        (double sine, double cosine) = Math.SinCos(AngleRadians);
        return (
            CentreAlongMetres + x * cosine - y * sine + ShiftAlongMetres,
            CentreAcrossMetres + x * sine + y * cosine + ShiftAcrossMetres
        );
    }
}
