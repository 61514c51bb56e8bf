using EchoToThickness.Evidence;
using EchoToThickness.Pairing;
using EchoToThickness.Procedures;
using EchoToThickness.Stacks;
using Xunit;

namespace EchoToThickness.Tests.Map;

/// <summary>The choice over hand-made evidence: every cost can be added up by hand.</summary>
public sealed class MapChooserTests
{
    public static TheoryData<MapChoice> Methods => new() { MapChoice.SemiGlobal, MapChoice.BeliefPropagation };

    /// <summary>A wall of 9 mm (its double and half 8 nats behind) in every cell.</summary>
    private static MapStrip Flat(int scans, int beams, int firstScan = 0)
    {
        var strip = new MapStrip(scans, beams);
        strip.Place(firstScan, scans);
        for (int scan = firstScan; scan < firstScan + scans; scan++)
        {
            for (int beam = 0; beam < beams; beam++)
                Set(strip, scan, beam, (9e-3f, 20f), (18e-3f, 12f), (4.5e-3f, 12f));
        }
        return strip;
    }

    private static void Set(MapStrip strip, int scan, int beam, params (float Metres, float Likelihood)[] walls)
    {
        ref HypothesisSet set = ref strip.Hypotheses(scan, beam);
        set.Clear();
        for (int k = 0; k < walls.Length; k++)
            set.Add(
                new WallHypothesis(walls[k].Metres, walls[k].Likelihood, 3e4f * walls[k].Metres, 0, 1, 1, 1),
                8,
                k == 0
            );
        strip.Own(scan, beam) = CellResult.Unmeasured(CellStatus.Measured) with { ThicknessMetres = walls[0].Metres };
    }

    private static double Chosen(MapStrip strip, int scan, int beam) =>
        strip.Hypotheses(scan, beam)[strip.Chosen(scan, beam)].ThicknessMetres;

    private static MapChooser Chooser(MapChoice method, NeighbourAxes neighbours, double guard = 12) =>
        new(new MapSettings { Choice = method, GuardNats = guard }, neighbours);

    [Theory]
    [MemberData(nameof(Methods))]
    public void Run_DoubledCellAmongSound_TakesTheSingleWall(MapChoice method)
    {
        MapStrip strip = Flat(9, 9);
        Set(strip, 4, 4, (18e-3f, 14f), (9e-3f, 8f));
        Chooser(method, NeighbourAxes.Both).Run(strip, 0, 9);
        Assert.Equal(9e-3, Chosen(strip, 4, 4), 1e-6);
        Assert.True(strip.Cost(4, 4, 0) > strip.Cost(4, 4, strip.Chosen(4, 4)));
    }

    [Theory]
    [MemberData(nameof(Methods))]
    public void Run_EvidenceBeyondTheGuard_IsNeverOverruled(MapChoice method)
    {
        MapStrip strip = Flat(9, 9);
        // 12.5 nats of its own against 9 mm, and every neighbour at 9 mm: a real pit.
        Set(strip, 4, 4, (3e-3f, 25f), (9e-3f, 12.5f));
        Chooser(method, NeighbourAxes.Both).Run(strip, 0, 9);
        Assert.Equal(3e-3, Chosen(strip, 4, 4), 1e-6);
    }

    [Theory]
    [MemberData(nameof(Methods))]
    public void Run_UnrelatedCells_AreNotTied(MapChoice method)
    {
        MapStrip strip = Flat(9, 9);
        Set(strip, 4, 4, (18e-3f, 14f), (9e-3f, 13f));
        Chooser(method, NeighbourAxes.None).Run(strip, 0, 9);
        Assert.Equal(18e-3, Chosen(strip, 4, 4), 1e-6);
        // Without neighbours the odds are the evidence's own, 1 nat; 0.01 for what the third hypothesis, none at all, adds.
        Assert.Equal(1, strip.Cost(4, 4, 1) - strip.Cost(4, 4, 0), 1e-4);
    }

    [Theory]
    [MemberData(nameof(Methods))]
    public void Run_NeighboursAlongBeamsOnly_DoNotHearOtherScans(MapChoice method)
    {
        MapStrip strip = Flat(9, 9);
        for (int beam = 0; beam < 9; beam++)
            Set(strip, 4, beam, (6e-3f, 14f), (9e-3f, 13f));
        Chooser(method, NeighbourAxes.Beam).Run(strip, 0, 9);
        for (int beam = 0; beam < 9; beam++)
            Assert.Equal(6e-3, Chosen(strip, 4, beam), 1e-6);
    }

    [Theory]
    [MemberData(nameof(Methods))]
    public void Run_StripsCutElsewhere_GiveTheSameBits(MapChoice method)
    {
        const int scans = 40;
        const int beams = 7;
        MapStrip whole = Flat(scans, beams);
        var noise = new Random(5);
        for (int cell = 0; cell < scans * beams; cell++)
        {
            double wall = 9e-3 + 1e-3 * noise.NextDouble();
            double rival = (noise.Next(2) == 0 ? 2 : 0.5) * wall;
            float lead = (float)(20 * noise.NextDouble() - 6);
            Set(whole, cell / beams, cell % beams, ((float)wall, 15f), ((float)rival, 15f - lead));
        }
        MapChooser chooser = Chooser(method, NeighbourAxes.Both);
        chooser.Run(whole, 0, scans);
        for (int first = 3; first < scans; first += 11)
        {
            int count = Math.Min(5, scans - first);
            int from = Math.Max(0, first - MapChooser.OverlapCells);
            int to = Math.Min(scans, first + count + MapChooser.OverlapCells);
            var part = new MapStrip(to - from, beams);
            part.Place(from, to - from);
            for (int scan = from; scan < to; scan++)
            {
                for (int beam = 0; beam < beams; beam++)
                    part.Hypotheses(scan, beam) = whole.Hypotheses(scan, beam);
            }
            Chooser(method, NeighbourAxes.Both).Run(part, first, count);
            for (int scan = first; scan < first + count; scan++)
            {
                for (int beam = 0; beam < beams; beam++)
                {
                    Assert.Equal(whole.Chosen(scan, beam), part.Chosen(scan, beam));
                    Assert.Equal(whole.Cost(scan, beam, 1), part.Cost(scan, beam, 1));
                }
            }
        }
    }

    [Fact]
    public void Run_SemiGlobalAtTheCentreOfAFlatField_AddsTheJumpOncePerDirection()
    {
        MapStrip strip = Flat(15, 15);
        Chooser(MapChoice.SemiGlobal, NeighbourAxes.Both).Run(strip, 0, 15);
        // Own cost of the double 8 nats; from each of 8 directions the cheapest way is one jump of 3 nats (20 - 12 = 8 would be dearer).
        Assert.Equal(8 + 8 * 3, strip.Cost(7, 7, 1), 1e-4);
    }
}
