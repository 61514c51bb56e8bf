using EchoToThickness.Evidence;
using EchoToThickness.Procedures;
using EchoToThickness.Stacks;

namespace EchoToThickness.Pairing;

/// <summary>
/// Semi-global choice: for each cell and each of up to eight directions the cheapest path that arrives at each hypothesis; the smallest sum
/// of own cost and arrivals wins. Paths are <see cref="MapSettings.ReachCells"/> long and start afresh for every cell, so that the choice of
/// a cell is a function of its surroundings alone, wherever a strip begins or ends.
/// </summary>
/// <remarks>
/// Hirschmüller 2008, Stereo Processing by Semiglobal Matching and Mutual Information, IEEE PAMI 30(2), equation 13, with a truncated
/// linear penalty. Cost: 8 × 6 × hypotheses² operations for a cell whose own evidence leaves a choice or contradicts its neighbours.
/// </remarks>
internal static class SemiGlobalChoice
{
    public static void Run(MapStrip strip, int firstScan, int scanCount, NeighbourAxes neighbours, in MapCosts costs)
    {
        Span<float> total = stackalloc float[HypothesisSet.Most];
        Span<float> message = stackalloc float[HypothesisSet.Most];
        for (int scan = firstScan; scan < firstScan + scanCount; scan++)
        {
            for (int beam = 0; beam < strip.Beams; beam++)
            {
                ref readonly HypothesisSet set = ref strip.Hypotheses(scan, beam);
                if (set.Count == 0)
                    continue;
                for (int h = 0; h < set.Count; h++)
                    total[h] = set[0].LogLikelihood - set[h].LogLikelihood;
                for (int ds = -1; ds <= 1; ds++)
                {
                    if (ds != 0 && !neighbours.HasFlag(NeighbourAxes.Scan))
                        continue;
                    for (int db = -1; db <= 1; db++)
                    {
                        if ((ds == 0 && db == 0) || (db != 0 && !neighbours.HasFlag(NeighbourAxes.Beam)))
                            continue;
                        Arrive(strip, scan, beam, ds, db, costs, message);
                        for (int h = 0; h < set.Count; h++)
                            total[h] += message[h];
                    }
                }
                int best = costs.Best(set, total[..set.Count]);
                strip.Choose(scan, beam, best, total[..set.Count]);
            }
        }
    }

    /// <summary>Cost, beyond the cheapest, at which a path from one direction arrives at each hypothesis.</summary>
    private static void Arrive(
        MapStrip strip,
        int scan,
        int beam,
        int ds,
        int db,
        in MapCosts costs,
        Span<float> message
    )
    {
        Span<float> path = stackalloc float[HypothesisSet.Most];
        Span<float> next = stackalloc float[HypothesisSet.Most];
        int previousScan = 0;
        int previousBeam = 0;
        int gap = 0;
        bool started = false;
        message.Clear();
        for (int step = MapSettings.ReachCells; step >= 0; step--)
        {
            gap++;
            int s = scan - step * ds;
            int b = beam - step * db;
            if (!strip.Contains(s, b))
                continue;
            ref readonly HypothesisSet set = ref strip.Hypotheses(s, b);
            // Cells without a hypothesis say nothing: the path goes on over them.
            if (set.Count == 0)
                continue;
            if (!started)
            {
                if (step == 0)
                    return;
                for (int h = 0; h < set.Count; h++)
                    path[h] = costs.Own(set, h);
            }
            else
            {
                ref readonly HypothesisSet from = ref strip.Hypotheses(previousScan, previousBeam);
                float least = float.PositiveInfinity;
                for (int h = 0; h < set.Count; h++)
                {
                    float cheapest = float.PositiveInfinity;
                    for (int k = 0; k < from.Count; k++)
                        cheapest = Math.Min(
                            cheapest,
                            path[k] + costs.Change(set[h].ThicknessMetres, from[k].ThicknessMetres, gap)
                        );
                    next[h] = step == 0 ? cheapest : cheapest + costs.Own(set, h);
                    least = Math.Min(least, next[h]);
                }
                for (int h = 0; h < set.Count; h++)
                    path[h] = next[h] - least;
                if (step == 0)
                {
                    path[..set.Count].CopyTo(message);
                    return;
                }
            }
            started = true;
            gap = 0;
            (previousScan, previousBeam) = (s, b);
        }
    }
}
