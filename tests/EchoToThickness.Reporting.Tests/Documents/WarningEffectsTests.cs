using EchoToThickness.Components;
using EchoToThickness.Pairing;
using EchoToThickness.Reporting.Documents;
using EchoToThickness.Reporting.Tests.Export;
using Xunit;

namespace EchoToThickness.Reporting.Tests.Documents;

public sealed class WarningEffectsTests
{
    private const int Along = 12;
    private const int Around = 30;

    /// <summary>8 mm everywhere but three thin cells: 4 mm on one echo, 5 mm under a suspected coating, 6 mm without the interface. By hand.</summary>
    [Fact]
    public void Rank_ThreeThinCells_OrdersByTheChangeOfTheSmallestWallThenOfTheArea()
    {
        StitchedMap map = Map();
        CellNotes[] notes = new CellNotes[Along * Around];
        notes[Cell(3, 4)] = CellNotes.SingleEcho;
        notes[Cell(6, 9)] = CellNotes.CoatingSuspected;
        notes[Cell(9, 20)] = CellNotes.WithoutInterface;
        notes[Cell(0, 0)] = CellNotes.PolarityUnexpected;
        notes[Cell(0, 1)] = CellNotes.PolarityUnexpected;
        IReadOnlyList<WarningEffect> ranked = WarningEffects.Rank(map, _ => notes, [5.5e-3], double.NaN);
        Assert.Equal(
            [
                "only one back-wall echo supports the wall",
                "a coating or a wrong zero is suspected",
                "the paired echoes have unexpected polarity",
                "measured between back-wall echoes without the interface",
            ],
            ranked.Select(e => e.Warning)
        );
        // Walls are stored as float: 24 bits of some millimetres.
        Assert.Equal(5e-3, ranked[0].MinimumMetres, 1e-9);
        Assert.Equal(1e-3, ranked[0].MinimumShiftMetres, 1e-9);
        double area = map.AreaSquareMetres[Cell(6, 9)];
        Assert.Equal(-area, ranked[0].BelowShiftSquareMetres[0], 1e-12);
        Assert.Equal(0, ranked[1].MinimumShiftMetres);
        Assert.Equal(area, ranked[1].BelowSquareMetres[0], 1e-12);
        Assert.Equal(0, ranked[2].BelowShiftSquareMetres[0]);
        Assert.Equal(2, ranked[2].Cells);
    }

    [Fact]
    public void Rank_WarningOnEveryCell_SaysThatNoWallIsLeftAndComesFirst()
    {
        CellNotes[] notes = [.. Enumerable.Repeat(CellNotes.InterfaceTracked, Along * Around)];
        notes[Cell(3, 4)] |= CellNotes.SingleEcho;
        IReadOnlyList<WarningEffect> ranked = WarningEffects.Rank(Map(), _ => notes, [], 5e-3);
        Assert.Equal("the interface was taken from neighbours", ranked[0].Warning);
        Assert.True(double.IsNaN(ranked[0].MinimumMetres));
        Assert.Equal(double.PositiveInfinity, ranked[0].MinimumShiftMetres);
        // The lone 4 mm is also thinner than the 5 mm that are borne out.
        Assert.Contains(ranked, e => e.Warning.StartsWith("thinner than", StringComparison.Ordinal) && e.Cells == 1);
    }

    [Fact]
    public void Rank_NoNotes_IsEmptyAndLeavesTheMapAlone()
    {
        StitchedMap map = Map();
        Assert.Empty(WarningEffects.Rank(map, _ => null, [5e-3], double.NaN));
        (double least, IReadOnlyList<double> below) = WarningEffects.Figures(map, [4.5e-3]);
        Assert.Equal(4e-3, least, 1e-9);
        Assert.Equal(map.AreaSquareMetres[Cell(3, 4)], below[0], 1e-12);
    }

    private static int Cell(int along, int around) => along * Around + around;

    private static StitchedMap Map() =>
        ExportMaps.Of(
            Along,
            Around,
            (i, j) =>
                (i, j) switch
                {
                    (3, 4) => 4e-3,
                    (6, 9) => 5e-3,
                    (9, 20) => 6e-3,
                    _ => 8e-3,
                }
        );
}
