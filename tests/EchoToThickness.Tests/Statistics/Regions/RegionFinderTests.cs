using EchoToThickness.Statistics;
using EchoToThickness.Statistics.Regions;
using Xunit;

namespace EchoToThickness.Tests.Statistics.Regions;

public sealed class RegionFinderTests
{
    private static readonly RegionSettings Settings = new()
    {
        SeedThresholdMetres = 7e-3,
        GrowThresholdMetres = 7e-3,
        ReferenceWallMetres = 8e-3,
        Interaction = InteractionRule.None,
    };

    /// <summary>A map of 1 mm cells from rows of digits: the wall in millimetres.</summary>
    private static ThicknessMap Map(bool wraps, params string[] rows) =>
        new(
            MapAxes.Even(rows.Length, rows[0].Length, 1e-3, 1e-3, wraps),
            rows.SelectMany(row => row.Select(c => c == '.' ? double.NaN : (c - '0') * 1e-3)).ToArray()
        );

    // scipy.ndimage.label, SciPy 1.10.1, on the grid of row LBL-4: 6 components with 4 neighbours, 3 with 8.
    [Fact]
    public void Find_FourAndEightNeighbours_EqualScipy()
    {
        ThicknessMap map = Map(false, "66886", "86868", "88886", "68668");
        double[] expected = CheckRows.ExpectedList("LBL-4");
        Assert.Equal(expected[0], RegionFinder.Find(map, Settings with { JoinAtCorners = false }).Regions.Count);
        RegionMap eight = RegionFinder.Find(map, Settings);
        Assert.Equal(expected[1], eight.Regions.Count);
        Assert.Equal(
            CheckRows.ExpectedList("LBL-8-sizes"),
            eight.Regions.Select(r => (double)r.Cells).OrderDescending()
        );
    }

    [Fact]
    public void Find_AcrossTheSeam_IsOneRegionWithItsTrueWidth()
    {
        string[] rows = ["8888888", "6888855", "8888888"];
        RegionMap open = RegionFinder.Find(Map(false, rows), Settings);
        RegionMap closed = RegionFinder.Find(Map(true, rows), Settings);
        Assert.Equal(2, open.Regions.Count);
        ThinRegion region = Assert.Single(closed.Regions);
        Assert.Equal(3e-3, region.WidthMetres, 1e-12);
        Assert.Equal(5, region.AroundFirst);
        Assert.Equal(7, region.AroundLast);
        // Cells at 5.5, 6.5 and 0.5 mm of a girth of 7 mm: the centroid is 6.5 mm.
        Assert.Equal(6.5e-3, region.CentroidAroundMetres, 1e-12);
        Assert.Equal(5, region.DeepestPosition.Around);
        Assert.Equal((3 + 3 + 2) * 1e-9, region.VolumeCubicMetres, 1e-18);
        Assert.Equal(0, region.OpenCells);
    }

    [Fact]
    public void Find_RingAroundTheGirth_IsClosed()
    {
        ThinRegion region = Assert.Single(RegionFinder.Find(Map(true, "8888", "5556", "8888"), Settings).Regions);
        Assert.True(region.ClosesTheGirth);
        Assert.Equal(4e-3, region.WidthMetres, 1e-12);
    }

    [Fact]
    public void Find_Hysteresis_KeepsOnlyWhatHoldsASeed()
    {
        ThicknessMap map = Map(false, "8778", "8888", "8758");
        RegionMap regions = RegionFinder.Find(
            map,
            Settings with
            {
                SeedThresholdMetres = 6e-3,
                GrowThresholdMetres = 7.5e-3,
            }
        );
        ThinRegion region = Assert.Single(regions.Regions);
        Assert.Equal(2, region.Cells);
        Assert.Equal(3e-3, region.DepthMetres, 1e-12);
        Assert.Equal(0, regions.Labels[1]);
        Assert.Equal(1, regions.Labels[9]);
    }

    [Fact]
    public void Find_BelowTheFootprint_IsCountedAndDropped()
    {
        ThicknessMap map = Map(false, "68855", "88855");
        RegionMap regions = RegionFinder.Find(map, Settings with { MinimumCells = 2 });
        Assert.Single(regions.Regions);
        Assert.Equal(1, regions.DroppedRegions);
        Assert.Equal(1e-6, regions.DroppedAreaSquareMetres, 1e-18);
        Assert.Equal([3, 4, 8, 9], regions.CellsOf(1).ToArray());
    }

    [Fact]
    public void Find_BesideUnmeasuredCells_SaysThatItMayGoOn()
    {
        ThinRegion region = Assert.Single(RegionFinder.Find(Map(false, "88888", "8855.", "88888"), Settings).Regions);
        Assert.Equal(1, region.OpenCells);
    }

    // A conical pit, 2 mm deep and 10 mm in radius on the reference wall, cells of 0.25 mm: area pi r^2 below the threshold at 0.1 mm of
    // loss (r = 9.5 mm), volume pi r^2 d / 3 less the rim outside the threshold. Cells cut by the rim leave less than 1 %.
    [Fact]
    public void Find_Cone_HasAreaVolumeAndDepthOfTheCone()
    {
        const int n = 100;
        const double pitch = 0.25e-3;
        var wall = new double[n * n];
        for (int k = 0; k < wall.Length; k++)
        {
            double r = pitch * Math.Sqrt(Math.Pow(k / n - 49.5, 2) + Math.Pow(k % n - 49.5, 2));
            wall[k] = 8e-3 - Math.Max(0, 2e-3 * (1 - r / 10e-3));
        }
        var map = new ThicknessMap(MapAxes.Even(n, n, pitch, pitch), wall);
        ThinRegion region = Assert.Single(
            RegionFinder.Find(map, Settings with { SeedThresholdMetres = 7.9e-3, GrowThresholdMetres = 7.9e-3 }).Regions
        );
        double area = Math.PI * 9.5e-3 * 9.5e-3;
        Assert.Equal(area, region.AreaSquareMetres, 0.01 * area);
        // Integral of 2 pi r d (1 - r/R) from 0 to 0.95 R = 2 pi d R^2 (0.95^2/2 - 0.95^3/3).
        double volume = 2 * Math.PI * 2e-3 * 1e-4 * (0.95 * 0.95 / 2 - Math.Pow(0.95, 3) / 3);
        Assert.Equal(volume, region.VolumeCubicMetres, 0.01 * volume);
        Assert.Equal(2e-3 * (1 - pitch * Math.Sqrt(0.5) / 10e-3), region.DepthMetres, 1e-12);
        Assert.Equal(12.5e-3, region.CentroidAlongMetres, 1e-9);
        Assert.Equal(19e-3, region.LengthMetres, 2 * pitch);
        Assert.Equal(RegionKind.Pit, region.Kind);
    }

    // Three walls of 8 mm are 24 mm: a gap of 24 cells joins, of 25 does not (row CO-int-3t holds the same product for 9.53 mm).
    [Theory]
    [InlineData(24, 1)]
    [InlineData(25, 2)]
    public void Find_ThreeWalls_GroupsCloseRegions(int gap, int groups)
    {
        string row = "5" + new string('8', gap) + "5";
        RegionMap regions = RegionFinder.Find(
            Map(false, row),
            Settings with
            {
                Interaction = InteractionRule.ThreeWalls,
            }
        );
        Assert.Equal(2, regions.Regions.Count);
        Assert.Equal(groups, regions.Groups.Count);
        if (groups == 1)
            Assert.Equal((gap + 2) * 1e-3, regions.Groups[0].WidthMetres, 1e-12);
        Assert.Equal(
            CheckRows.Expected("CO-int-3t") * 1e-3,
            InteractionRule.ThreeWalls.AlongLimitMetres(9.53e-3, 1),
            1e-12
        );
    }

    [Fact]
    public void Find_GroupAcrossTheSeam_HasTheShortWidth()
    {
        RegionMap regions = RegionFinder.Find(
            Map(true, "8588888888888888888888888888888888888858"),
            Settings with
            {
                Interaction = new InteractionRule { AlongWallMultiple = 1, AroundWallMultiple = 0.5 },
            }
        );
        Assert.Equal(4e-3, Assert.Single(regions.Groups).WidthMetres, 1e-12);
    }

    // Two basins of 4 mm and 5 mm with a ridge of 6 mm: the ridge is 1 mm above the shallower one.
    [Theory]
    [InlineData(0.9e-3, 2)]
    [InlineData(1.1e-3, 1)]
    public void Split_BasinsWithARidge_PartBySaddle(double saddle, int expected)
    {
        ThicknessMap map = Map(false, "888888888", "865646558", "888888888");
        RegionMap whole = RegionFinder.Find(map, Settings);
        Assert.Single(whole.Regions);
        RegionMap parts = RegionFinder.Split(map, whole, saddle);
        Assert.Equal(expected == 2 ? 3 : 1, parts.Regions.Count);
        Assert.Equal(whole.Regions[0].Cells, parts.Regions.Sum(r => r.Cells));
        Assert.Equal(4, parts.Regions[0].DeepestPosition.Around);
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public void Outlines_RingWithHoleAndCorner_EncloseTheArea(bool corners)
    {
        ThicknessMap map = Map(true, "5588855", "5688885", "8855588", "8858588", "8855588", "8888858");
        RegionMap regions = RegionFinder.Find(map, Settings with { JoinAtCorners = corners });
        foreach (ThinRegion region in regions.Regions)
        {
            double area = 0;
            foreach (IReadOnlyList<OutlinePoint> polygon in RegionOutlines.Of(map, regions, region.Number))
                for (int k = 0; k < polygon.Count; k++)
                {
                    OutlinePoint a = polygon[k];
                    OutlinePoint b = polygon[(k + 1) % polygon.Count];
                    Assert.True(a.AlongMetres == b.AlongMetres || a.AroundMetres == b.AroundMetres);
                    area += 0.5 * (a.AlongMetres * b.AroundMetres - b.AlongMetres * a.AroundMetres);
                }
            Assert.Equal(region.AreaSquareMetres, area, 1e-15);
        }
        Assert.Equal(corners ? 1 : 3, regions.Regions.Count);
    }

    [Fact]
    public void Outlines_Square_HaveFourCorners()
    {
        ThicknessMap map = Map(false, "8888", "8558", "8558", "8888");
        RegionMap regions = RegionFinder.Find(map, Settings);
        IReadOnlyList<OutlinePoint> polygon = Assert.Single(RegionOutlines.Of(map, regions, 1));
        Assert.Equal(4, polygon.Count);
        Assert.Contains(new OutlinePoint(1e-3, 1e-3), polygon);
    }

    // Mirroring the map mirrors the regions.
    [Fact]
    public void Find_MirroredMap_GivesMirroredRegions()
    {
        string[] rows = ["88855", "86688", "88885", "55888"];
        string[] mirrored = rows.Select(row => new string(row.Reverse().ToArray())).ToArray();
        ThinRegion[] a = RegionFinder.Find(Map(false, rows), Settings).Regions.OrderBy(r => r.Cells).ToArray();
        ThinRegion[] b = RegionFinder.Find(Map(false, mirrored), Settings).Regions.OrderBy(r => r.Cells).ToArray();
        Assert.Equal(a.Length, b.Length);
        for (int k = 0; k < a.Length; k++)
        {
            Assert.Equal(a[k].AreaSquareMetres, b[k].AreaSquareMetres, 1e-18);
            Assert.Equal(5e-3 - a[k].CentroidAroundMetres, b[k].CentroidAroundMetres, 1e-12);
        }
    }

    [Fact]
    public void Find_ContradictingThresholds_AreRefused()
    {
        StatisticsException fault = Assert.Throws<StatisticsException>(() =>
            RegionFinder.Find(Map(false, "88"), Settings with { GrowThresholdMetres = 6e-3 })
        );
        Assert.Contains("GrowThresholdMetres", fault.Where, StringComparison.Ordinal);
    }
}
