using EchoToThickness.Simulation.Scenes;

namespace EchoToThickness.Simulation.Fields;

/// <summary>Laminations (rectangles) and inclusions (discs) inside the metal.</summary>
internal sealed class LaminarPatchField
{
    private readonly ComponentShape _shape;
    private readonly Item[] _items;
    private readonly SurfaceIndex _index;

    public LaminarPatchField(ComponentShape shape, IReadOnlyList<Item> items)
    {
        _shape = shape;
        _items = [.. items];
        _index = new SurfaceIndex(
            shape,
            [
                .. _items.Select(item => new SurfaceBox(
                    item.Centre.AlongMetres,
                    item.Centre.AroundMetres,
                    item.HalfAlongMetres / shape.Stretch(item.Centre),
                    item.HalfAroundMetres
                )),
            ]
        );
    }

    /// <summary>The shallowest reflector over a point; null where there is none.</summary>
    public LaminarHit? At(SurfacePoint point)
    {
        LaminarHit? hit = null;
        foreach (int i in _index.Query(point.AlongMetres, point.AlongMetres, point.AroundMetres, point.AroundMetres))
            if (_items[i].Covers(_shape, point) && !(hit?.DepthMetres <= _items[i].Hit.DepthMetres))
                hit = _items[i].Hit;
        return hit;
    }

    /// <summary>The reflector that covers most of a rectangle (the shallower of equals), and how much of it.</summary>
    public LaminarHit? Under(SurfacePoint centre, double alongMetres, double aroundMetres, out double cover)
    {
        cover = 0;
        LaminarHit? hit = null;
        double half = alongMetres / 2 / _shape.Stretch(centre);
        foreach (
            int i in _index.Query(
                centre.AlongMetres - half,
                centre.AlongMetres + half,
                centre.AroundMetres - aroundMetres / 2,
                centre.AroundMetres + aroundMetres / 2
            )
        )
        {
            double part = _items[i].Cover(_shape, centre, alongMetres, aroundMetres);
            if (part > cover || (part > 0 && part == cover && _items[i].Hit.DepthMetres < hit!.Value.DepthMetres))
                (cover, hit) = (part, _items[i].Hit);
        }
        return hit;
    }

    /// <summary>One reflector.</summary>
    internal readonly record struct Item(
        SurfacePoint Centre,
        double HalfAlongMetres,
        double HalfAroundMetres,
        bool IsDisc,
        LaminarHit Hit
    )
    {
        public bool Covers(ComponentShape shape, SurfacePoint point)
        {
            double u = (point.AlongMetres - Centre.AlongMetres) * shape.Stretch(Centre);
            double v = shape.WrapDifference(point.AroundMetres - Centre.AroundMetres);
            return IsDisc
                ? u * u + v * v <= HalfAlongMetres * HalfAlongMetres
                : Math.Abs(u) <= HalfAlongMetres && Math.Abs(v) <= HalfAroundMetres;
        }

        /// <summary>Covered part of a rectangle: exact for a rectangle; a disc is cut into 64 strips, each exact.</summary>
        public double Cover(ComponentShape shape, SurfacePoint centre, double alongMetres, double aroundMetres)
        {
            double u = (centre.AlongMetres - Centre.AlongMetres) * shape.Stretch(Centre);
            double v = shape.WrapDifference(centre.AroundMetres - Centre.AroundMetres);
            if (!IsDisc)
                return Overlap(u, alongMetres / 2, HalfAlongMetres)
                    * Overlap(v, aroundMetres / 2, HalfAroundMetres)
                    / (alongMetres * aroundMetres);
            const int strips = 64;
            double sum = 0;
            for (int i = 0; i < strips; i++)
            {
                double x = ((i + 0.5) / strips * 2 - 1) * HalfAlongMetres;
                if (Math.Abs(x - u) <= alongMetres / 2)
                    sum += Overlap(v, aroundMetres / 2, Math.Sqrt(HalfAlongMetres * HalfAlongMetres - x * x));
            }
            return sum * 2 * HalfAlongMetres / strips / (alongMetres * aroundMetres);
        }

        /// <summary>Common length of [centre ± first] and [± second].</summary>
        private static double Overlap(double centre, double first, double second) =>
            Math.Max(0, Math.Min(centre + first, second) - Math.Max(centre - first, -second));
    }
}
