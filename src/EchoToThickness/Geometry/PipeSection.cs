namespace EchoToThickness.Geometry;

/// <summary>Cross-section of a straight pipe, or of an elbow across its centre line.</summary>
public sealed record PipeSection
{
    /// <summary>Checks and holds the two facts.</summary>
    /// <param name="outsideDiameterMetres">Outside diameter, metres.</param>
    /// <param name="wallMetres">Wall, metres; less than the outside radius.</param>
    /// <exception cref="ArgumentOutOfRangeException">Not positive, not finite, or a wall that fills the pipe.</exception>
    public PipeSection(double outsideDiameterMetres, double wallMetres)
    {
        if (!(outsideDiameterMetres > 0) || !double.IsFinite(outsideDiameterMetres))
            throw new ArgumentOutOfRangeException(
                nameof(outsideDiameterMetres),
                outsideDiameterMetres,
                "The outside diameter must be a positive length."
            );
        if (!(wallMetres > 0) || wallMetres >= outsideDiameterMetres / 2)
            throw new ArgumentOutOfRangeException(
                nameof(wallMetres),
                wallMetres,
                "The wall must be positive and smaller than the outside radius."
            );
        OutsideDiameterMetres = outsideDiameterMetres;
        WallMetres = wallMetres;
    }

    /// <summary>Outside diameter, metres.</summary>
    public double OutsideDiameterMetres { get; }

    /// <summary>Wall, metres.</summary>
    public double WallMetres { get; }

    /// <summary>Outside radius, metres.</summary>
    public double OutsideRadiusMetres => OutsideDiameterMetres / 2;

    /// <summary>Inside radius, metres.</summary>
    public double InsideRadiusMetres => OutsideRadiusMetres - WallMetres;

    /// <summary>Height of the outer surface's arc over a chord, <c>r - sqrt(r² - (chord/2)²)</c>, metres.</summary>
    /// <param name="chordMetres">Chord across the pipe, at most the outside diameter.</param>
    public double SagittaMetres(double chordMetres)
    {
        double half = chordMetres / 2;
        if (!(half >= 0) || half > OutsideRadiusMetres)
            throw new ArgumentOutOfRangeException(
                nameof(chordMetres),
                chordMetres,
                "The chord must lie inside the pipe."
            );
        // r - sqrt(r² - h²) without cancellation.
        double root = Math.Sqrt((OutsideRadiusMetres - half) * (OutsideRadiusMetres + half));
        return half * half / (OutsideRadiusMetres + root);
    }

    /// <summary>
    /// Relative excess of the mean path through the wall, parallel to the beam axis, under a flat aperture that lies across the
    /// pipe and is centred over it: first order in the aperture, <c>a² / (24 r_o r_i)</c>.
    /// </summary>
    /// <param name="apertureMetres">Aperture a in girth direction, metres.</param>
    /// <remarks>
    /// At offset y the wall parallel to the axis is <c>sqrt(r_o² - y²) - sqrt(r_i² - y²) = d + (1/r_i - 1/r_o) y²/2 + O(y⁴) =
    /// d (1 + y²/(2 r_o r_i))</c>; the mean of y² over the aperture is a²/12. Derived here; the extra couplant path at the outer
    /// surface delays interface and wall echoes alike to this order and drops out of their difference.
    /// </remarks>
    public double MeanPathExcess(double apertureMetres) =>
        apertureMetres * apertureMetres / (24 * OutsideRadiusMetres * InsideRadiusMetres);
}
