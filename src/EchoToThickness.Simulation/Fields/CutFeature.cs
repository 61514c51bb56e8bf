using EchoToThickness.Simulation.Scenes;

namespace EchoToThickness.Simulation.Fields;

/// <summary>The form of a cut, for <see cref="CutFeature"/>.</summary>
internal enum CutForm
{
    Spherical,
    Ellipsoidal,
    Cylindrical,
    Conical,
    RoundGroove,
    VeeGroove,
}

/// <summary>
/// Metal taken away from the inside in one piece: pit, flat-bottom hole, groove. Where cuts overlap the deepest counts, as metal is taken
/// away only once.
/// </summary>
/// <remarks>
/// With ρ² = (x/a)² + (y/b)² (half axes a, b): ellipsoid <c>d √(1 - ρ²)</c>; cylinder <c>d</c>; cone <c>d (1 - ρ)</c>; cap of a sphere
/// <c>√(S² - a²ρ²) - (S - d)</c> with <c>S = (a² + d²) / (2 d)</c> (for a ≠ b the cap is stretched across). Grooves have these
/// cross-sections in y/b alone and upright ends.
/// </remarks>
internal sealed class CutFeature : WallFeature
{
    private readonly CutForm _form;
    private readonly double _inverseX;
    private readonly double _inverseY;
    private readonly double _sphere;
    private readonly double _radius2;

    public CutFeature(
        ComponentShape shape,
        CutForm form,
        SurfacePoint centre,
        double angleRadians,
        double halfXMetres,
        double halfYMetres,
        double depthMetres
    )
        : base(shape, centre, angleRadians, halfXMetres, halfYMetres)
    {
        _form = form;
        DepthMetres = depthMetres;
        _inverseX = 1 / halfXMetres;
        _inverseY = 1 / halfYMetres;
        // A groove is round across its width; a pit along its diameter.
        double half = form == CutForm.RoundGroove ? halfYMetres : halfXMetres;
        _sphere = (half * half + depthMetres * depthMetres) / (2 * depthMetres);
        _radius2 = half * half;
    }

    public double DepthMetres { get; }

    protected override void Row(double u, double v, double stepV, Span<double> row)
    {
        bool groove = _form is CutForm.RoundGroove or CutForm.VeeGroove;
        for (int j = 0; j < row.Length; j++)
        {
            double at = v + j * stepV;
            double x = (u * Cosine + at * Sine) * _inverseX;
            double y = (at * Cosine - u * Sine) * _inverseY;
            double r2 = groove ? (Math.Abs(x) <= 1 ? y * y : 2) : x * x + y * y;
            if (r2 > 1)
                continue;
            double depth = _form switch
            {
                CutForm.Spherical or CutForm.RoundGroove => Math.Sqrt(_sphere * _sphere - _radius2 * r2)
                    - (_sphere - DepthMetres),
                CutForm.Ellipsoidal => DepthMetres * Math.Sqrt(1 - r2),
                CutForm.Cylindrical => DepthMetres,
                _ => DepthMetres * (1 - Math.Sqrt(r2)),
            };
            if (depth > row[j])
                row[j] = depth;
        }
    }

    protected override bool IsFlat(double x, double y, double radiusMetres, double toleranceMetres)
    {
        if (DepthMetres <= toleranceMetres || IsOutside(x, y, radiusMetres))
            return true;
        bool groove = _form is CutForm.RoundGroove or CutForm.VeeGroove;
        if (groove)
            return false;
        // The ellipse lies within the circle of its longer half axis, and holds the circle of the shorter one.
        double distance = Math.Sqrt(x * x + y * y);
        return distance >= Math.Max(HalfX, HalfY) + radiusMetres
            || (_form == CutForm.Cylindrical && distance + radiusMetres <= Math.Min(HalfX, HalfY));
    }
}
