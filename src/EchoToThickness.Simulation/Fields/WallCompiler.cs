using System.Globalization;
using EchoToThickness.Procedures;
using EchoToThickness.Simulation.Random;
using EchoToThickness.Simulation.Scenes;
using EchoToThickness.Units;

namespace EchoToThickness.Simulation.Fields;

/// <summary>Turns the keys of <c>[wall]</c> into features and reports every fault at once.</summary>
internal sealed class WallCompiler(Scene scene, string folder)
{
    /// <summary>Largest pit of a cluster where the scene names none.</summary>
    private const double DefaultMaximumFraction = 0.9;

    private readonly List<ProcedureFinding> _findings = [];
    private readonly ComponentShape _shape = ComponentShape.Of(scene.Component);
    private readonly WallSection _wall = scene.Wall;
    private readonly double _years = scene.Survey.Years;
    private readonly ulong _seed = (ulong)scene.Header.Seed;

    public WallField Compile()
    {
        if (_shape.Torus is null && (_wall.BendThinningFraction != 0 || _wall.BendThickeningFraction != 0))
            Fault(
                _wall.BendThinningFraction != 0 ? "bend_thinning" : "bend_thickening",
                "Only an elbow is thinned or thickened by bending.",
                "remove the key, or write kind = \"elbow\"."
            );
        var wall = new WallBase(_shape, _wall.BendThinningFraction, _wall.BendThickeningFraction);
        List<WallFeature> replacing = [.. Steps()];
        var drilled = new List<WallFeature>();
        var cuts = new List<CutFeature>();
        Pits(cuts, wall);
        Grooves(cuts, wall);
        Holes(cuts, drilled, wall);
        Clusters(cuts);
        var adding = new List<WallFeature>();
        Patches(adding, wall);
        Roughness(adding, wall);
        if (_findings.Count == 0)
            Profiles(adding, replacing);
        List<LaminarPatchField.Item> laminar = [.. Laminations(wall), .. Inclusions()];
        if (_findings.Count > 0)
            throw new ProcedureException(_findings);
        return new WallField(_shape, wall, replacing, cuts, adding, drilled, new LaminarPatchField(_shape, laminar));
    }

    private IEnumerable<WallFeature> Steps()
    {
        for (int i = 0; i < _wall.Steps.Count; i++)
        {
            StepFeature step = _wall.Steps[i];
            string key = Key("step", i);
            if (step.Wall is not { } given)
            {
                Missing(key, "wall", "6 mm");
                continue;
            }
            double wall = given.ToMetres(_shape.NominalWallMetres) - step.GrowthMetresPerYear * _years;
            SurfaceRegion region = Region(step.Along, step.Around, step.Length, step.Width);
            if (!(wall > 0))
                Fault(key + ".wall", $"A step leaves a wall of {Length(wall)}.", "write a wall greater than 0.");
            else if (
                CheckExtent(key + ".length", region.HalfAlongMetres)
                && CheckExtent(key + ".width", region.HalfAroundMetres)
            )
                yield return new MachinedWall(
                    _shape,
                    region.Centre,
                    region.HalfAlongMetres,
                    region.HalfAroundMetres,
                    step.EdgeRadiusMetres,
                    wall
                );
        }
    }

    private void Pits(List<CutFeature> cuts, WallBase wall)
    {
        for (int i = 0; i < _wall.Pits.Count; i++)
        {
            PitFeature pit = _wall.Pits[i];
            string key = Key("pit", i);
            SurfacePoint centre = Point(pit.Along, pit.Around);
            double halfX = SurfaceRegion.TrueAlong(_shape, centre, pit.Diameter) / 2;
            double halfY = pit.Width is { } width ? _shape.AroundMetres(width) / 2 : halfX;
            double? depth = Depth(key, pit.Depth, pit.GrowthMetresPerYear, centre, wall);
            if (!CheckExtent(key + ".diameter", halfX) | !CheckExtent(key + ".width", halfY) || depth is null)
                continue;
            if (pit.Shape == PitShape.Spherical && depth > halfX)
                Fault(
                    key + ".depth",
                    $"A spherical pit {Length(depth.Value)} deep is deeper than half of its mouth of {Length(2 * halfX)}.",
                    $"write at most {Length(halfX)} (growth included), or shape = \"ellipsoidal\"."
                );
            else
                cuts.Add(
                    new CutFeature(_shape, FormOf(pit.Shape), centre, pit.AngleRadians, halfX, halfY, depth.Value)
                );
        }
    }

    private void Grooves(List<CutFeature> cuts, WallBase wall)
    {
        for (int i = 0; i < _wall.Grooves.Count; i++)
        {
            GrooveFeature groove = _wall.Grooves[i];
            string key = Key("groove", i);
            SurfacePoint centre = Point(groove.Along, groove.Around);
            double halfX = SurfaceRegion.TrueAlong(_shape, centre, groove.Length) / 2;
            double halfY = _shape.AroundMetres(groove.Width) / 2;
            double? depth = Depth(key, groove.Depth, groove.GrowthMetresPerYear, centre, wall);
            if (!CheckExtent(key + ".length", halfX) | !CheckExtent(key + ".width", halfY) || depth is null)
                continue;
            bool round = groove.Profile == GrooveProfile.Round;
            if (round && depth > halfY)
                Fault(
                    key + ".depth",
                    $"A round groove {Length(depth.Value)} deep is deeper than half of its width of {Length(2 * halfY)}.",
                    $"write at most {Length(halfY)} (growth included), or profile = \"vee\"."
                );
            else
                cuts.Add(
                    new CutFeature(
                        _shape,
                        round ? CutForm.RoundGroove : CutForm.VeeGroove,
                        centre,
                        groove.AngleRadians,
                        halfX,
                        halfY,
                        depth.Value
                    )
                );
        }
    }

    private void Holes(List<CutFeature> cuts, List<WallFeature> drilled, WallBase wall)
    {
        for (int i = 0; i < _wall.Holes.Count; i++)
        {
            HoleFeature hole = _wall.Holes[i];
            string key = Key("hole", i);
            SurfacePoint centre = Point(hole.Along, hole.Around);
            double radius = SurfaceRegion.TrueAlong(_shape, centre, hole.Diameter) / 2;
            if (!CheckExtent(key + ".diameter", radius))
                continue;
            if (hole.Depth is not null && hole.Wall is not null)
            {
                Fault(key + ".depth", "Both depth and wall are given.", "keep one of them.");
            }
            else if (hole.Wall is { } given)
            {
                double left = given.ToMetres(_shape.NominalWallMetres) - hole.GrowthMetresPerYear * _years;
                if (!(left > 0))
                    Fault(key + ".wall", $"A hole leaves a wall of {Length(left)}.", "write a wall greater than 0.");
                else
                    drilled.Add(new DrilledWall(_shape, centre, radius, left));
            }
            else if (Depth(key, hole.Depth, hole.GrowthMetresPerYear, centre, wall) is { } depth)
            {
                cuts.Add(new CutFeature(_shape, CutForm.Cylindrical, centre, 0, radius, radius, depth));
            }
        }
    }

    private void Clusters(List<CutFeature> cuts)
    {
        for (int i = 0; i < _wall.Clusters.Count; i++)
        {
            PitCluster cluster = _wall.Clusters[i];
            string key = Key("cluster", i);
            double most = (cluster.MaximumDepth ?? WallDepth.FromFraction(DefaultMaximumFraction)).ToMetres(
                _shape.NominalWallMetres
            );
            int before = _findings.Count;
            if (cluster.Count is null == cluster.DensityPerSquareMetre is null)
                Fault(
                    key + ".count",
                    cluster.Count is null ? "Neither count nor density is given." : "Both count and density are given.",
                    "give one of them, such as count = 100."
                );
            if (cluster.Count > 1_000_000)
                Fault(key + ".count", "More than a million pits.", "write fewer.");
            if (!(most > 0) || most >= _shape.NominalWallMetres)
                Fault(
                    key + ".max_depth",
                    $"A largest depth of {Length(most)} does not fit a wall of {Length(_shape.NominalWallMetres)}.",
                    "write a depth greater than 0 and less than the nominal wall."
                );
            if (cluster.Law == DepthLaw.LogNormal && !(cluster.MedianDepthMetres > 0))
                Fault(
                    key + ".median_depth",
                    "A log-normal law needs a median above 0.",
                    "write median_depth = \"1 mm\"."
                );
            if (cluster.Law == DepthLaw.LogNormal && cluster.DepthSpread > 0 && cluster.MedianDepthMetres > 20 * most)
                Fault(
                    key + ".median_depth",
                    $"A median of {Length(cluster.MedianDepthMetres)} lies far beyond the largest depth of {Length(most)}.",
                    "write a smaller median_depth or a greater max_depth."
                );
            if (cluster.Shape == PitShape.Spherical && cluster.DiameterToDepth < 2)
                Fault(
                    key + ".diameter_to_depth",
                    "A spherical pit is at most half as deep as it is wide.",
                    "write at least 2, or shape = \"ellipsoidal\"."
                );
            SurfaceRegion region = Region(cluster.Along, cluster.Around, cluster.Length, cluster.Width);
            double expected = (cluster.DensityPerSquareMetre ?? 0) * PitScatter.AreaOf(_shape, region);
            if (!(expected <= 1_000_000))
                Fault(
                    key + ".density",
                    string.Create(
                        CultureInfo.InvariantCulture,
                        $"{expected:0.##e0} pits are to be expected, more than a million."
                    ),
                    "write a smaller density (pits in a square metre), or a smaller region."
                );
            double parents =
                cluster.Placement == PitPlacement.Clustered
                    ? cluster.ParentsPerSquareMetre * PitScatter.AreaOf(_shape, region)
                    : 0;
            if (!(parents <= 1_000_000))
                Fault(key + ".parents", "More than a million parents.", "write fewer in a square metre.");
            if (!(PitScatter.AreaOf(_shape, region) > 0))
                Fault(key, "The cluster's region lies outside of the component.", "move along, around, length, width.");
            if (_findings.Count > before)
                continue;
            var places = new PitScatter.Draws(_seed, CounterNoise.Stream(RandomStream.PitPlaces, (ulong)i));
            ulong depths = CounterNoise.Stream(RandomStream.PitDepths, (ulong)i);
            List<SurfacePoint> points = PitScatter.Places(_shape, region, cluster, places);
            for (int pit = 0; pit < points.Count; pit++)
            {
                double uniform = CounterNoise.Uniform(_seed, depths, (ulong)pit);
                double depth = PitScatter.Depth(cluster, most, uniform) + cluster.GrowthMetresPerYear * _years;
                double half = depth * cluster.DiameterToDepth / 2;
                if (depth > 1e-9)
                    cuts.Add(new CutFeature(_shape, FormOf(cluster.Shape), points[pit], 0, half, half, depth));
            }
        }
    }

    private void Patches(List<WallFeature> adding, WallBase wall)
    {
        for (int i = 0; i < _wall.Patches.Count; i++)
        {
            PatchFeature patch = _wall.Patches[i];
            string key = Key("patch", i);
            SurfacePoint centre = Point(patch.Along, patch.Around);
            double length = SurfaceRegion.TrueAlong(_shape, centre, patch.Length);
            double width = _shape.AroundMetres(patch.Width);
            double? depth = Depth(key, patch.Depth, patch.GrowthMetresPerYear, centre, wall);
            if (CheckExtent(key + ".length", length) & CheckExtent(key + ".width", width) && depth is not null)
                adding.Add(
                    new PatchLoss(_shape, centre, patch.AngleRadians, length, width, depth.Value, patch.Smoothness)
                );
        }
    }

    private void Roughness(List<WallFeature> adding, WallBase wall)
    {
        for (int i = 0; i < _wall.Roughness.Count; i++)
        {
            RoughnessField rough = _wall.Roughness[i];
            string key = Key("roughness", i);
            SurfaceRegion region = Region(rough.Along, rough.Around, rough.Length, rough.Width);
            if (
                !CheckExtent(key + ".length", region.HalfAlongMetres)
                | !CheckExtent(key + ".width", region.HalfAroundMetres)
            )
                continue;
            double mean =
                (rough.MeanLoss?.ToMetres(_shape.NominalWallMetres) ?? 0) + rough.GrowthMetresPerYear * _years;
            double thinnest = wall.At(region.Centre) - mean - 4 * rough.RmsMetres;
            if (!(thinnest > 0))
                Fault(
                    key + ".rms",
                    $"A mean loss of {Length(mean)} with {Length(rough.RmsMetres)} rms goes through a wall of "
                        + $"{Length(wall.At(region.Centre))} (four standard deviations are counted).",
                    "write a smaller rms, mean_loss or growth_per_year."
                );
            RandomSurface? field = null;
            if (rough.RmsMetres > 0)
                field = Field(
                    key,
                    "correlation_along",
                    new RandomFieldSettings
                    {
                        LengthMetres = region.IsEverywhereAlong
                            ? _shape.EndMetres - _shape.StartMetres
                            : 2 * (region.HalfAlongMetres + rough.TaperMetres),
                        WidthMetres = region.IsEverywhereAround
                            ? _shape.WidthMetres
                            : 2 * (region.HalfAroundMetres + rough.TaperMetres),
                        IsClosedAround = region.IsEverywhereAround && _shape.IsClosed,
                        CorrelationAlongMetres = rough.CorrelationAlongMetres,
                        CorrelationAroundMetres = rough.CorrelationAroundMetres ?? rough.CorrelationAlongMetres,
                        Spectrum = rough.Spectrum,
                        HurstExponent = rough.HurstExponent,
                        ShortestWavelengthMetres = rough.CutoffMetres,
                    },
                    CounterNoise.Stream(RandomStream.WallRoughness, (ulong)i)
                );
            adding.Add(new RoughLoss(_shape, region, rough.TaperMetres, field, rough.RmsMetres, mean));
        }
    }

    private void Profiles(List<WallFeature> adding, List<WallFeature> replacing)
    {
        foreach (MeasuredProfile profile in _wall.Profiles)
            (profile.IsWall ? replacing : adding).Add(
                new ProfileGrid(
                    _shape,
                    Point(profile.Along, profile.Around),
                    ProfileTable.Read(profile, folder),
                    profile.IsWall
                )
            );
    }

    private IEnumerable<LaminarPatchField.Item> Laminations(WallBase wall)
    {
        for (int i = 0; i < _wall.Laminations.Count; i++)
        {
            LaminationFeature lamination = _wall.Laminations[i];
            string key = Key("lamination", i);
            SurfaceRegion region = Region(lamination.Along, lamination.Around, lamination.Length, lamination.Width);
            if (Depth(key, lamination.Depth, 0, region.Centre, wall) is { } depth)
                yield return new LaminarPatchField.Item(
                    region.Centre,
                    region.HalfAlongMetres,
                    region.HalfAroundMetres,
                    false,
                    new LaminarHit(depth, lamination.ReflectedFraction)
                );
        }
    }

    private IEnumerable<LaminarPatchField.Item> Inclusions()
    {
        for (int i = 0; i < _wall.Inclusions.Count; i++)
        {
            InclusionFeature inclusion = _wall.Inclusions[i];
            string key = Key("inclusion", i);
            SurfaceRegion region = Region(inclusion.Along, inclusion.Around, inclusion.Length, inclusion.Width);
            double? given = inclusion.Depth?.ToMetres(_shape.NominalWallMetres);
            if (given <= 0 || given >= _shape.NominalWallMetres)
                Fault(
                    key + ".depth",
                    $"A depth of {Length(given.Value)} lies outside of the wall of {Length(_shape.NominalWallMetres)}.",
                    "write a depth inside the wall."
                );
            if (!(PitScatter.AreaOf(_shape, region) > 0) || !CheckExtent(key + ".diameter", inclusion.DiameterMetres))
            {
                Fault(key, "The region lies outside of the component, or the diameter is 0.", "move or resize it.");
                continue;
            }
            var draws = new PitScatter.Draws(_seed, CounterNoise.Stream(RandomStream.Inclusions, (ulong)i));
            double half = inclusion.DiameterMetres / 2;
            foreach (SurfacePoint point in PitScatter.Uniform(_shape, region, inclusion.Count, draws))
            {
                double depth = given ?? (0.1 + 0.8 * draws.Uniform()) * _shape.NominalWallMetres;
                yield return new LaminarPatchField.Item(
                    point,
                    half,
                    half,
                    true,
                    new LaminarHit(depth, inclusion.ReflectedFraction)
                );
            }
        }
    }

    /// <summary>A random field, or a fault that names the key whose value makes it impossible.</summary>
    private RandomSurface? Field(string section, string key, RandomFieldSettings settings, ulong stream)
    {
        if (
            settings.CorrelationAlongMetres > 0
            && settings.CorrelationAroundMetres > 0
            && !(settings.ShortestWavelengthMetres <= 0)
        )
            return _findings.Count > 0 ? null : new RandomSurface(settings, _seed, stream);
        Fault($"{section}.{key}", "Correlation lengths and cutoff must be greater than 0.", "write \"3 mm\".");
        return null;
    }

    /// <summary>Depth at the time of the survey, held against the wall at the feature's centre.</summary>
    private double? Depth(string key, WallDepth? given, double growth, SurfacePoint centre, WallBase wall)
    {
        if (given is not { } depth)
        {
            Missing(key, "depth", "2 mm");
            return null;
        }
        double metres = depth.ToMetres(_shape.NominalWallMetres) + growth * _years;
        double there = wall.At(centre);
        if (metres > 0 && metres < there)
            return metres;
        Fault(
            key + ".depth",
            $"A depth of {Length(metres)} {(growth * _years > 0 ? "after growth " : "")}does not fit a wall of {Length(there)}.",
            $"write a depth greater than 0 and less than {Length(there)}."
        );
        return null;
    }

    private bool CheckExtent(string key, double extent)
    {
        if (extent > 0)
            return true;
        Fault(key, "An extent of 0 is nothing.", "write an extent greater than 0.");
        return false;
    }

    private SurfacePoint Point(SceneLength along, SceneLength around) =>
        new(_shape.AlongMetres(along), _shape.Wrap(_shape.AroundMetres(around)));

    private SurfaceRegion Region(SceneLength along, SceneLength around, SceneLength? length, SceneLength? width) =>
        SurfaceRegion.Of(_shape, along, around, length, width);

    private static CutForm FormOf(PitShape shape) =>
        shape switch
        {
            PitShape.Spherical => CutForm.Spherical,
            PitShape.Ellipsoidal => CutForm.Ellipsoidal,
            PitShape.Cylindrical => CutForm.Cylindrical,
            _ => CutForm.Conical,
        };

    private static string Key(string list, int item) =>
        string.Create(CultureInfo.InvariantCulture, $"wall.{list}[{item + 1}]");

    private void Missing(string key, string name, string example) =>
        Fault(
            $"{key}.{name}",
            $"The key '{name}' is missing.",
            $"add {name} = \"{example}\" or a fraction of the nominal wall."
        );

    private void Fault(string key, string what, string remedy) =>
        _findings.Add(
            new ProcedureFinding(key.StartsWith("wall", StringComparison.Ordinal) ? key : "wall." + key, what, remedy)
        );

    private static string Length(double metres) => UnitText.Format(metres, Dimension.Length);
}
