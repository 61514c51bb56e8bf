namespace EchoToThickness.Geometry;

/// <summary>One nominal pipe size: outside diameter, walls by schedule, and the bend radii of welding elbows.</summary>
/// <param name="Name">Nominal pipe size as written, inches: <c>"6"</c>, <c>"2.5"</c>.</param>
/// <param name="NominalInches">The same as a number; not the diameter of anything below NPS 14.</param>
/// <param name="OutsideDiameterMetres">Outside diameter, metres.</param>
/// <param name="Walls">Nominal wall by schedule; the order of <see cref="PipeSizes.Schedules"/>.</param>
/// <remarks>Source: ASME B36.10M-2018, Table 1 (diameters and walls); ASME B16.9 (centre-to-end of elbows).</remarks>
public sealed record PipeSize(
    string Name,
    double NominalInches,
    double OutsideDiameterMetres,
    IReadOnlyList<PipeWall> Walls
)
{
    /// <summary>Bend radius of a long-radius elbow to the centre line: 1.5 times the nominal size, not the outside diameter.</summary>
    public double LongRadiusMetres => 1.5 * ShortRadiusMetres;

    /// <summary>Bend radius of a short-radius elbow to the centre line: the nominal size in inches.</summary>
    public double ShortRadiusMetres => NominalInches * 0.0254;

    /// <summary>Nominal wall of a schedule; null when the table holds no such schedule.</summary>
    /// <param name="schedule">Schedule as written: <c>"40"</c>, <c>"80"</c>, <c>"160"</c>, <c>"STD"</c>, <c>"XS"</c>; case does not matter.</param>
    public double? WallMetres(string schedule)
    {
        foreach (PipeWall wall in Walls)
            if (string.Equals(wall.Schedule, schedule, StringComparison.OrdinalIgnoreCase))
                return wall.WallMetres;
        return null;
    }
}
