using EchoToThickness.Evidence;
using EchoToThickness.Procedures;
using EchoToThickness.Stacks;

namespace EchoToThickness.Pairing;

/// <summary>
/// Belief propagation: neighbours along each axis pass each other what they think of each other's hypotheses, as often as
/// <see cref="MapSettings.ReachCells"/>; the largest product of own evidence and all messages wins. After so many rounds a cell has heard
/// from that many cells away and no further, so that its choice does not depend on where a strip begins or ends.
/// </summary>
/// <remarks>
/// Sum-product on a loopy graph: Pearl 1988, Probabilistic Reasoning in Intelligent Systems, chapter 4; Felzenszwalb and Huttenlocher 2006,
/// Efficient Belief Propagation for Early Vision, International Journal of Computer Vision 70(1). All messages of a round are computed from
/// those of the round before.
/// </remarks>
internal sealed class BeliefChoice
{
    private const int Directions = 4;
    private static readonly (int Scan, int Beam)[] Steps = [(-1, 0), (1, 0), (0, -1), (0, 1)];

    private float[] _now = [];
    private float[] _next = [];

    public void Run(MapStrip strip, int firstScan, int scanCount, NeighbourAxes neighbours, in MapCosts costs)
    {
        int size = strip.ScanCount * strip.Beams * Directions * HypothesisSet.Most;
        if (_now.Length < size)
        {
            _now = new float[size];
            _next = new float[size];
        }
        Array.Fill(_now, 1f, 0, size);
        for (int round = 0; round < MapSettings.ReachCells; round++)
        {
            for (int scan = strip.FirstScan; scan < strip.FirstScan + strip.ScanCount; scan++)
            {
                for (int beam = 0; beam < strip.Beams; beam++)
                {
                    for (int direction = 0; direction < Directions; direction++)
                        Receive(strip, scan, beam, direction, neighbours, costs);
                }
            }
            (_now, _next) = (_next, _now);
        }
        Decide(strip, firstScan, scanCount, costs);
    }

    /// <summary>What the neighbour in one direction thinks of each hypothesis of a cell, the largest 1.</summary>
    private void Receive(MapStrip strip, int scan, int beam, int direction, NeighbourAxes neighbours, in MapCosts costs)
    {
        Span<float> message = _next.AsSpan(At(strip, scan, beam, direction), HypothesisSet.Most);
        message.Fill(1);
        (int ds, int db) = Steps[direction];
        bool related = neighbours.HasFlag(ds != 0 ? NeighbourAxes.Scan : NeighbourAxes.Beam);
        if (!related || !strip.Contains(scan + ds, beam + db))
            return;
        ref readonly HypothesisSet set = ref strip.Hypotheses(scan, beam);
        ref readonly HypothesisSet from = ref strip.Hypotheses(scan + ds, beam + db);
        if (set.Count == 0 || from.Count == 0)
            return;
        Span<float> belief = stackalloc float[HypothesisSet.Most];
        for (int k = 0; k < from.Count; k++)
            belief[k] = MathF.Exp(-costs.Own(from, k));
        for (int other = 0; other < Directions; other++)
        {
            // Everything the neighbour heard, except from this cell: its opposite direction.
            if (other == (direction ^ 1))
                continue;
            ReadOnlySpan<float> heard = _now.AsSpan(At(strip, scan + ds, beam + db, other), HypothesisSet.Most);
            for (int k = 0; k < from.Count; k++)
                belief[k] *= heard[k];
        }
        float largest = 0;
        for (int h = 0; h < set.Count; h++)
        {
            float sum = 0;
            for (int k = 0; k < from.Count; k++)
                sum += belief[k] * MathF.Exp(-costs.Change(set[h].ThicknessMetres, from[k].ThicknessMetres, 1));
            message[h] = sum;
            largest = Math.Max(largest, sum);
        }
        for (int h = 0; h < set.Count; h++)
            message[h] = Math.Max(message[h] / largest, 1e-12f);
    }

    private void Decide(MapStrip strip, int firstScan, int scanCount, in MapCosts costs)
    {
        Span<float> total = stackalloc float[HypothesisSet.Most];
        for (int scan = firstScan; scan < firstScan + scanCount; scan++)
        {
            for (int beam = 0; beam < strip.Beams; beam++)
            {
                ref readonly HypothesisSet set = ref strip.Hypotheses(scan, beam);
                if (set.Count == 0)
                    continue;
                for (int h = 0; h < set.Count; h++)
                {
                    total[h] = set[0].LogLikelihood - set[h].LogLikelihood;
                    for (int direction = 0; direction < Directions; direction++)
                        total[h] -= MathF.Log(_now[At(strip, scan, beam, direction) + h]);
                }
                int best = costs.Best(set, total[..set.Count]);
                strip.Choose(scan, beam, best, total[..set.Count]);
            }
        }
    }

    private static int At(MapStrip strip, int scan, int beam, int direction) =>
        (((scan - strip.FirstScan) * strip.Beams + beam) * Directions + direction) * HypothesisSet.Most;
}
