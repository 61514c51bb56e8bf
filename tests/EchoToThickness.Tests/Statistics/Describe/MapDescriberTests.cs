using EchoToThickness.Pairing;
using EchoToThickness.Statistics;
using EchoToThickness.Statistics.Describe;
using Xunit;

namespace EchoToThickness.Tests.Statistics.Describe;

public sealed class MapDescriberTests
{
    private static readonly double[] Walls =
    [
        12.0,
        11.5,
        12.1,
        12.0,
        11.8,
        9.0,
        10.2,
        12.0,
        12.0,
        10.1,
        8.6,
        11.9,
        12.1,
        11.9,
        11.0,
        12.0,
    ];

    private static ThicknessMap Map(params ReadOnlySpan<double> walls) =>
        new(MapAxes.Even(4, 4, 1e-3, 2e-3), walls.ToArray().Select(w => w * 1e-3).ToArray());

    // Critical thickness profiles of API 579-1 Part 4: smallest over the other direction.
    [Fact]
    public void Profile_SmallestOverTheOtherAxis_EqualsTheCheckRows()
    {
        ThicknessMap map = Map(Walls);
        double[] around = MapDescriber.Profile(map, false).ThicknessMetres.Select(t => t * 1e3).ToArray();
        double[] along = MapDescriber.Profile(map, true).ThicknessMetres.Select(t => t * 1e3).ToArray();
        Assert.Equal(CheckRows.ExpectedList("CO-579-CTPlong"), around, (a, b) => Math.Abs(a - b) < 1e-12);
        Assert.Equal(CheckRows.ExpectedList("CO-579-CTPcirc"), along, (a, b) => Math.Abs(a - b) < 1e-12);
        Assert.Equal(10, MapDescriber.Profile(map, true).CellIndex[2]);
    }

    [Fact]
    public void Describe_UnmeasuredCells_AreCountedAndLeftOut()
    {
        double[] walls = [8e-3, double.NaN, 6e-3, 7e-3];
        CellStatus[] status =
        [
            CellStatus.Measured,
            CellStatus.NoBackWallEcho,
            CellStatus.LaminarReflector,
            CellStatus.LowSignalToNoise,
        ];
        var map = new ThicknessMap(MapAxes.Even(2, 2, 1e-3, 1e-3), walls, status, default, [1e-6, 1e-6, 3e-6, 1e-6]);
        MapDescription description = MapDescriber.Describe(map, new DescribeSettings { ThresholdsMetres = [7e-3] });
        Assert.Equal(2, description.MeasuredCells);
        Assert.Equal(4e-6, description.MeasuredAreaSquareMetres, 1e-18);
        Assert.Equal(6e-6, description.TotalAreaSquareMetres, 1e-18);
        Assert.Equal(6.5e-3, description.MeanMetres, 1e-15);
        Assert.Equal(1, description.CellsByStatus[CellStatus.NoBackWallEcho]);
        Assert.Equal(0.75, description.Thresholds[0].FractionBelow, 1e-12);
        Assert.Equal(1, description.Thresholds[0].CellsBelow);
        Assert.Equal(2, description.Minimum.CellIndex);
    }

    // Algebra: a cell on the threshold is below with probability one half; one uncertainty away 0.8413 (normal table).
    [Fact]
    public void BelowThreshold_UsesTheUncertaintyOfTheCell()
    {
        var map = new ThicknessMap(
            MapAxes.Even(1, 3, 1e-3, 1e-3, false),
            [7e-3, 6.9e-3, 8e-3],
            default,
            [1e-4, 1e-4, 1e-4]
        );
        ThresholdArea area = MapDescriber.BelowThreshold(map, 7e-3);
        Assert.Equal((0.5 + 0.8413447460685429) * 1e-6, area.ExpectedAreaSquareMetres, 1e-15);
        Assert.Equal(1e-6, area.AreaBelowSquareMetres, 1e-18);
        Assert.Equal(0, area.SurelyBelowSquareMetres);
        Assert.Equal(2e-6, area.PossiblyBelowSquareMetres, 1e-18);
        Assert.Equal(0.8413447460685429, area.LargestProbability, 1e-12);
    }

    // Half of the area holds a normal 8.0 mm, half 9.5 mm with three times the spread: the mode is at the narrow one.
    [Fact]
    public void Describe_TwoPopulations_ModeIsTheNarrowOne()
    {
        double[] z = StatisticsData.Normals(40000, 3);
        double[] wall = z.Select((v, k) => k % 2 == 0 ? 8e-3 + 5e-5 * v : 9.5e-3 + 15e-5 * v).ToArray();
        MapDescription description = MapDescriber.Describe(new ThicknessMap(MapAxes.Even(200, 200, 1e-3, 1e-3), wall));
        Assert.Equal(8e-3, description.ModeMetres, 3e-5);
    }

    [Fact]
    public void Describe_NothingMeasured_SaysWhatToDo()
    {
        var map = new ThicknessMap(MapAxes.Even(1, 2, 1e-3, 1e-3), [double.NaN, double.NaN]);
        StatisticsException fault = Assert.Throws<StatisticsException>(() => MapDescriber.Describe(map));
        Assert.Contains("None of the 2 cells", fault.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void ThicknessMap_ImpossibleCell_IsRefusedWithItsPlace()
    {
        StatisticsException fault = Assert.Throws<StatisticsException>(() =>
            new ThicknessMap(MapAxes.Even(2, 2, 1e-3, 1e-3), [1, 1, -1, 1])
        );
        Assert.Contains("cell [1, 0]", fault.Where, StringComparison.Ordinal);
        Assert.Throws<StatisticsException>(() =>
            new ThicknessMap(
                MapAxes.Even(1, 2, 1e-3, 1e-3),
                [1, double.NaN],
                [CellStatus.Measured, CellStatus.Measured]
            )
        );
        Assert.Throws<StatisticsException>(() => new MapAxes([0, 1, 3], [0, 1]));
        Assert.Throws<StatisticsException>(() => new MapAxes([0, 1], [0, 1], true, [1, 0]));
    }

    // On a bend the cells at the extrados are longer: areas follow the factor.
    [Fact]
    public void ThicknessMap_LengthFactor_GoesIntoTheArea()
    {
        var axes = new MapAxes([0, 1e-3], [0, 1e-3], true, [1.25, 0.75]);
        var map = new ThicknessMap(axes, [8e-3, 6e-3, 8e-3, 6e-3]);
        MapDescription description = MapDescriber.Describe(map);
        Assert.Equal(4e-6, description.MeasuredAreaSquareMetres, 1e-18);
        Assert.Equal((8e-3 * 1.25 + 6e-3 * 0.75) / 2, description.MeanMetres, 1e-15);
    }
}
