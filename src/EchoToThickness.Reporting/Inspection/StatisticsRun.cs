using System.Globalization;
using System.Security.Cryptography;
using EchoToThickness.Components;
using EchoToThickness.Procedures;
using EchoToThickness.Stacks;
using EchoToThickness.Statistics;
using EchoToThickness.Statistics.Describe;
using EchoToThickness.Statistics.Extremes;
using EchoToThickness.Statistics.Regions;
using EchoToThickness.Statistics.Spatial;
using EchoToThickness.Storage.Grids;
using ComponentKind = EchoToThickness.Stacks.ComponentKind;

namespace EchoToThickness.Reporting.Inspection;

/// <summary>From a grid and a plan to the map of the component and all its statistics.</summary>
public static class StatisticsRun
{
    /// <summary>Puts the lines of a grid together.</summary>
    /// <param name="grid">The grid.</param>
    /// <param name="plan">The plan.</param>
    /// <param name="overrules">The reviewer's layer; null for the machine's result.</param>
    public static StitchedMap Map(GridFile grid, StatisticsPlan plan, OverruleFile? overrules = null)
    {
        ArgumentNullException.ThrowIfNull(grid);
        ArgumentNullException.ThrowIfNull(plan);
        IReadOnlyList<LineCells> lines = GridLines.Read(grid, plan);
        ComponentSurface surface = GridLines.Surface(plan.Component.Over(grid.Maps[0].Facts.Component), lines);
        // As in Run: positions by the machine's walls, then the reviewer's decisions.
        if (plan.Stitch.Correct && plan.Stitch.LargestShiftMetres > 0)
            (lines, _) = PositionFaults.Correct(
                lines,
                PositionFaults.Find(surface, lines, plan.Stitch.LargestShiftMetres)
            );
        if (overrules is not null)
            (lines, _) = OverruleLayer.Apply(lines, overrules.Overrules, GridLines.Kept(grid));
        return Stitcher.Stitch(surface, lines, Settings(plan));
    }

    /// <summary>Refuses decisions that were made about another grid.</summary>
    /// <param name="overrules">The reviewer's layer; null passes.</param>
    /// <param name="gridPath">The grid file.</param>
    /// <exception cref="ComponentException">The file states the SHA-256 of another grid.</exception>
    public static void CheckOverrules(OverruleFile? overrules, string gridPath)
    {
        if (overrules is { GridSha256.Length: > 0 })
            CheckGrid(overrules, Sha256(gridPath));
    }

    /// <summary>Thin regions by the plan; null without a limit.</summary>
    /// <param name="map">The map.</param>
    /// <param name="plan">The plan.</param>
    /// <param name="nominalMetres">Nominal wall, where known.</param>
    public static RegionMap? Regions(ThicknessMap map, StatisticsPlan plan, double? nominalMetres)
    {
        ArgumentNullException.ThrowIfNull(plan);
        if (plan.Regions.BelowMetres is not { } below)
            return null;
        return RegionFinder.Find(
            map,
            new RegionSettings
            {
                SeedThresholdMetres = below,
                GrowThresholdMetres = plan.Regions.GrowMetres ?? below,
                ReferenceWallMetres = plan.Regions.ReferenceMetres ?? nominalMetres ?? below,
                MinimumCells = plan.Regions.LeastCells,
            }
        );
    }

    /// <summary>All statistics.</summary>
    /// <param name="gridPath">The grid file.</param>
    /// <param name="plan">The plan.</param>
    /// <param name="overrules">The reviewer's layer; null for the machine's result.</param>
    /// <param name="programVersion">Version of the program.</param>
    /// <param name="planFolder">Folder from which relative paths of the plan count; empty for the current one.</param>
    /// <param name="machineOnly">Leaves out every decision of a person, those of the plan too.</param>
    public static StatisticsReport Run(
        string gridPath,
        StatisticsPlan plan,
        OverruleFile? overrules,
        string programVersion,
        string planFolder = "",
        bool machineOnly = false
    )
    {
        ArgumentNullException.ThrowIfNull(plan);
        if (machineOnly)
        {
            overrules = null;
            plan = plan with { Extremes = plan.Extremes with { Overrules = [] } };
        }
        string sha = Sha256(gridPath);
        CheckGrid(overrules, sha);
        using GridFile grid = GridFile.Open(gridPath);
        IReadOnlyList<LineCells> machine = GridLines.Read(grid, plan);
        ComponentFacts facts = plan.Component.Over(grid.Maps[0].Facts.Component);
        ComponentSurface surface = GridLines.Surface(facts, machine);
        PositionReport positions =
            plan.Stitch.LargestShiftMetres > 0
                ? PositionFaults.Find(surface, machine, plan.Stitch.LargestShiftMetres)
                : new PositionReport([], [], ["Faults of positions were not looked for."]);
        IReadOnlyList<string> log = [];
        IReadOnlyList<LineCells> placed = machine;
        if (plan.Stitch.Correct)
            (placed, log) = PositionFaults.Correct(machine, positions);
        Result byMachine = Analyse(surface, placed, plan, facts.NominalWallMetres);
        Result result = byMachine;
        int touched = 0;
        if (overrules is { Overrules.Count: > 0 })
        {
            (IReadOnlyList<LineCells> reviewed, IReadOnlyList<int> cells) = OverruleLayer.Apply(
                placed,
                overrules.Overrules,
                GridLines.Kept(grid)
            );
            touched = cells.Sum();
            result = Analyse(surface, reviewed, plan, facts.NominalWallMetres);
        }
        CoverageReport coverage = Components.Coverage.Of(result.Map);
        string folder = Path.GetFullPath(planFolder.Length == 0 ? "." : planFolder);
        IReadOnlyList<SurveyChange> changes = ChangeRun.Of(result.Map, plan, folder);
        var borneOutWalls = new BorneOutWalls(result.Map);
        BorneOutWall? borneOut = borneOutWalls.Smallest();
        CellSource? minimumCell = result.Map.SourceOf(result.Description.Minimum.CellIndex);
        var minimum = MinimumStatement.Of(result.Description.Minimum, borneOut, minimumCell, result.Map.Lines);
        BelowArea[] below =
        [
            .. result.Description.Thresholds.Select(t => BelowAreas.Of(result.Map, t.ThresholdMetres)),
        ];
        return new StatisticsReport
        {
            ProgramVersion = programVersion,
            Grid = Path.GetFileName(gridPath),
            GridSha256 = sha,
            StackSha256 = grid.Maps.ToDictionary(GridLines.NameOf, m => m.Facts.StackSha256),
            ProcedureSha256 = grid.Maps[0].Facts.ProcedureSha256,
            Plan = TomlBinder.Write(plan),
            Datum = Datum(surface),
            Component = Words(surface, facts),
            Cells = [result.Map.Raster.AlongCount, result.Map.Raster.AroundCount],
            PitchMetres = [result.Map.Raster.AlongPitchMetres, result.Map.Raster.AroundPitchMetres],
            Coverage = coverage,
            Overlap = Overlaps.Of(result.Map),
            PositionFaults = positions.Faults,
            PositionsNotTold = positions.Untold,
            PositionCorrections = log,
            Overrules = overrules?.Overrules ?? [],
            OverruleEffect =
                touched == 0
                    ? null
                    : new OverruleEffect(
                        touched,
                        byMachine.Description.Minimum.MeasuredMetres,
                        result.Description.Minimum.MeasuredMetres,
                        [.. byMachine.Description.Thresholds.Select(t => t.AreaBelowSquareMetres)],
                        [.. result.Description.Thresholds.Select(t => t.AreaBelowSquareMetres)],
                        [.. below.Select(b => BelowAreas.Of(byMachine.Map, b.ThresholdMetres).ExpectedSquareMetres)],
                        [.. below.Select(b => b.ExpectedSquareMetres)],
                        byMachine.Headline?.LowerBoundMetres,
                        result.Headline?.LowerBoundMetres
                    ),
            Description = result.Description,
            MinimumCell = minimumCell,
            BorneOut = borneOut,
            Minimum = minimum,
            BelowAreas = below,
            RegionCells = [.. (result.Regions?.Regions ?? []).Select(r => result.Map.SourceOf(r.DeepestCell))],
            RegionBorneOut =
            [
                .. (result.Regions?.Regions ?? []).Select(r =>
                    borneOutWalls.SmallestOf(result.Regions!.CellsOf(r.Number).ToArray())
                ),
            ],
            SmallestCredibleMetres = result.Map.SmallestMetres.Where(double.IsFinite).DefaultIfEmpty(double.NaN).Min(),
            Regions = result.Regions?.Regions ?? [],
            RegionGroups = result.Regions?.Groups ?? [],
            Spatial = result.Spatial,
            Extremes = result.Extremes,
            ZoneExtremes = result.Zones,
            UnmeasuredHeadline = result.Headline,
            Changes = changes,
            Assessment = AssessmentRun.IsAskedFor(plan)
                ? new AssessmentRun(result.Map, result.Map.ToThicknessMap(), plan, facts.NominalWallMetres).Run(
                    result.Regions,
                    changes
                )
                : null,
            Cautions = StatisticsCautions.Of(
                result.Description,
                result.Headline,
                coverage,
                positions,
                changes,
                plan,
                borneOut,
                minimum
            ),
        };
    }

    private static void CheckGrid(OverruleFile? overrules, string sha)
    {
        if (overrules is { GridSha256.Length: > 0 } && overrules.GridSha256 != sha)
            throw new ComponentException(
                $"The overrules are about the grid {overrules.GridSha256}, this one is {sha}.",
                "overrules, grid_sha256",
                "name the grid they were made for, or look at every decision again and change grid_sha256."
            );
    }

    private static StitchSettings Settings(StatisticsPlan plan) =>
        new()
        {
            Rule = (StitchRule)plan.Stitch.Rule,
            AlongPitchMetres = plan.Stitch.PitchAlongMetres,
            AroundPitchMetres = plan.Stitch.PitchAroundMetres,
        };

    private static Result Analyse(
        ComponentSurface surface,
        IReadOnlyList<LineCells> lines,
        StatisticsPlan plan,
        double? nominal
    )
    {
        StitchedMap stitched = Stitcher.Stitch(surface, lines, Settings(plan));
        ThicknessMap map = stitched.ToThicknessMap();
        double[] thresholds =
        [
            .. plan.ThresholdsMetres,
            .. plan.Regions.BelowMetres is { } below && !plan.ThresholdsMetres.Contains(below)
                ? [below]
                : Array.Empty<double>(),
        ];
        MapDescription description = MapDescriber.Describe(map, new DescribeSettings { ThresholdsMetres = thresholds });
        SpatialStructure? spatial = null;
        if (map.MeasuredCount >= 100 && description.StandardDeviationMetres > 0)
            spatial = SpatialAnalyser.Analyse(map);
        ExtremeAnalysis? extremes = ExtremesRun.Whole(map, description, spatial, plan, nominal);
        IReadOnlyList<ZoneExtremes> zones = ExtremesRun.Zones(stitched, description, plan, nominal);
        return new Result(
            stitched,
            description,
            Regions(map, plan, nominal),
            spatial,
            extremes,
            zones,
            ExtremesRun.Headline(extremes, zones, plan)
        );
    }

    internal static string Datum(ComponentSurface surface) =>
        surface.Kind switch
        {
            ComponentKind.Elbow =>
                "along: metres on the centre line from the start of the bend, downstream; around: metres of the outer girth from the extrados, clockwise looking downstream",
            ComponentKind.Pipe =>
                "along: metres from the start of the pipe, downstream; around: metres of the outer girth from the zero line, clockwise looking downstream",
            _ => "along: metres from the start of the plate; around: metres across from its edge",
        };

    internal static string Words(ComponentSurface surface, ComponentFacts facts) =>
        string.Create(
            CultureInfo.InvariantCulture,
            $"{surface.Kind.ToString().ToLowerInvariant()}, {(surface.IsClosed ? $"outside diameter {surface.OutsideRadiusMetres * 2e3:0.##} mm, " : $"width {surface.WidthMetres * 1e3:0.##} mm, ")}nominal wall {(facts.NominalWallMetres is { } wall ? $"{wall * 1e3:0.##} mm" : "not known")}, {(surface.Torus is null ? $"length {surface.LengthMetres * 1e3:0.#} mm" : $"bend radius {surface.BendRadiusMetres * 1e3:0.##} mm, {surface.Torus.BendAngleRadians * 180 / Math.PI:0.#} degrees, straight ends {surface.StraightEndsMetres * 1e3:0.#} mm")}"
        );

    internal static string Sha256(string path)
    {
        using FileStream stream = File.OpenRead(path);
        return Convert.ToHexStringLower(SHA256.HashData(stream));
    }

    private sealed record Result(
        StitchedMap Map,
        MapDescription Description,
        RegionMap? Regions,
        SpatialStructure? Spatial,
        ExtremeAnalysis? Extremes,
        IReadOnlyList<ZoneExtremes> Zones,
        UnmeasuredHeadline? Headline
    );
}
