using EchoToThickness.Components;
using EchoToThickness.Pairing;
using EchoToThickness.Reporting.Export;
using EchoToThickness.Stacks;
using EchoToThickness.Statistics;
using EchoToThickness.Statistics.Regions;

namespace EchoToThickness.Reporting.Tests.Export;

/// <summary>Maps whose every cell is known: 1 mm cells of 8 mm wall on a pipe.</summary>
internal static class ExportMaps
{
    public const int Along = 60;
    public const int Around = 40;

    public static readonly ExportFacts Facts = new()
    {
        Title = "a pipe of 40 mm girth",
        Component = "pipe",
        Datum = "along from the start; around clockwise looking downstream",
        Rule = "smallest",
        GridSha256 = "00",
        StackSha256 = "11",
        ProcedureSha256 = "22",
        ProgramVersion = "0",
    };

    /// <summary>
    /// A pipe, 60 cells along and 40 around: a thin patch at along 10-14, around 20-25 (5 mm), a thinner one over the seam at along 30-33, around 38-39 and
    /// 0-1 (4 mm), and a corner that was not scanned at along 50-59, around 0-9.
    /// </summary>
    public static StitchedMap Pipe() =>
        Of(
            Along,
            Around,
            (i, j) =>
                i >= 50 && j < 10 ? double.NaN
                : i is >= 10 and <= 14 && j is >= 20 and <= 25 ? 5e-3
                : i is >= 30 and <= 33 && j is (>= 38 or <= 1) ? 4e-3
                : 8e-3
        );

    public static StitchedMap Of(int along, int around, Func<int, int, double> wallMetres)
    {
        var walls = new float[along * around];
        for (int cell = 0; cell < walls.Length; cell++)
            walls[cell] = (float)wallMetres(cell / around, cell % around);
        var line = new LineCells
        {
            Name = "line 1",
            Scans = along,
            Beams = around,
            ScanPositionsMetres = [.. Enumerable.Range(0, along).Select(i => (i + 0.5) * 1e-3)],
            IndexPositionsMetres = [.. Enumerable.Range(0, around).Select(j => (j + 0.5) * 1e-3)],
            Placement = new LinePlacement { Direction = LineDirection.Along, Origin = LineOrigin.ComponentStart },
            ThicknessMetres = walls,
            Status = Array.ConvertAll(walls, w => float.IsNaN(w) ? CellStatus.NotScanned : CellStatus.Measured),
        };
        var pipe = new ComponentFacts
        {
            Kind = ComponentKind.Pipe,
            OutsideDiameterMetres = around * 1e-3 / Math.PI,
            LengthMetres = along * 1e-3,
        };
        return Stitcher.Stitch(ComponentSurface.Of(pipe), [line]);
    }

    public static RegionMap Regions(StitchedMap map) =>
        RegionFinder.Find(
            map.ToThicknessMap(),
            new RegionSettings
            {
                SeedThresholdMetres = 6e-3,
                GrowThresholdMetres = 6e-3,
                ReferenceWallMetres = 8e-3,
            }
        );
}
