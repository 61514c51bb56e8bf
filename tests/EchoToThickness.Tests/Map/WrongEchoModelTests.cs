using EchoToThickness.Evidence;
using EchoToThickness.Pairing;
using EchoToThickness.Procedures;
using EchoToThickness.Stacks;
using Xunit;

namespace EchoToThickness.Tests.Map;

/// <summary>Signs and the regression on them. Expected values by algebra.</summary>
public sealed class WrongEchoModelTests
{
    private static readonly CellResult Cell = CellResult.Unmeasured(CellStatus.Measured) with
    {
        ThicknessMetres = 9e-3,
        InterfaceAmplitudeFraction = 0.5,
        FirstEchoAmplitudeFraction = 0.05,
        SignalToNoiseDecibels = 24,
        EchoCount = 3,
    };

    private static WallHypothesis Wall(double metres, double nats, byte order = 1, bool couplant = false) =>
        new((float)metres, (float)nats, (float)(3e4 * metres), 0, order, 2, 6, couplant, -12);

    private static WrongEchoSigns Signs(params WallHypothesis[] rivals)
    {
        var set = new HypothesisSet();
        set.Clear();
        set.Add(Wall(9e-3, 20), 8, true);
        foreach (WallHypothesis rival in rivals)
            set.Add(rival, 8, false);
        return WrongEchoSigns.Of(set, Cell, TrainReason.Train);
    }

    [Fact]
    public void Of_RivalsOfEachKind_AreSummedApart()
    {
        WrongEchoSigns signs = Signs(
            Wall(6e-3, 17),
            Wall(5e-3, 17),
            Wall(18e-3, 15),
            Wall(4.5e-3, 16, order: 2),
            Wall(9.3e-3, 19),
            Wall(13e-3, 25, couplant: true)
        );
        // Two thinner ones 3 nats behind: -3 + ln 2. 9.3 mm is the same wall, 13 mm a couplant echo.
        Assert.Equal(-3 + Math.Log(2), signs.ThinnerNats, 1e-5);
        Assert.Equal(-5, signs.ThickerNats, 1e-5);
        Assert.Equal(-4, signs.MultipleNats, 1e-5);
        // 20 nats against no wall at all and 3 of prior.
        Assert.Equal(-23, signs.NoWallNats, 1e-5);
        Assert.Equal(-20, signs.StrengthDecibels, 1e-9);
        Assert.Equal(-12, signs.ClutterDecibels, 1e-9);
    }

    [Fact]
    public void Of_NoRival_IsTheSmallestLead()
    {
        WrongEchoSigns signs = Signs();
        Assert.Equal(WrongEchoSigns.NoRivalNats, signs.ThinnerNats);
        Assert.Equal(WrongEchoSigns.NoRivalNats, signs.MultipleNats);
        Assert.True(signs.Alone);
    }

    [Fact]
    public void Of_CellWithoutAWallOfItsOwn_Refuses()
    {
        var set = new HypothesisSet();
        set.Clear();
        Assert.Throws<ArgumentException>(() => WrongEchoSigns.Of(set, Cell, TrainReason.Train));
    }

    [Fact]
    public void Of_NeighboursOverTheMap_AreCounted()
    {
        var strip = new MapStrip(3, 3);
        strip.Place(0, 3);
        for (int cell = 0; cell < 9; cell++)
        {
            strip.Hypotheses(cell / 3, cell % 3).Clear();
            strip.Hypotheses(cell / 3, cell % 3).Add(Wall(9e-3, 20), 8, true);
            strip.Own(cell / 3, cell % 3) = Cell with { ThicknessMetres = cell < 3 ? 6.75e-3 : 9e-3 };
        }
        strip.Own(1, 0) = CellResult.Unmeasured(CellStatus.LowSignalToNoise);
        var settings = new MapSettings { Choice = MapChoice.SemiGlobal };
        new MapChooser(settings, NeighbourAxes.Both).Run(strip, 0, 3);
        WrongEchoSigns signs = WrongEchoSigns.Of(strip, 1, 1, 0, Cell, settings, NeighbourAxes.Both);
        // Three neighbours at 0.75 of the wall, one not measured, four alike.
        Assert.Equal(4, signs.Alike);
        Assert.True(signs.Contradicted);
        Assert.Equal(0.25, signs.ThinnestBesideFraction, 1e-9);
    }

    [Theory]
    [InlineData(-40, 0, 0, 0)]
    [InlineData(-10, 6, 0, 0)]
    [InlineData(0, 16, 8, 3)]
    [InlineData(40, 20, 12, 7)]
    public void Columns_OfALead_AreItsWayPastEachKnot(double lead, double first, double second, double third)
    {
        var columns = new double[WrongEchoModel.ColumnCount];
        WrongEchoModel.Columns(new WrongEchoSigns { ThinnerNats = lead }, columns);
        // Knots at -16, -8 and -3, held at 4.
        Assert.Equal([1, first, second, third], columns[..4]);
    }

    [Fact]
    public void Probability_ClearAndContestedWalls_StandFarApart()
    {
        WrongEchoSigns clear = Signs() with { Alone = false, Alike = 8 };
        WrongEchoSigns contested = clear with
        {
            ThinnerNats = 4,
            OwnThinnerNats = 4,
            ThickerNats = 0,
            NoWallNats = -6,
            SignalToNoiseDecibels = 13,
            StrengthDecibels = -34,
            Echoes = 1,
            Alike = 0,
            Contradicted = true,
        };
        foreach (MapChoice choice in Enum.GetValues<MapChoice>())
        {
            foreach (TrainExpectation expect in Enum.GetValues<TrainExpectation>())
            {
                double sure = WrongEchoModel.Probability(clear, choice, expect);
                double unsure = WrongEchoModel.Probability(contested, choice, expect);
                Assert.InRange(sure, 1e-6, 0.01);
                Assert.InRange(unsure, 10 * sure, 1);
            }
        }
    }
}
