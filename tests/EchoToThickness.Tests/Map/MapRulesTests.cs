using EchoToThickness.Evidence;
using EchoToThickness.Pairing;
using EchoToThickness.Procedures;
using EchoToThickness.Stacks;
using Xunit;

namespace EchoToThickness.Tests.Map;

/// <summary>Which changes neighbours may make. Walls and evidence are set by hand; the expected actions follow from the rules' own words.</summary>
public sealed class MapRulesTests
{
    private const int Size = 16;
    private const float Thin = 6e-3f;
    private const float Full = 9e-3f;

    private static MapStrip Strip()
    {
        var strip = new MapStrip(Size, Size);
        strip.Place(0, Size);
        return strip;
    }

    private static void Set(MapStrip strip, int scan, int beam, params (float Metres, float Nats)[] walls)
    {
        ref HypothesisSet set = ref strip.Hypotheses(scan, beam);
        set.Clear();
        for (int k = 0; k < walls.Length; k++)
            set.Add(
                new WallHypothesis(walls[k].Metres, walls[k].Nats, 3e4f * walls[k].Metres, 0, 1, 1, 2u << k),
                8,
                k == 0
            );
        strip.Own(scan, beam) = CellResult.Unmeasured(CellStatus.Measured) with { ThicknessMetres = walls[0].Metres };
    }

    private static MapAction Decide(
        MapStrip strip,
        int scan,
        int beam,
        TrainExpectation expect = TrainExpectation.Laminar
    )
    {
        new MapChooser(new MapSettings { Choice = MapChoice.SemiGlobal }, NeighbourAxes.Both).Run(strip, 0, Size);
        return MapRules.Decide(strip, scan, beam, expect, NeighbourAxes.Both, 1.415);
    }

    /// <summary>Full wall alone up to scan 5, both walls from 6 on, the cell's own thin one 2 nats weaker; from another scan on the thin wall alone.</summary>
    private static MapStrip Both(int thinFrom)
    {
        MapStrip strip = Strip();
        for (int scan = 0; scan < Size; scan++)
        {
            for (int beam = 0; beam < Size; beam++)
            {
                if (scan < 6)
                    Set(strip, scan, beam, (Full, 20));
                else if (scan < thinFrom)
                    Set(strip, scan, beam, (Thin, 18), (Full, 20));
                else
                    Set(strip, scan, beam, (Thin, 20));
            }
        }
        return strip;
    }

    [Fact]
    public void Decide_BothWallsInEveryCell_IsALamination() =>
        Assert.Equal(MapAction.TimeBehindReflector, Decide(Both(Size), 6, 8));

    [Fact]
    public void Decide_BothWallsBesideCellsOfTheThinWallAlone_IsAStep()
    {
        MapStrip strip = Both(8);
        Assert.Equal(MapAction.Keep, Decide(strip, 6, 8));
        // The full wall was chosen; only the rule keeps the thin one.
        Assert.Equal(Full, strip.Hypotheses(6, 8)[strip.Chosen(6, 8)].ThicknessMetres);
    }

    [Fact]
    public void Decide_PitsExpected_NeverTakesAThickerWall() =>
        Assert.Equal(MapAction.Keep, Decide(Both(Size), 6, 8, TrainExpectation.Pits));

    [Theory]
    [InlineData(11.5f, MapAction.TimeBehindReflector)]
    [InlineData(14f, MapAction.TimeBehindReflector)]
    [InlineData(18.5f, MapAction.Keep)]
    public void Decide_LoneThinWall_StaysOnClearEvidenceOfItsOwn(float nats, MapAction expected)
    {
        MapStrip strip = Strip();
        for (int cell = 0; cell < Size * Size; cell++)
            Set(strip, cell / Size, cell % Size, (Full, 20));
        // Leads of 1.5, 4 and 8.5 nats: a lone echo needs 8.
        Set(strip, 8, 8, (Thin, nats), (Full, 10));
        Assert.Equal(expected, Decide(strip, 8, 8));
    }

    [Fact]
    public void Decide_ReflectorThatANeighbourKnowsAsWell_IsNoLonePit()
    {
        MapStrip strip = Strip();
        for (int cell = 0; cell < Size * Size; cell++)
            Set(strip, cell / Size, cell % Size, (Full, 20));
        Set(strip, 8, 8, (Thin, 18.5f), (Full, 10));
        Set(strip, 8, 9, (Full, 20), (Thin, 15));
        Assert.Equal(MapAction.TimeBehindReflector, Decide(strip, 8, 8));
    }
}
