using EchoToThickness.Components;
using EchoToThickness.Statistics;
using EchoToThickness.Statistics.Assessment;
using EchoToThickness.Statistics.Change;
using EchoToThickness.Statistics.Describe;
using EchoToThickness.Statistics.Regions;
using ComponentKind = EchoToThickness.Statistics.Assessment.ComponentKind;
using StackKind = EchoToThickness.Stacks.ComponentKind;

namespace EchoToThickness.Reporting.Inspection;

/// <summary>Screening figures of a map by a plan.</summary>
internal sealed class AssessmentRun(StitchedMap stitched, ThicknessMap map, StatisticsPlan plan, double? nominalMetres)
{
    private const int MostRegions = 50;

    private readonly ComponentSurface _surface = stitched.Raster.Surface;

    public static bool IsAskedFor(StatisticsPlan plan) =>
        plan.Design.PressurePascals > 0
        || plan.Design.RequiredWallMetres is not null
        || plan.Strength.YieldStrengthPascals > 0
        || plan.Averaging.On
        || plan.Life.On;

    public AssessmentReport Run(RegionMap? regions, IReadOnlyList<SurveyChange> changes)
    {
        Dictionary<string, AssessmentResult<RequiredWall>> required = RequiredWalls();
        IReadOnlyList<ZoneWall> zones = Zones(required);
        bool strength = plan.Strength.YieldStrengthPascals > 0;
        return new AssessmentReport
        {
            RequiredWalls = required,
            Zones = zones,
            Profiles = strength ? [Profile(true), Profile(false)] : [],
            Regions = strength && regions is not null ? RegionStrengths(regions) : [],
            Averages = plan.Averaging.On ? [Average(true, required), Average(false, required)] : [],
            Lives = plan.Life.On ? [.. zones.Select(z => Life(z, changes))] : [],
        };
    }

    private Dictionary<string, AssessmentResult<RequiredWall>> RequiredWalls()
    {
        DesignPlan design = plan.Design;
        if (!(design.PressurePascals > 0))
            return [];
        var input = new PressureDesignInput
        {
            PressurePascals = design.PressurePascals,
            OutsideDiameterMetres = _surface.IsClosed ? 2 * _surface.OutsideRadiusMetres : 1,
            AllowableStressPascals = design.AllowableStressPascals,
            AllowanceMetres = design.AllowanceMetres,
            QualityFactor = design.QualityFactor,
            WeldReductionFactor = design.WeldFactor,
            CoefficientY = design.CoefficientY,
        };
        const string straight = "straight pipe";
        AssessmentResult<RequiredWall> pipe = PressureDesign.StraightPipe(input);
        if (!_surface.IsClosed)
            return new()
            {
                [straight] = new AssessmentResult<RequiredWall>(
                    null,
                    pipe.Basis,
                    "The equation is for pipe under internal pressure, not for a plate: give required_wall."
                ),
            };
        var walls = new Dictionary<string, AssessmentResult<RequiredWall>> { [straight] = pipe };
        if (_surface.Kind == StackKind.Elbow)
            foreach (BendPlace place in Enum.GetValues<BendPlace>())
                walls[StatisticsMarkdown.Word(place.ToString())] = PressureDesign.Bend(
                    input,
                    _surface.BendRadiusMetres,
                    place
                );
        return walls;
    }

    private IReadOnlyList<ZoneWall> Zones(Dictionary<string, AssessmentResult<RequiredWall>> required)
    {
        var smallest = new Dictionary<SurfaceZone, int>();
        for (int cell = 0; cell < map.Count; cell++)
        {
            if (!map.IsMeasured(cell))
                continue;
            SurfaceZone zone = _surface.ZoneOf(stitched.Raster.PlaceOf(cell));
            if (!smallest.TryGetValue(zone, out int best) || map.ThicknessMetres[cell] < map.ThicknessMetres[best])
                smallest[zone] = cell;
        }
        return
        [
            .. smallest
                .OrderBy(s => s.Key)
                .Select(s =>
                {
                    (double? wall, string source) = RequiredOf(s.Key, required);
                    MapPosition place = map.PositionOf(s.Value);
                    double measured = map.ThicknessMetres[s.Value];
                    double u = map.StandardUncertaintyMetres[s.Value];
                    return new ZoneWall(
                        ExtremesRun.NameOf(s.Key),
                        measured,
                        u,
                        place.AlongMetres,
                        place.AroundMetres,
                        wall,
                        source,
                        wall is { } limit ? MapDescriber.ProbabilityBelow(measured, u, limit) : null
                    );
                }),
        ];
    }

    private (double? Metres, string Source) RequiredOf(
        SurfaceZone zone,
        Dictionary<string, AssessmentResult<RequiredWall>> required
    )
    {
        if (plan.Design.RequiredWallMetres is { } own)
            return (own, "required_wall of the plan");
        string place = zone switch
        {
            SurfaceZone.Extrados => "extrados",
            SurfaceZone.Intrados => "intrados",
            SurfaceZone.CheekClockwise or SurfaceZone.CheekAnticlockwise => "crown",
            _ => "straight pipe",
        };
        if (!required.TryGetValue(place, out AssessmentResult<RequiredWall>? result))
            return (null, "no pressure and no required wall in [design]");
        return result.Value is { } wall
            ? (wall.WithAllowanceMetres, $"{result.Basis.Edition}, {place}")
            : (null, "refused: " + result.Refusal);
    }

    private double Nominal() =>
        nominalMetres
        ?? throw new StatisticsException(
            "The nominal wall is not known, from which the depth of a loss is counted.",
            "plan, [strength]",
            "write nominal_wall = \"8.6 mm\" in [component]"
        );

    private PipeLoad Load(bool onBend) =>
        new()
        {
            Component = Kind(onBend),
            OutsideDiameterMetres = _surface.IsClosed ? 2 * _surface.OutsideRadiusMetres : 100 * Nominal(),
            WallMetres = Nominal(),
            YieldStrengthPascals = plan.Strength.YieldStrengthPascals,
            OperatingPressurePascals = plan.Design.PressurePascals,
            SafetyFactor = plan.Strength.SafetyFactor,
            HasOtherLoads = plan.Strength.OtherLoads,
            IsBluntMetalLoss = plan.Strength.BluntMetalLoss,
        };

    private ComponentKind Kind(bool onBend) =>
        !_surface.IsClosed ? ComponentKind.Other
        : onBend && _surface.Kind == StackKind.Elbow ? ComponentKind.Bend
        : ComponentKind.StraightPipe;

    private ProfileStrength Profile(bool along)
    {
        RiverBottom profile = RiverBottom.Of(map, Nominal(), along);
        AssessmentResult<FailurePressure> result = EffectiveArea(Load(true), profile);
        if (!along)
            result = new AssessmentResult<FailurePressure>(
                null,
                result.Basis,
                "The method is written for the longitudinal profile under internal pressure; the profile around is given for methods that ask for it."
            );
        return new ProfileStrength(along ? "along" : "around", profile, result);
    }

    private static AssessmentResult<FailurePressure> EffectiveArea(PipeLoad load, RiverBottom profile)
    {
        if (profile.PositionsMetres.Count >= 2)
            return CorrodedPipe.EffectiveArea(load, profile.PositionsMetres.ToArray(), profile.DepthsMetres.ToArray());
        AssessmentResult<FailurePressure> basis = CorrodedPipe.EffectiveArea(load, [0, 1e-3], [0, 0]);
        return new AssessmentResult<FailurePressure>(
            null,
            basis.Basis,
            "The profile has fewer than two measured places."
        );
    }

    private List<RegionStrength> RegionStrengths(RegionMap regions)
    {
        Dictionary<int, ThinRegion> byNumber = regions.Regions.ToDictionary(r => r.Number);
        var results = new List<RegionStrength>();
        foreach (RegionGroup group in regions.Groups.Take(MostRegions))
        {
            ThinRegion[] members = [.. group.Regions.Select(n => byNumber[n])];
            int first = members.Min(r => r.AlongFirst);
            int last = members.Max(r => r.AlongLast);
            bool onBend =
                _surface.Kind == StackKind.Elbow
                && Enumerable
                    .Range(first, last - first + 1)
                    .Any(k => _surface.IsOnBend(stitched.Raster.AlongMetres(k)));
            PipeLoad load = Load(onBend);
            double depth = Math.Max(0, Nominal() - group.SmallestWallMetres);
            double length = group.LengthMetres;
            // A group across the seam may hold regions on both sides of it: then the whole girth is taken, which is cautious.
            bool crosses = members.Any(r => r.AroundLast >= map.AroundCount || r.ClosesTheGirth) && members.Length > 1;
            RiverBottom profile = RiverBottom.OfPart(
                map,
                Nominal(),
                first,
                last,
                crosses ? 0 : members.Min(r => r.AroundFirst),
                crosses ? map.AroundCount - 1 : members.Max(r => r.AroundLast)
            );
            AssessmentResult<FailurePressure> original = CorrodedPipe.Original(load, depth, length);
            AssessmentResult<FailurePressure> modified = CorrodedPipe.Modified(load, depth, length);
            AssessmentResult<FailurePressure> effective = EffectiveArea(load, profile);
            double least = new[] { original, modified, effective }.Min(r =>
                r.Value?.SafePascals ?? double.PositiveInfinity
            );
            results.Add(
                new RegionStrength(
                    group.Regions,
                    onBend ? "bend" : "straight pipe",
                    depth,
                    length,
                    original,
                    modified,
                    effective,
                    double.IsInfinity(least) || !(plan.Design.PressurePascals > 0)
                        ? null
                        : least >= plan.Design.PressurePascals
                )
            );
        }
        return results;
    }

    private ProfileAverage Average(bool along, Dictionary<string, AssessmentResult<RequiredWall>> required)
    {
        SmallestWallProfile profile = MapDescriber.Profile(map, along);
        int[] measured = [.. Enumerable.Range(0, profile.CellIndex.Count).Where(k => profile.CellIndex[k] >= 0)];
        double[] positions = [.. measured.Select(k => profile.PositionsMetres[k])];
        double[] walls = [.. measured.Select(k => profile.ThicknessMetres[k])];
        (double? wall, string source) = RequiredOf(SurfaceZone.Whole, required);
        var input = new ThicknessAveragingInput
        {
            Component = Kind(true),
            InsideDiameterMetres = _surface.IsClosed ? 2 * (_surface.OutsideRadiusMetres - Nominal()) : 1,
            RequiredWallMetres = wall ?? Nominal(),
            FutureAllowanceMetres = plan.Averaging.FutureAllowanceMetres,
            AllowableStrengthFactor = plan.Averaging.AllowableStrengthFactor,
        };
        AssessmentResult<AveragedWall> result = ThicknessAveraging.Level1(input, positions, walls);
        if (wall is null && !result.IsRefused)
            result = new AssessmentResult<AveragedWall>(null, result.Basis, "There is no required wall: " + source);
        return new ProfileAverage(
            along ? "along" : "around",
            positions,
            walls,
            profile.CellIndex.Count - measured.Length,
            result
        );
    }

    private ZoneLife Life(ZoneWall zone, IReadOnlyList<SurveyChange> changes)
    {
        double rate = double.NaN;
        double uncertainty = double.NaN;
        string source = "no rate: nothing of this zone was measured in two surveys";
        if (plan.Life.RateMetresPerYear is { } own)
            (rate, uncertainty, source) = (own, plan.Life.RateUncertaintyMetresPerYear, "rate of the plan");
        else if (ChangeRun.Governing(changes, zone.Zone) is { } governing)
            (rate, uncertainty, source) = (
                governing.Rate.UpperMetresPerYear,
                governing.Rate.UncertaintyMetresPerYear,
                $"{governing.Source}: rate that 95 % of the zone's area does not exceed, the uncertainty of a cell taken as common to all"
            );
        AssessmentResult<LifeEstimate> life = RemainingLife.Of(
            new RemainingLifeInput
            {
                WallMetres = zone.SmallestMetres,
                WallUncertaintyMetres = zone.UncertaintyMetres,
                RequiredWallMetres = zone.RequiredMetres ?? 0,
                RequiredWallUncertaintyMetres = plan.Design.RequiredWallUncertaintyMetres,
                Rate = new CorrosionRate(rate, uncertainty, rate < 0),
                Confidence = plan.Life.Confidence,
                Draws = plan.Life.Draws,
                Seed = (ulong)plan.Extremes.Seed,
                ClassLimitYears = plan.Life.ClassLimitYears,
            }
        );
        string missing =
            zone.RequiredMetres is null ? "There is no required wall: " + zone.RequiredSource
            : double.IsNaN(rate) ? "There is " + source + "."
            : "";
        if (missing.Length > 0)
            life = new AssessmentResult<LifeEstimate>(null, life.Basis, missing);
        return new ZoneLife(
            zone.Zone,
            zone.SmallestMetres,
            zone.RequiredMetres ?? double.NaN,
            rate,
            uncertainty,
            source,
            life
        );
    }
}
