using System.Buffers;
using EchoToThickness.Procedures;
using EchoToThickness.Simulation.Scenes;
using EchoToThickness.Stacks;

namespace EchoToThickness.Simulation.Fields;

/// <summary>
/// The wall of a scene as one height field, and what lies in it. Immutable, thread-safe, the same for the same scene and seed.
/// </summary>
/// <remarks>
/// Order: base wall (nominal, bend); steps and profiles of walls replace it; pits, grooves and holes given by their depth take away the
/// deepest of them; patches, roughness and profiles of losses add to that; holes given by their wall leave at most that wall; a wall below
/// zero is zero, a perforation. The inner surface is described over the outer one along the normal: lengths on the inside of a pipe are not
/// shortened by (r - t)/r.
/// </remarks>
public sealed class WallField
{
    /// <summary>
    /// The wall of a bend changes like a wedge, not like a pit: at its steepest, 0.007 rad on NPS 6 with 8 % of thinning, the tilt of the
    /// far wall takes 3 % from the first and 10 % from the second echo of 8 mm at 7 MHz (sinc of half the phase across the aperture) and
    /// leaves their times alone. It may change three times as much as a feature and still count as flat; that loss is then left out.
    /// </summary>
    private const double BendTolerances = 3;

    private readonly WallBase _base;
    private readonly WallFeature[] _replacing;
    private readonly CutFeature[] _cuts;
    private readonly SurfaceIndex _cutIndex;
    private readonly WallFeature[] _adding;
    private readonly WallFeature[] _drilled;
    private readonly LaminarPatchField _laminar;

    internal WallField(
        ComponentShape shape,
        WallBase wall,
        IReadOnlyList<WallFeature> replacing,
        IReadOnlyList<CutFeature> cuts,
        IReadOnlyList<WallFeature> adding,
        IReadOnlyList<WallFeature> drilled,
        LaminarPatchField laminar
    )
    {
        Shape = shape;
        _base = wall;
        _replacing = [.. replacing];
        _cuts = [.. cuts];
        _cutIndex = new SurfaceIndex(shape, [.. _cuts.Select(c => c.Box)]);
        _adding = [.. adding];
        _drilled = [.. drilled];
        _laminar = laminar;
    }

    /// <summary>The component.</summary>
    public ComponentShape Shape { get; }

    /// <summary>Pits, grooves and holes given by depth, those of clusters included.</summary>
    public int CutCount => _cuts.Length;

    /// <summary>Compiles the wall of a scene at the time of its survey.</summary>
    /// <param name="scene">The scene.</param>
    /// <param name="folder">Folder from which the paths of measured profiles count.</param>
    /// <exception cref="ProcedureException">A feature that cannot be, such as a pit deeper than the wall; every fault, with its key.</exception>
    /// <exception cref="StackFormatException">A measured profile is missing or damaged.</exception>
    public static WallField Compile(Scene scene, string folder)
    {
        ArgumentNullException.ThrowIfNull(scene);
        ArgumentNullException.ThrowIfNull(folder);
        return new WallCompiler(scene, folder).Compile();
    }

    /// <summary>Place and depth of every pit, groove and hole given by depth, in the order of the scene.</summary>
    /// <param name="cut">Counted from 0, below <see cref="CutCount"/>.</param>
    public (SurfacePoint Centre, double DepthMetres) CutAt(int cut) => (_cuts[cut].Centre, _cuts[cut].DepthMetres);

    /// <summary>Metal along the normal at a point, metres; 0 where it is perforated.</summary>
    /// <param name="point">The point; a position beyond the component's ends takes the wall of the features that reach there.</param>
    public double ThicknessAt(SurfacePoint point)
    {
        Span<double> value = stackalloc double[1];
        Evaluate(new SurfaceWindow(Shape, point, 1, 1, 1, 1), value);
        return value[0];
    }

    /// <summary>The wall over a regular grid of points around a centre.</summary>
    /// <param name="centre">Centre of the grid (between points where a count is even).</param>
    /// <param name="spacingAlongMetres">True distance of rows at the centre.</param>
    /// <param name="spacingAroundMetres">Distance of columns.</param>
    /// <param name="countAlong">Rows.</param>
    /// <param name="countAround">Columns.</param>
    /// <param name="thicknessMetres">Shape [along, around], metres.</param>
    public void Sample(
        SurfacePoint centre,
        double spacingAlongMetres,
        double spacingAroundMetres,
        int countAlong,
        int countAround,
        Span<float> thicknessMetres
    )
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(spacingAlongMetres);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(spacingAroundMetres);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(countAlong);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(countAround);
        int count = checked(countAlong * countAround);
        if (thicknessMetres.Length < count)
            throw new ArgumentException($"{count} values are needed.", nameof(thicknessMetres));
        double[] rented = ArrayPool<double>.Shared.Rent(count);
        Span<double> values = rented.AsSpan(0, count);
        Evaluate(
            new SurfaceWindow(Shape, centre, spacingAlongMetres, spacingAroundMetres, countAlong, countAround),
            values
        );
        System.Numerics.Tensors.TensorPrimitives.ConvertTruncating<double, float>(values, thicknessMetres);
        ArrayPool<double>.Shared.Return(rented);
    }

    /// <summary>
    /// A cheap test: whether the wall within a disc differs from that at its centre by no more than a tolerance. False where it is not sure.
    /// </summary>
    /// <param name="centre">Centre.</param>
    /// <param name="radiusMetres">Radius of the disc.</param>
    /// <param name="toleranceMetres">
    /// Change that counts as flat, for each feature; by default 25 µm, which at 7 MHz in steel takes 2 % from the amplitude of an echo whose
    /// footprint slopes by it on either side.
    /// </param>
    public bool IsFlatWithin(SurfacePoint centre, double radiusMetres, double toleranceMetres = 25e-6)
    {
        // What a step replaces no longer matters inside of it.
        bool hidden = false;
        for (int i = _replacing.Length - 1; i >= 0 && !hidden; i--)
        {
            if (!_replacing[i].IsFlatWithin(Shape, centre, radiusMetres, toleranceMetres))
                return false;
            hidden = _replacing[i].Hides(Shape, centre, radiusMetres);
        }
        if (!hidden && !_base.IsFlatWithin(centre, radiusMetres, BendTolerances * toleranceMetres))
            return false;
        foreach (WallFeature feature in _adding)
            if (!feature.IsFlatWithin(Shape, centre, radiusMetres, toleranceMetres))
                return false;
        foreach (WallFeature feature in _drilled)
            if (!feature.IsFlatWithin(Shape, centre, radiusMetres, toleranceMetres))
                return false;
        double half = radiusMetres / Shape.Stretch(centre);
        foreach (
            int i in _cutIndex.Query(
                centre.AlongMetres - half,
                centre.AlongMetres + half,
                centre.AroundMetres - radiusMetres,
                centre.AroundMetres + radiusMetres
            )
        )
            if (!_cuts[i].IsFlatWithin(Shape, centre, radiusMetres, toleranceMetres))
                return false;
        return true;
    }

    /// <summary>Whether a pit, hole or groove, single or of a cluster, reaches under a rectangle; false inside a flat bottom that fills it.</summary>
    /// <param name="centre">Centre of the rectangle.</param>
    /// <param name="alongMetres">True extent along.</param>
    /// <param name="aroundMetres">Extent around.</param>
    /// <remarks>The rectangle is widened to the circle around it.</remarks>
    public bool IsCutUnder(SurfacePoint centre, double alongMetres, double aroundMetres)
    {
        const double Shallowest = 25e-6;
        double radius = Math.Sqrt(alongMetres * alongMetres + aroundMetres * aroundMetres) / 2;
        foreach (WallFeature feature in _drilled)
            if (!feature.IsFlatWithin(Shape, centre, radius, Shallowest))
                return true;
        double half = radius / Shape.Stretch(centre);
        foreach (
            int i in _cutIndex.Query(
                centre.AlongMetres - half,
                centre.AlongMetres + half,
                centre.AroundMetres - radius,
                centre.AroundMetres + radius
            )
        )
            if (!_cuts[i].IsFlatWithin(Shape, centre, radius, Shallowest))
                return true;
        return false;
    }

    /// <summary>Smallest and mean wall under a rectangle, such as the active aperture.</summary>
    /// <param name="centre">Centre of the rectangle.</param>
    /// <param name="alongMetres">True extent along.</param>
    /// <param name="aroundMetres">Extent around.</param>
    /// <remarks>
    /// From 33 x 33 points (the mean at the middles of equal cells), and for the minimum the deepest point of every pit and hole in the rectangle.
    /// </remarks>
    public WallSummary FootprintAt(SurfacePoint centre, double alongMetres, double aroundMetres)
    {
        double here = ThicknessAt(centre);
        if (IsFlatWithin(centre, Math.Sqrt(alongMetres * alongMetres + aroundMetres * aroundMetres) / 2, 0))
            return new WallSummary(here, here);
        const int side = 33;
        double[] rented = ArrayPool<double>.Shared.Rent(side * side);
        Span<double> values = rented.AsSpan(0, side * side);
        Evaluate(new SurfaceWindow(Shape, centre, alongMetres / side, aroundMetres / side, side, side), values);
        double minimum = here;
        double sum = 0;
        foreach (double value in values)
        {
            minimum = Math.Min(minimum, value);
            sum += value;
        }
        ArrayPool<double>.Shared.Return(rented);
        double half = alongMetres / 2 / Shape.Stretch(centre);
        foreach (
            int i in _cutIndex.Query(
                centre.AlongMetres - half,
                centre.AlongMetres + half,
                centre.AroundMetres - aroundMetres / 2,
                centre.AroundMetres + aroundMetres / 2
            )
        )
        {
            SurfacePoint deepest = _cuts[i].Centre;
            if (
                Math.Abs(deepest.AlongMetres - centre.AlongMetres) <= half
                && Math.Abs(Shape.WrapDifference(deepest.AroundMetres - centre.AroundMetres)) <= aroundMetres / 2
            )
                minimum = Math.Min(minimum, ThicknessAt(deepest));
        }
        return new WallSummary(minimum, sum / (side * side));
    }

    /// <summary>The shallowest lamination or inclusion over a point; null where there is none.</summary>
    /// <param name="point">The point.</param>
    public LaminarHit? LaminationAt(SurfacePoint point) => _laminar.At(point);

    /// <summary>The lamination or inclusion that covers most of a rectangle; null where none covers any of it.</summary>
    /// <param name="centre">Centre of the rectangle.</param>
    /// <param name="alongMetres">True extent along.</param>
    /// <param name="aroundMetres">Extent around.</param>
    /// <param name="coveredFraction">Covered part of the rectangle, 0 to 1.</param>
    public LaminarHit? LaminationUnder(
        SurfacePoint centre,
        double alongMetres,
        double aroundMetres,
        out double coveredFraction
    ) => _laminar.Under(centre, alongMetres, aroundMetres, out coveredFraction);

    private void Evaluate(in SurfaceWindow window, Span<double> wall)
    {
        int count = wall.Length;
        double[]? rented = count > 256 ? ArrayPool<double>.Shared.Rent(count) : null;
        Span<double> loss = rented is null ? stackalloc double[count] : rented.AsSpan(0, count);
        loss.Clear();
        foreach (int i in _cutIndex.Query(window))
            _cuts[i].Apply(window, loss);
        foreach (WallFeature feature in _adding)
            feature.Apply(window, loss);
        _base.Fill(window, wall);
        foreach (WallFeature feature in _replacing)
            feature.Apply(window, wall);
        System.Numerics.Tensors.TensorPrimitives.Subtract(wall, loss, wall);
        foreach (WallFeature feature in _drilled)
            feature.Apply(window, wall);
        System.Numerics.Tensors.TensorPrimitives.Max(wall, 0.0, wall);
        if (rented is not null)
            ArrayPool<double>.Shared.Return(rented);
    }
}
