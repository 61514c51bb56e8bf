using System.Globalization;
using EchoToThickness.Stacks;

namespace EchoToThickness.Components;

/// <summary>Where the cells of one line lie on the component, and which cell covers a place. Immutable.</summary>
/// <remarks>
/// <para>A line along: the encoder's length is an arc at the line's own distance from the bend's axis (or on the centre line, as the facts say); divided
/// by the stretch <c>(R + r cos φ) / R</c> of the array's centre it is the position along. All beams of the array stand on that position.</para>
/// <para>A line around: scan positions are the place around; beams keep their true distance from the array's centre, so that along they lie closer
/// together at the extrados and wider at the intrados.</para>
/// </remarks>
public sealed class LineGeometry
{
    private readonly ComponentSurface _surface;
    private readonly PositionIndex _scan;
    private readonly PositionIndex _index;
    private readonly double _trackOrigin;
    private readonly double _stretch;
    private readonly double _centreAlong;

    /// <summary>Places a line.</summary>
    /// <param name="surface">The component.</param>
    /// <param name="line">The line.</param>
    /// <exception cref="ComponentException">The facts do not say where the line lies.</exception>
    public LineGeometry(ComponentSurface surface, LineCells line)
    {
        ArgumentNullException.ThrowIfNull(surface);
        ArgumentNullException.ThrowIfNull(line);
        _surface = surface;
        LinePlacement placement = line.Placement;
        Direction =
            placement.Direction
            ?? (surface.Kind == ComponentKind.Plate ? LineDirection.Along : throw Missing(line, "line_direction"));
        LineOrigin origin =
            placement.Origin
            ?? (surface.Kind == ComponentKind.Plate ? LineOrigin.ComponentStart : throw Missing(line, "line_origin"));
        double reference = origin switch
        {
            LineOrigin.ComponentStart => surface.StartMetres,
            LineOrigin.MidBend => surface.LengthMetres / 2,
            _ => placement.DatumMetres ?? throw Missing(line, "datum"),
        };
        double offset = (placement.IndexOffsetMetres ?? 0) + line.IndexShiftMetres;
        bool along = Direction == LineDirection.Along;
        double[] scan = [.. line.ScanPositionsMetres];
        for (int k = 0; k < line.ScanShiftMetres.Length; k++)
            scan[k] += line.ScanShiftMetres[k];
        double[] index = [.. line.IndexPositionsMetres.Select(p => p + offset + (along ? 0 : reference))];
        double centre = index.Average();
        EncoderTrack track =
            placement.Track
            ?? (surface.Torus is null || !along ? EncoderTrack.Line : throw Missing(line, "encoder_track"));
        _stretch = along && track == EncoderTrack.Line ? surface.Stretch(centre) : 1;
        _trackOrigin = along ? surface.TrackOf(reference, _stretch) : 0;
        _centreAlong = along ? 0 : centre;
        if (!along)
            for (int k = 0; k < index.Length; k++)
                index[k] -= centre;
        TrackMetres = Math.Abs(scan[^1] - scan[0]);
        _scan = new PositionIndex(scan);
        _index = new PositionIndex(index);
        CentreMetres = centre;
    }

    /// <summary>Along or around.</summary>
    public LineDirection Direction { get; }

    /// <summary>Place of the array's centre across the line, metres: around for lines along, along for lines around.</summary>
    public double CentreMetres { get; }

    /// <summary>Distance of scan positions on the track, metres.</summary>
    public double ScanPitchMetres => _scan.PitchMetres;

    /// <summary>Distance of beams, metres.</summary>
    public double BeamPitchMetres => _index.PitchMetres;

    /// <summary>From the first scan position to the last on the track, metres.</summary>
    public double TrackMetres { get; }

    /// <summary>Metres of track for each metre along on the bend.</summary>
    public double TrackStretch => _stretch;

    /// <summary>Where a cell lies.</summary>
    /// <param name="scan">Scan position.</param>
    /// <param name="beam">Beam.</param>
    public SurfacePlace PlaceOf(int scan, int beam) => PlaceAt(_scan[scan], _index[beam]);

    /// <summary>Where a beam would lie, shifted along the track and across it.</summary>
    /// <param name="scan">Scan position.</param>
    /// <param name="beam">Beam.</param>
    /// <param name="scanShiftMetres">Shift on the track.</param>
    /// <param name="indexShiftMetres">Shift across.</param>
    public SurfacePlace PlaceOf(int scan, int beam, double scanShiftMetres, double indexShiftMetres) =>
        PlaceAt(_scan[scan] + scanShiftMetres, _index[beam] + indexShiftMetres);

    /// <summary>The cell whose footprint (half a pitch either way) covers a place.</summary>
    /// <param name="place">Place.</param>
    /// <param name="scan">Scan position.</param>
    /// <param name="beam">Beam.</param>
    public bool TryLocate(SurfacePlace place, out int scan, out int beam)
    {
        beam = -1;
        if (Direction == LineDirection.Along)
        {
            scan = _scan.Nearest(_surface.TrackOf(place.AlongMetres, _stretch) - _trackOrigin, 0);
            if (scan >= 0)
                beam = _index.Nearest(place.AroundMetres, _surface.IsClosed ? _surface.WidthMetres : 0);
        }
        else
        {
            scan = _scan.Nearest(place.AroundMetres, _surface.IsClosed ? _surface.WidthMetres : 0);
            if (scan >= 0)
            {
                double stretch = _surface.Stretch(new SurfacePlace(_centreAlong, place.AroundMetres));
                beam = _index.Nearest((place.AlongMetres - _centreAlong) * stretch, 0);
            }
        }
        return scan >= 0 && beam >= 0;
    }

    /// <summary>The scan position within half a pitch of a place, whatever the beam; -1 for none.</summary>
    internal int TryLocateAlong(SurfacePlace place) =>
        Direction == LineDirection.Along
            ? _scan.Nearest(_surface.TrackOf(place.AlongMetres, _stretch) - _trackOrigin, 0)
            : _scan.Nearest(place.AroundMetres, _surface.IsClosed ? _surface.WidthMetres : 0);

    /// <summary>The beam within half a pitch of a place, whatever the scan position; -1 for none.</summary>
    internal int TryLocateAcross(SurfacePlace place) =>
        Direction == LineDirection.Along
            ? _index.Nearest(place.AroundMetres, _surface.IsClosed ? _surface.WidthMetres : 0)
            : _index.Nearest(
                (place.AlongMetres - _centreAlong)
                    * _surface.Stretch(new SurfacePlace(_centreAlong, place.AroundMetres)),
                0
            );

    private SurfacePlace PlaceAt(double scanMetres, double indexMetres)
    {
        if (Direction == LineDirection.Along)
            return new SurfacePlace(_surface.AlongOf(_trackOrigin + scanMetres, _stretch), _surface.Wrap(indexMetres));
        double around = _surface.Wrap(scanMetres);
        double stretch = _surface.Stretch(new SurfacePlace(_centreAlong, around));
        return new SurfacePlace(_centreAlong + indexMetres / stretch, around);
    }

    private static ComponentException Missing(LineCells line, string fact) =>
        new(
            $"The fact {fact} is not known.",
            string.Create(CultureInfo.InvariantCulture, $"line '{line.Name}'"),
            Remedy(fact)
        );

    private static string Remedy(string fact) =>
        (
            fact switch
            {
                "line_direction" => "write in the plan, under [placement], direction = \"along\" or \"around\"",
                "line_origin" =>
                    "write in the plan, under [placement], origin = \"component start\", \"mid-bend\" or \"datum\"",
                "encoder_track" => "write in the plan, under [placement], track = \"line\" or \"centre line\"",
                _ => "write in the plan, under [placement], datum = \"250 mm\" (from the start of the bend)",
            }
        )
        + ", or for one line under [[line]]; a native stack can state it as attribute "
        + fact
        + ". Without it a cell's place on the component would be a guess.";
}
