using EchoToThickness.Simulation.Scenes;

namespace EchoToThickness.Studies.Drawings;

/// <summary>A drawing made ready to be asked for walls. Immutable; thread-safe.</summary>
/// <remarks>
/// Steps replace the block's wall, the later over the earlier. Holes and pits take metal away from there; where they overlap the smallest wall
/// counts. Profiles of pits, with ρ the distance from the centre in half mouths and d the depth: ellipsoid <c>d √(1 - ρ²)</c>, cone
/// <c>d (1 - ρ)</c>, cylinder d, cap of a sphere of radius <c>S = (a² + d²) / 2d</c>: <c>√(S² - a²ρ²) - (S - d)</c>.
/// </remarks>
public sealed class Drawing
{
    /// <summary>Index of a place whose wall is not certified.</summary>
    public const int NoFeature = -1;

    private readonly DrawingFile _file;
    private readonly double[] _pitDepth;

    /// <summary>Makes a drawing.</summary>
    /// <param name="file">A checked file.</param>
    public Drawing(DrawingFile file)
    {
        ArgumentNullException.ThrowIfNull(file);
        _file = file;
        DrawingHeader block = file.Header;
        double k = block.CoverageFactor;
        Features =
        [
            new DrawingFeature(
                block.Name,
                DrawingFeatureKind.Block,
                block.LengthMetres / 2,
                block.WidthMetres / 2,
                block.LengthMetres,
                block.WidthMetres,
                block.WallMetres ?? double.NaN,
                block.UncertaintyMetres / k
            ),
            .. file.Steps.Select(s => new DrawingFeature(
                s.Name,
                DrawingFeatureKind.Step,
                s.AlongMetres,
                s.AcrossMetres,
                s.LengthMetres,
                s.WidthMetres,
                s.WallMetres,
                (s.UncertaintyMetres ?? block.UncertaintyMetres) / k
            )),
            .. file.Holes.Select(h => new DrawingFeature(
                h.Name,
                DrawingFeatureKind.Hole,
                h.AlongMetres,
                h.AcrossMetres,
                h.DiameterMetres,
                h.DiameterMetres,
                h.WallMetres,
                (h.UncertaintyMetres ?? block.UncertaintyMetres) / k
            )),
            .. file.Pits.Select(p => new DrawingFeature(
                p.Name,
                DrawingFeatureKind.Pit,
                p.AlongMetres,
                p.AcrossMetres,
                p.DiameterMetres,
                p.WidthMetres ?? p.DiameterMetres,
                p.WallMetres,
                (p.UncertaintyMetres ?? block.UncertaintyMetres) / k
            )),
        ];
        // The depth of a pit counts from the wall under its centre.
        _pitDepth =
        [
            .. file.Pits.Select(p =>
            {
                (double around, _) = Ground(p.AlongMetres, p.AcrossMetres);
                return Math.Max(around - p.WallMetres, 0);
            }),
        ];
    }

    /// <summary>The block itself (index 0), then steps, holes and pits in the order of the file.</summary>
    public IReadOnlyList<DrawingFeature> Features { get; }

    /// <summary>The file.</summary>
    public DrawingFile File => _file;

    /// <summary>Wall at a place.</summary>
    /// <param name="alongMetres">Place along on the drawing.</param>
    /// <param name="acrossMetres">Place across.</param>
    /// <returns>Metres; NaN where none is certified, left out, or outside of the block.</returns>
    public double WallMetres(double alongMetres, double acrossMetres) => WallMetres(alongMetres, acrossMetres, out _);

    /// <summary>Wall at a place, and the feature it belongs to.</summary>
    /// <param name="alongMetres">Place along on the drawing.</param>
    /// <param name="acrossMetres">Place across.</param>
    /// <param name="feature">Index into <see cref="Features"/>; <see cref="NoFeature"/> where no wall is certified.</param>
    /// <returns>Metres; NaN where none is certified, left out, or outside of the block.</returns>
    public double WallMetres(double alongMetres, double acrossMetres, out int feature)
    {
        feature = NoFeature;
        DrawingHeader block = _file.Header;
        if (
            !(alongMetres >= 0 && alongMetres <= block.LengthMetres)
            || !(acrossMetres >= 0 && acrossMetres <= block.WidthMetres)
        )
            return double.NaN;
        foreach (LeaveOut left in _file.LeaveOuts)
            if (
                Inside(
                    alongMetres - left.AlongMetres,
                    acrossMetres - left.AcrossMetres,
                    left.LengthMetres,
                    left.WidthMetres
                )
            )
                return double.NaN;
        (double wall, feature) = Ground(alongMetres, acrossMetres);
        double ground = wall;
        int first = 1 + _file.Steps.Count;
        for (int i = 0; i < _file.Holes.Count; i++)
        {
            DrawnHole hole = _file.Holes[i];
            double x = alongMetres - hole.AlongMetres;
            double y = acrossMetres - hole.AcrossMetres;
            if (x * x + y * y <= hole.DiameterMetres * hole.DiameterMetres / 4 && !(hole.WallMetres >= wall))
                (wall, feature) = (hole.WallMetres, first + i);
        }
        first += _file.Holes.Count;
        for (int i = 0; i < _file.Pits.Count; i++)
        {
            double rest = ground - DepthMetres(_file.Pits[i], _pitDepth[i], alongMetres, acrossMetres);
            if (rest < wall)
                (wall, feature) = (rest, first + i);
        }
        if (double.IsNaN(wall))
            feature = NoFeature;
        return wall;
    }

    /// <summary>Smallest and largest wall within a circle, on rings of a lattice and at the centres of features inside.</summary>
    /// <param name="alongMetres">Centre along on the drawing.</param>
    /// <param name="acrossMetres">Centre across.</param>
    /// <param name="radiusMetres">Radius.</param>
    /// <returns>Metres; both NaN where nothing inside is certified. Places without a certified wall do not count.</returns>
    public (double Smallest, double Largest) WallsWithin(double alongMetres, double acrossMetres, double radiusMetres)
    {
        double smallest = double.PositiveInfinity;
        double largest = double.NegativeInfinity;
        Take(alongMetres, acrossMetres);
        const int Rings = 4;
        for (int ring = 1; ring <= Rings && radiusMetres > 0; ring++)
        {
            double radius = radiusMetres * ring / Rings;
            int count = 6 * ring;
            for (int i = 0; i < count; i++)
            {
                (double sine, double cosine) = Math.SinCos(2 * Math.PI * i / count);
                Take(alongMetres + radius * cosine, acrossMetres + radius * sine);
            }
        }
        for (int i = 1 + _file.Steps.Count; i < Features.Count; i++)
        {
            double x = Features[i].AlongMetres - alongMetres;
            double y = Features[i].AcrossMetres - acrossMetres;
            if (x * x + y * y <= radiusMetres * radiusMetres)
                Take(Features[i].AlongMetres, Features[i].AcrossMetres);
        }
        return double.IsInfinity(smallest) ? (double.NaN, double.NaN) : (smallest, largest);

        void Take(double along, double across)
        {
            double wall = WallMetres(along, across);
            if (double.IsNaN(wall))
                return;
            smallest = Math.Min(smallest, wall);
            largest = Math.Max(largest, wall);
        }
    }

    private (double Wall, int Feature) Ground(double along, double across)
    {
        for (int i = _file.Steps.Count - 1; i >= 0; i--)
        {
            DrawnStep step = _file.Steps[i];
            if (Inside(along - step.AlongMetres, across - step.AcrossMetres, step.LengthMetres, step.WidthMetres))
                return (step.WallMetres, 1 + i);
        }
        return (_file.Header.WallMetres ?? double.NaN, 0);
    }

    private static double DepthMetres(DrawnPit pit, double depth, double along, double across)
    {
        (double sine, double cosine) = Math.SinCos(pit.AngleRadians);
        double u = along - pit.AlongMetres;
        double v = across - pit.AcrossMetres;
        double half = pit.DiameterMetres / 2;
        double x = (u * cosine + v * sine) / half;
        double y = (v * cosine - u * sine) / ((pit.WidthMetres ?? pit.DiameterMetres) / 2);
        double rho2 = x * x + y * y;
        if (rho2 > 1 || depth <= 0)
            return 0;
        double sphere = (half * half + depth * depth) / (2 * depth);
        return pit.Shape switch
        {
            PitShape.Spherical => Math.Sqrt(sphere * sphere - half * half * rho2) - (sphere - depth),
            PitShape.Ellipsoidal => depth * Math.Sqrt(1 - rho2),
            PitShape.Cylindrical => depth,
            _ => depth * (1 - Math.Sqrt(rho2)),
        };
    }

    private static bool Inside(double x, double y, double length, double width) =>
        Math.Abs(x) <= length / 2 && Math.Abs(y) <= width / 2;
}
