namespace EchoToThickness.Geometry;

/// <summary>
/// Outer surface of a bend as part of a torus: position θ along the bend (0 at its beginning), girth angle φ (0 at the extrados, π at
/// the intrados).
/// </summary>
/// <remarks>
/// Point: <c>x = (R + r cos φ) cos θ, y = (R + r cos φ) sin θ, z = r sin φ</c>. Areas and volumes by the theorem of Pappus; curvatures of
/// the torus from any text of differential geometry (do Carmo 1976, section 3-3).
/// </remarks>
public sealed record ElbowTorus
{
    /// <summary>Checks and holds the three facts.</summary>
    /// <param name="outsideRadiusMetres">Outside radius r of the pipe.</param>
    /// <param name="bendRadiusMetres">Bend radius R to the centre line; greater than r.</param>
    /// <param name="bendAngleRadians">Angle of the bend, up to a full turn.</param>
    /// <exception cref="ArgumentOutOfRangeException">Not positive, not finite, a bend tighter than the pipe, or more than a full turn.</exception>
    public ElbowTorus(double outsideRadiusMetres, double bendRadiusMetres, double bendAngleRadians)
    {
        if (!(outsideRadiusMetres > 0) || !double.IsFinite(outsideRadiusMetres))
            throw new ArgumentOutOfRangeException(
                nameof(outsideRadiusMetres),
                outsideRadiusMetres,
                "The outside radius must be a positive length."
            );
        if (!(bendRadiusMetres > outsideRadiusMetres) || !double.IsFinite(bendRadiusMetres))
            throw new ArgumentOutOfRangeException(
                nameof(bendRadiusMetres),
                bendRadiusMetres,
                "The bend radius must be greater than the outside radius of the pipe."
            );
        if (!(bendAngleRadians > 0) || bendAngleRadians > 2 * Math.PI)
            throw new ArgumentOutOfRangeException(
                nameof(bendAngleRadians),
                bendAngleRadians,
                "The bend angle must be positive and at most a full turn."
            );
        OutsideRadiusMetres = outsideRadiusMetres;
        BendRadiusMetres = bendRadiusMetres;
        BendAngleRadians = bendAngleRadians;
    }

    /// <summary>Outside radius r of the pipe, metres.</summary>
    public double OutsideRadiusMetres { get; }

    /// <summary>Bend radius R to the centre line, metres.</summary>
    public double BendRadiusMetres { get; }

    /// <summary>Angle of the bend, radians.</summary>
    public double BendAngleRadians { get; }

    /// <summary>Distance from the bend's axis, <c>R + r cos φ</c>, metres.</summary>
    /// <param name="girthRadians">Girth angle φ.</param>
    public double AxisDistanceMetres(double girthRadians) =>
        BendRadiusMetres + OutsideRadiusMetres * Math.Cos(girthRadians);

    /// <summary>True length along a line of constant φ for each metre of the centre line, <c>(R + r cos φ) / R</c>.</summary>
    /// <param name="girthRadians">Girth angle φ.</param>
    public double AlongScale(double girthRadians) => AxisDistanceMetres(girthRadians) / BendRadiusMetres;

    /// <summary>Arc of the whole bend at a girth angle, <c>θ (R + r cos φ)</c>, metres.</summary>
    /// <param name="girthRadians">Girth angle φ.</param>
    public double ArcMetres(double girthRadians) => BendAngleRadians * AxisDistanceMetres(girthRadians);

    /// <summary>Area of the surface between two girth angles and two bend angles, square metres; exact.</summary>
    /// <param name="firstGirthRadians">From φ₁.</param>
    /// <param name="lastGirthRadians">To φ₂.</param>
    /// <param name="bendAngleRadians">Extent along the bend.</param>
    /// <remarks><c>∫∫ r (R + r cos φ) dφ dθ = θ r (R (φ₂ - φ₁) + r (sin φ₂ - sin φ₁))</c>; the difference of sines as a product, so that
    /// small cells keep their digits.</remarks>
    public double AreaSquareMetres(double firstGirthRadians, double lastGirthRadians, double bendAngleRadians)
    {
        double half = (lastGirthRadians - firstGirthRadians) / 2;
        double sines = 2 * Math.Cos((firstGirthRadians + lastGirthRadians) / 2) * Math.Sin(half);
        return bendAngleRadians * OutsideRadiusMetres * (BendRadiusMetres * 2 * half + OutsideRadiusMetres * sines);
    }

    /// <summary>Area of the whole bend, <c>2 π r R θ</c>, square metres.</summary>
    public double TotalAreaSquareMetres => AreaSquareMetres(-Math.PI, Math.PI, BendAngleRadians);

    /// <summary>Share of the area in the half around the extrados, <c>1/2 + r / (π R)</c>.</summary>
    public double ExtradosFraction => 0.5 + OutsideRadiusMetres / (Math.PI * BendRadiusMetres);

    /// <summary>Metal of the whole bend under a uniform wall, <c>θ π (r² - (r - t)²) R</c>, cubic metres.</summary>
    /// <param name="wallMetres">Wall t.</param>
    public double MetalVolumeCubicMetres(double wallMetres) =>
        BendAngleRadians * Math.PI * wallMetres * (2 * OutsideRadiusMetres - wallMetres) * BendRadiusMetres;

    /// <summary>Principal curvature along the bend, <c>cos φ / (R + r cos φ)</c>, 1/metres: positive where the surface is convex that way
    /// (extrados), negative at the intrados (saddle). The one around the girth is <c>1/r</c>.</summary>
    /// <param name="girthRadians">Girth angle φ.</param>
    public double AlongCurvaturePerMetre(double girthRadians) =>
        Math.Cos(girthRadians) / AxisDistanceMetres(girthRadians);

    /// <summary>Signed radius of curvature along the bend, metres; infinite on the flanks. See <see cref="AlongCurvaturePerMetre"/>.</summary>
    /// <param name="girthRadians">Girth angle φ.</param>
    public double AlongRadiusMetres(double girthRadians)
    {
        double curvature = AlongCurvaturePerMetre(girthRadians);
        // cos(π/2) is 6e-17 in floating point; a radius beyond a million kilometres is a flat line.
        return Math.Abs(curvature) < 1e-9 ? double.PositiveInfinity : 1 / curvature;
    }

    /// <summary>A point of the outer surface in space, metres; origin where the bend's axis meets its plane.</summary>
    /// <param name="bendRadians">Angle θ along the bend.</param>
    /// <param name="girthRadians">Girth angle φ.</param>
    public (double XMetres, double YMetres, double ZMetres) PointAt(double bendRadians, double girthRadians)
    {
        double distance = AxisDistanceMetres(girthRadians);
        (double sine, double cosine) = Math.SinCos(bendRadians);
        return (distance * cosine, distance * sine, OutsideRadiusMetres * Math.Sin(girthRadians));
    }
}
