using EchoToThickness.Simulation.Scenes;

namespace EchoToThickness.Simulation.Fields;

/// <summary>The wall before anything is lost: nominal, or that of a bend.</summary>
/// <remarks>
/// With thinning a at the extrados and thickening b at the intrados: <c>t = t0 (1 - (a + b)/2 cos φ - (a - b)/2 cos² φ)</c>: (1 - a) t0 at the
/// extrados, t0 on the flanks, (1 + b) t0 at the intrados, smooth between. On straight ends the change fades over one outside radius as half
/// a cosine. Where the wall of a bend is not given, the strain of a fibre at distance r cos φ from the neutral line, with volume kept and
/// the girth unstrained, gives <c>t0 / (1 + (r/R) cos φ)</c> (plane-strain bending; a hot-formed welding elbow is thickened and sized
/// afterwards, so its fractions must be given).
/// </remarks>
internal sealed class WallBase(ComponentShape shape, double thinningFraction, double thickeningFraction)
{
    private readonly double _first = (thinningFraction + thickeningFraction) / 2;
    private readonly double _second = (thinningFraction - thickeningFraction) / 2;
    private readonly bool _uniform = shape.Torus is null || (thinningFraction == 0 && thickeningFraction == 0);

    public double At(SurfacePoint point)
    {
        if (_uniform)
            return shape.NominalWallMetres;
        return shape.NominalWallMetres * (1 - Fade(point.AlongMetres) * Change(point.AroundMetres));
    }

    public void Fill(in SurfaceWindow window, Span<double> values)
    {
        if (_uniform)
        {
            values.Fill(shape.NominalWallMetres);
            return;
        }
        Span<double> first = values[..window.CountAround];
        for (int j = 0; j < first.Length; j++)
            first[j] = Change(window.FirstAround + j * window.StepAround);
        for (int row = window.CountAlong - 1; row >= 0; row--)
        {
            double fade = Fade(window.AlongOf(row));
            Span<double> target = values.Slice(row * window.CountAround, window.CountAround);
            // Row 0 holds the changes until it is its turn, last.
            for (int j = 0; j < target.Length; j++)
                target[j] = shape.NominalWallMetres * (1 - fade * first[j]);
        }
    }

    public bool IsFlatWithin(SurfacePoint centre, double radiusMetres, double toleranceMetres)
    {
        if (_uniform)
            return true;
        double here = At(centre);
        double reach = radiusMetres / shape.Stretch(centre);
        return Math.Abs(At(centre with { AroundMetres = centre.AroundMetres - radiusMetres }) - here) <= toleranceMetres
            && Math.Abs(At(centre with { AroundMetres = centre.AroundMetres + radiusMetres }) - here) <= toleranceMetres
            && Math.Abs(At(centre with { AlongMetres = centre.AlongMetres - reach }) - here) <= toleranceMetres
            && Math.Abs(At(centre with { AlongMetres = centre.AlongMetres + reach }) - here) <= toleranceMetres;
    }

    private double Change(double around)
    {
        double cosine = Math.Cos(around / shape.OutsideRadiusMetres);
        return cosine * (_first + _second * cosine);
    }

    private double Fade(double along)
    {
        double outside = Math.Max(-along, along - shape.LengthMetres) / shape.OutsideRadiusMetres;
        return outside <= 0 || shape.StraightEndsMetres == 0 ? 1
            : outside >= 1 ? 0
            : 0.5 * (1 + Math.Cos(Math.PI * outside));
    }
}
