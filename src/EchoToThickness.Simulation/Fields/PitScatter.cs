using EchoToThickness.Simulation.Random;
using EchoToThickness.Simulation.Scenes;
using MathNet.Numerics.Distributions;

namespace EchoToThickness.Simulation.Fields;

/// <summary>Places and depths of the pits of a cluster, and places of scattered inclusions.</summary>
/// <remarks>
/// Poisson placement: independent points, uniform over the true area of the outer surface. Clustered placement: the process of M. Thomas
/// ("A generalization of Poisson's binomial limit for use in ecology", Biometrika 36 (1949) 18) in its modified form (Illian, Penttinen,
/// Stoyan and Stoyan, Statistical Analysis and Modelling of Spatial Point Patterns, 2008, section 6.3.2): parents at random, each with a
/// Poisson number of points at normal distances; parents also lie around the region, and points outside of it are left out. Depths:
/// log-normal or Gumbel, cut to (0, largest depth) by the inverse of the distribution, which is the same law as drawing again.
/// </remarks>
internal static class PitScatter
{
    private const int MostPoints = 1_000_000;

    /// <summary>Points uniform over the true area of a region.</summary>
    public static List<SurfacePoint> Uniform(ComponentShape shape, SurfaceRegion region, int count, Draws draws)
    {
        (double fromAlong, double toAlong) = region.AlongRange(shape);
        (double fromAround, double toAround) = region.AroundRange(shape);
        double most = shape.Stretch(0);
        var points = new List<SurfacePoint>(count);
        while (points.Count < count)
        {
            var point = new SurfacePoint(
                fromAlong + draws.Uniform() * (toAlong - fromAlong),
                shape.Wrap(fromAround + draws.Uniform() * (toAround - fromAround))
            );
            // An element of area is stretch ds dw: keep points in proportion to the stretch.
            if (draws.Uniform() * most <= shape.Stretch(point))
                points.Add(point);
        }
        return points;
    }

    /// <summary>True area of a region, square metres.</summary>
    public static double AreaOf(ComponentShape shape, SurfaceRegion region)
    {
        (double fromAlong, double toAlong) = region.AlongRange(shape);
        (double fromAround, double toAround) = region.AroundRange(shape);
        if (!(toAlong > fromAlong) || !(toAround > fromAround))
            return 0;
        if (shape.Torus is not { } torus)
            return (toAlong - fromAlong) * (toAround - fromAround);
        double bendFrom = Math.Clamp(fromAlong, 0, shape.LengthMetres);
        double bendTo = Math.Clamp(toAlong, 0, shape.LengthMetres);
        double straight = toAlong - fromAlong - (bendTo - bendFrom);
        return straight * (toAround - fromAround)
            + torus.AreaSquareMetres(
                fromAround / shape.OutsideRadiusMetres,
                toAround / shape.OutsideRadiusMetres,
                (bendTo - bendFrom) / shape.BendRadiusMetres
            );
    }

    /// <summary>Places of the pits of a cluster.</summary>
    public static List<SurfacePoint> Places(ComponentShape shape, SurfaceRegion region, PitCluster cluster, Draws draws)
    {
        double area = AreaOf(shape, region);
        if (area <= 0)
            return [];
        if (cluster.Placement == PitPlacement.Poisson)
        {
            int count = cluster.Count ?? draws.Poisson((cluster.DensityPerSquareMetre ?? 0) * area, MostPoints);
            return Uniform(shape, region, count, draws);
        }
        // Parents up to four standard deviations outside send points in.
        double margin = 4 * cluster.SpreadMetres;
        var wider = new SurfaceRegion(
            region.Centre,
            region.HalfAlongMetres + margin,
            shape.IsClosed && region.HalfAroundMetres + margin >= shape.WidthMetres / 2
                ? double.PositiveInfinity
                : region.HalfAroundMetres + margin
        );
        double widerArea = Math.Max(AreaOf(shape, wider), area);
        int parents = Math.Max(1, draws.Poisson(cluster.ParentsPerSquareMetre * widerArea, MostPoints));
        List<SurfacePoint> centres = Uniform(shape, wider, parents, draws);
        var points = new List<SurfacePoint>();
        if (cluster.Count is { } wanted)
        {
            // Given the number of points, each belongs to a parent drawn at random; those outside are drawn again.
            for (long attempt = 0; points.Count < wanted && attempt < 1000L * wanted + 1000; attempt++)
                Offspring(centres[(int)(draws.Uniform() * centres.Count)]);
            return points;
        }
        double mean =
            cluster.ParentsPerSquareMetre > 0
                ? (cluster.DensityPerSquareMetre ?? 0) / cluster.ParentsPerSquareMetre
                : 0;
        foreach (SurfacePoint parent in centres)
        {
            int children = draws.Poisson(mean, MostPoints);
            for (int i = 0; i < children; i++)
                Offspring(parent);
        }
        return points;

        void Offspring(SurfacePoint parent)
        {
            (double along, double around) = draws.Normal();
            var point = new SurfacePoint(
                parent.AlongMetres + along * cluster.SpreadMetres / shape.Stretch(parent),
                shape.Wrap(parent.AroundMetres + around * cluster.SpreadMetres)
            );
            bool onComponent =
                point.AlongMetres >= shape.StartMetres
                && point.AlongMetres <= shape.EndMetres
                && (shape.IsClosed || (point.AroundMetres >= 0 && point.AroundMetres <= shape.WidthMetres));
            if (onComponent && region.Contains(shape, point))
                points.Add(point);
        }
    }

    /// <summary>A depth of the cluster's law below the largest allowed, from a uniform number in [0, 1).</summary>
    public static double Depth(PitCluster cluster, double mostMetres, double uniform)
    {
        if (cluster.Law == DepthLaw.LogNormal)
        {
            if (cluster.DepthSpread == 0)
                return Math.Min(cluster.MedianDepthMetres, mostMetres);
            double top = Normal.CDF(0, 1, Math.Log(mostMetres / cluster.MedianDepthMetres) / cluster.DepthSpread);
            // 0 would be minus infinity, a depth of exactly 0.
            double share = Math.Max(uniform, 1e-300) * top;
            return cluster.MedianDepthMetres * Math.Exp(cluster.DepthSpread * Normal.InvCDF(0, 1, share));
        }
        if (cluster.ScaleMetres == 0)
            return Math.Min(cluster.LocationMetres, mostMetres);
        double low = Gumbel(0);
        double high = Gumbel(mostMetres);
        double probability = low + uniform * (high - low);
        double depth = cluster.LocationMetres - cluster.ScaleMetres * Math.Log(-Math.Log(probability));
        return Math.Clamp(depth, 0, mostMetres);

        double Gumbel(double depthMetres) =>
            Math.Exp(-Math.Exp(-(depthMetres - cluster.LocationMetres) / cluster.ScaleMetres));
    }

    /// <summary>Numbers drawn one after another from one sequence.</summary>
    internal sealed class Draws(ulong seed, ulong stream)
    {
        private ulong _next;

        public double Uniform() => CounterNoise.Uniform(seed, stream, _next++);

        public (double First, double Second) Normal()
        {
            // A pair takes two numbers of the sequence; keep to even ones.
            _next += _next & 1;
            (double, double) pair = CounterNoise.NormalPair(seed, stream, _next / 2);
            _next += 2;
            return pair;
        }

        /// <summary>A Poisson number: sums of exponential gaps (exact); means above 500 in pieces, as sums of Poisson numbers are Poisson.</summary>
        public int Poisson(double mean, int most)
        {
            int count = 0;
            for (double left = mean; left > 0 && count < most; left -= 500)
            {
                double limit = Math.Min(left, 500);
                for (double gap = -Math.Log(1 - Uniform()); gap < limit && count < most; count++)
                    gap -= Math.Log(1 - Uniform());
            }
            return count;
        }
    }
}
