using System.Globalization;
using EchoToThickness.Procedures;

namespace EchoToThickness.Simulation.Scenes;

/// <summary>Features that cannot be, each by itself and steps against one another.</summary>
internal sealed class WallRules(Scene scene, ComponentShape shape, List<ProcedureFinding> findings)
{
    private readonly double _wall = shape.NominalWallMetres;
    private readonly double _years = scene.Survey.Years;

    public void Check()
    {
        WallSection wall = scene.Wall;
        if (shape.Shape != SceneShape.Elbow)
        {
            if (wall.BendThinningFraction > 0)
                Add("wall.bend_thinning", "Only an elbow has an extrados.", "leave it out, or scan an elbow.");
            if (wall.BendThickeningFraction > 0)
                Add("wall.bend_thickening", "Only an elbow has an intrados.", "leave it out, or scan an elbow.");
        }
        Each(wall.Steps, "step", Step);
        Overlaps(wall.Steps);
        Each(wall.Holes, "hole", Hole);
        Each(wall.Pits, "pit", Pit);
        Each(wall.Grooves, "groove", Groove);
        Each(wall.Patches, "patch", Patch);
        Each(wall.Roughness, "roughness", Roughness);
        Each(wall.Clusters, "cluster", Cluster);
        Each(wall.Laminations, "lamination", Lamination);
        Each(
            wall.Inclusions,
            "inclusion",
            (key, inclusion) =>
            {
                if (inclusion.Depth is { } depth)
                    Within(key + ".depth", "An inclusion", depth.ToMetres(_wall));
            }
        );
    }

    private void Each<T>(IReadOnlyList<T> features, string name, Action<string, T> rule)
    {
        for (int i = 0; i < features.Count; i++)
            rule(string.Create(CultureInfo.InvariantCulture, $"wall.{name}[{i + 1}]"), features[i]);
    }

    private void Step(string key, StepFeature step)
    {
        if (step.Wall is not { } wall)
            Add(key, "The step has no wall.", "write wall = \"6 mm\" or wall = \"70 %\".");
        else if (wall.ToMetres(_wall) - step.GrowthMetresPerYear * _years is var left && !(left > 0))
            Add(
                key + ".wall",
                $"The step leaves a wall of {Mm(left)}: below zero there is no metal.",
                "leave some wall."
            );
        Extent(key + ".length", step.Length);
        Extent(key + ".width", step.Width);
    }

    private void Overlaps(IReadOnlyList<StepFeature> steps)
    {
        for (int i = 0; i < steps.Count; i++)
        for (int j = i + 1; j < steps.Count; j++)
        {
            if (steps[i].Wall is not { } first || steps[j].Wall is not { } second)
                continue;
            if (first.ToMetres(_wall) == second.ToMetres(_wall) || !Overlap(steps[i], steps[j]))
                continue;
            Add(
                string.Create(CultureInfo.InvariantCulture, $"wall.step[{j + 1}]"),
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"Steps {i + 1} and {j + 1} overlap, and one place cannot have walls of {Mm(first.ToMetres(_wall))} and {Mm(second.ToMetres(_wall))}."
                ),
                "move one of them, or make it shorter."
            );
        }
    }

    /// <summary>Whether two rectangles share an area; true lengths are turned into coordinates at each one's own centre.</summary>
    private bool Overlap(StepFeature a, StepFeature b)
    {
        double apartAlong = Math.Abs(shape.AlongMetres(a.Along) - shape.AlongMetres(b.Along));
        double apartAround = Math.Abs(shape.AroundMetres(a.Around) - shape.AroundMetres(b.Around));
        if (shape.Shape != SceneShape.Plate)
        {
            apartAround %= shape.WidthMetres;
            apartAround = Math.Min(apartAround, shape.WidthMetres - apartAround);
        }
        double halfAlong = HalfAlong(a) + HalfAlong(b);
        double halfAround = HalfAround(a) + HalfAround(b);
        // Steps that share an edge to the rounding of their positions do not overlap.
        return apartAlong < halfAlong - 1e-9 && apartAround < halfAround - 1e-9;
    }

    private double HalfAlong(StepFeature step) =>
        step.Length is not { } length ? double.PositiveInfinity
        : length.Dimension == Units.Dimension.Length ? length.Value / 2 / shape.Stretch(shape.AroundMetres(step.Around))
        : shape.AlongMetres(length) / 2;

    private double HalfAround(StepFeature step) =>
        step.Width is { } width ? shape.AroundMetres(width) / 2 : double.PositiveInfinity;

    private void Hole(string key, HoleFeature hole)
    {
        Extent(key + ".diameter", hole.Diameter);
        if ((hole.Depth is null) == (hole.Wall is null))
            Add(
                key,
                hole.Depth is null
                    ? "The hole has no depth."
                    : "The hole's depth is given twice, by depth and by wall.",
                "write one of depth = \"3 mm\" and wall = \"4 mm\"."
            );
        if (hole.Depth is { } depth)
            Deep(key + ".depth", "A hole", depth, hole.GrowthMetresPerYear);
        if (hole.Wall is { } wall && !(wall.ToMetres(_wall) - hole.GrowthMetresPerYear * _years > 0))
            Add(key + ".wall", "The hole leaves no wall.", "leave some wall.");
    }

    private void Pit(string key, PitFeature pit)
    {
        Extent(key + ".diameter", pit.Diameter);
        Extent(key + ".width", pit.Width);
        if (Needs(key, pit.Depth) is not { } depth)
            return;
        Deep(key + ".depth", "A pit", depth, pit.GrowthMetresPerYear);
        double radius = shape.AroundMetres(pit.Diameter) / 2;
        if (pit.Shape == PitShape.Spherical && depth.ToMetres(_wall) > radius * (1 + 1e-9))
            Add(
                key + ".depth",
                $"A spherical pit of diameter {Mm(2 * radius)} cannot be {Mm(depth.ToMetres(_wall))} deep: it would undercut its mouth.",
                "make it at most half as deep as wide, or write shape = \"ellipsoidal\"."
            );
    }

    private void Groove(string key, GrooveFeature groove)
    {
        Extent(key + ".length", groove.Length);
        Extent(key + ".width", groove.Width);
        if (Needs(key, groove.Depth) is { } depth)
            Deep(key + ".depth", "A groove", depth, groove.GrowthMetresPerYear);
    }

    private void Patch(string key, PatchFeature patch)
    {
        Extent(key + ".length", patch.Length);
        Extent(key + ".width", patch.Width);
        if (Needs(key, patch.Depth) is { } depth)
            Deep(key + ".depth", "A patch", depth, patch.GrowthMetresPerYear);
    }

    /// <summary>Far below any wavelength in use (0.06 mm at 100 MHz in steel), and its surface would take minutes and gigabytes.</summary>
    private void ShortestCorrelation(string key, double metres)
    {
        if (metres is > 0 and < 50e-6)
            Add(key, "A correlation length below 0.05 mm is finer than sound can see.", "write at least \"0.05 mm\".");
    }

    private void Roughness(string key, RoughnessField field)
    {
        Extent(key + ".length", field.Length);
        Extent(key + ".width", field.Width);
        if (!(field.CorrelationAlongMetres > 0))
            Add(key + ".correlation_along", "A correlation length of zero is no surface.", "write \"3 mm\".");
        if (field.CorrelationAroundMetres is { } around && !(around > 0))
            Add(key + ".correlation_around", "A correlation length of zero is no surface.", "write \"3 mm\".");
        ShortestCorrelation(key + ".correlation_along", field.CorrelationAlongMetres);
        ShortestCorrelation(key + ".correlation_around", field.CorrelationAroundMetres ?? 0);
        double mean = field.MeanLoss?.ToMetres(_wall) ?? 0;
        if (mean + 4 * field.RmsMetres >= _wall)
            Add(
                key + ".rms",
                $"Heights of {Mm(mean)} mean and {Mm(field.RmsMetres)} rms reach through a wall of {Mm(_wall)} (4 sigma).",
                "make rms or mean_loss smaller."
            );
    }

    private void Cluster(string key, PitCluster cluster)
    {
        Extent(key + ".length", cluster.Length);
        Extent(key + ".width", cluster.Width);
        if ((cluster.Count is null) == (cluster.DensityPerSquareMetre is null))
            Add(
                key,
                cluster.Count is null
                    ? "The cluster does not say how many pits it has."
                    : "The number of pits is given twice, by count and by density.",
                "write one of count = 40 and density = 2000."
            );
        if (cluster.MaximumDepth is { } deepest)
            Deep(key + ".max_depth", "A pit", deepest, cluster.GrowthMetresPerYear);
        double usual = cluster.Law == DepthLaw.LogNormal ? cluster.MedianDepthMetres : cluster.LocationMetres;
        if (!(usual > 0) && cluster.Law == DepthLaw.LogNormal)
            Add(key + ".median_depth", "The median depth is zero.", "write \"1 mm\".");
        double limit = cluster.MaximumDepth?.ToMetres(_wall) ?? _wall;
        if (usual > limit)
            Add(
                key + (cluster.Law == DepthLaw.LogNormal ? ".median_depth" : ".location"),
                $"Most pits would be deeper than the {Mm(limit)} allowed.",
                "make them shallower, or raise max_depth."
            );
    }

    private void Lamination(string key, LaminationFeature lamination)
    {
        Extent(key + ".length", lamination.Length);
        Extent(key + ".width", lamination.Width);
        if (Needs(key, lamination.Depth) is { } depth)
            Within(key + ".depth", "A lamination", depth.ToMetres(_wall));
    }

    private WallDepth? Needs(string key, WallDepth? depth)
    {
        if (depth is null)
            Add(key, "The depth is missing.", "write depth = \"2 mm\" or depth = \"30 %\".");
        return depth;
    }

    private void Within(string key, string what, double depthMetres)
    {
        if (!(depthMetres > 0) || depthMetres >= _wall * (1 + scene.Wall.BendThickeningFraction))
            Add(
                key,
                $"{what} at a depth of {Mm(depthMetres)} does not lie inside a wall of {Mm(_wall)}.",
                "give a depth between the two surfaces."
            );
    }

    private void Deep(string key, string what, WallDepth depth, double growthMetresPerYear)
    {
        double metres = depth.ToMetres(_wall) + growthMetresPerYear * _years;
        if (!(depth.Value >= 0))
            Add(key, "A depth cannot be negative.", "write the metal that is missing.");
        else if (metres >= _wall * (1 + scene.Wall.BendThickeningFraction))
            Add(
                key,
                $"{what} of depth {Mm(metres)}{(growthMetresPerYear * _years > 0 ? " (with its growth)" : "")} goes through a wall of {Mm(_wall)}: below zero there is no metal.",
                "make it shallower."
            );
    }

    private void Extent(string key, SceneLength? extent)
    {
        if (extent is { } length && !(length.Value > 0))
            Add(key, $"An extent of {length} is nothing.", "write a positive extent, or leave the feature out.");
    }

    private void Add(string key, string what, string remedy) => findings.Add(new ProcedureFinding(key, what, remedy));

    private static string Mm(double metres) => string.Create(CultureInfo.InvariantCulture, $"{metres * 1e3:0.###} mm");
}
