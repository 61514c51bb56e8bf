using System.Globalization;
using EchoToThickness.Components;
using EchoToThickness.Reporting.Inspection;
using EchoToThickness.Storage.Grids;

namespace EchoToThickness.Reporting.Export;

/// <summary>What every exported file says beside its numbers: where the map begins, in which units, and what it was made from.</summary>
public sealed record ExportFacts
{
    /// <summary>Name of the measured stack.</summary>
    public required string Title { get; init; }

    /// <summary>The component and its dimensions, in words.</summary>
    public required string Component { get; init; }

    /// <summary>Where positions count from and in which direction, in words.</summary>
    public required string Datum { get; init; }

    /// <summary>Rule by which lines were put together.</summary>
    public required string Rule { get; init; }

    /// <summary>Units of positions and walls in the files (the NumPy array is in metres and says so itself).</summary>
    public string Units { get; init; } = "positions and wall in mm";

    /// <summary>SHA-256 of the grid, lower-case hexadecimal.</summary>
    public required string GridSha256 { get; init; }

    /// <summary>SHA-256 of the stacks of the lines; empty where not known.</summary>
    public required string StackSha256 { get; init; }

    /// <summary>SHA-256 of the procedure.</summary>
    public required string ProcedureSha256 { get; init; }

    /// <summary>Version of the program that exports.</summary>
    public required string ProgramVersion { get; init; }

    /// <summary>Names and values, in the order in which they are written.</summary>
    /// <remarks>Line ends and other control characters, which XML and PNG text cannot hold, become blanks.</remarks>
    public IReadOnlyList<(string Name, string Value)> Lines =>
        [.. All.Select(f => (f.Name, string.Concat(f.Value.Select(c => char.IsControl(c) ? ' ' : c))))];

    private (string Name, string Value)[] All =>
        [
            ("title", Title),
            ("component", Component),
            ("datum", Datum),
            ("units", Units),
            ("stitch_rule", Rule),
            ("grid_sha256", GridSha256),
            ("stack_sha256", StackSha256),
            ("procedure_sha256", ProcedureSha256),
            ("program", "EchoToThickness " + ProgramVersion),
        ];

    /// <summary>Gathers the facts of a map.</summary>
    /// <param name="gridPath">Grid file.</param>
    /// <param name="grid">The same, open.</param>
    /// <param name="plan">Plan by which the map was made.</param>
    /// <param name="map">The map.</param>
    /// <param name="programVersion">Version of the program.</param>
    public static ExportFacts Of(
        string gridPath,
        GridFile grid,
        StatisticsPlan plan,
        StitchedMap map,
        string programVersion
    )
    {
        ArgumentNullException.ThrowIfNull(grid);
        ArgumentNullException.ThrowIfNull(plan);
        ArgumentNullException.ThrowIfNull(map);
        ComponentSurface surface = map.Raster.Surface;
        return new ExportFacts
        {
            Title = grid.Maps[0].Facts.StackName,
            Component = StatisticsRun.Words(surface, plan.Component.Over(grid.Maps[0].Facts.Component)),
            Datum = StatisticsRun.Datum(surface),
            Rule = string.Create(CultureInfo.InvariantCulture, $"{map.Settings.Rule}").ToLowerInvariant(),
            GridSha256 = StatisticsRun.Sha256(gridPath),
            StackSha256 = string.Join(' ', grid.Maps.Select(m => m.Facts.StackSha256).Distinct()),
            ProcedureSha256 = grid.Maps[0].Facts.ProcedureSha256,
            ProgramVersion = programVersion,
        };
    }
}
