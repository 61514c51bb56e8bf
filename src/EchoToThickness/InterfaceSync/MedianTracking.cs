using EchoToThickness.Evidence;
using EchoToThickness.Stacks;

namespace EchoToThickness.InterfaceSync;

/// <summary>Rejects picks far from the median of their neighbours.</summary>
internal static class MedianTracking
{
    private const int Reach = 2;
    private const int FewestNeighbours = 3;

    // At this score an echo is no better than noise; a cell left out costs as much in PathTracking.
    private const float WorstScore = -2.5f;

    public static void Run(InterfaceStrip strip, NeighbourAxes neighbours, double maxJumpSeconds)
    {
        int reachScans = neighbours.HasFlag(NeighbourAxes.Scan) ? Reach : 0;
        int reachBeams = neighbours.HasFlag(NeighbourAxes.Beam) ? Reach : 0;
        Span<float> picks = stackalloc float[(2 * Reach + 1) * (2 * Reach + 1)];
        int endScan = strip.FirstScan + strip.ScanCount;
        for (int scan = strip.FirstScan; scan < endScan; scan++)
        {
            for (int beam = 0; beam < strip.Beams; beam++)
            {
                int count = 0;
                for (
                    int s = Math.Max(scan - reachScans, strip.FirstScan);
                    s <= Math.Min(scan + reachScans, endScan - 1);
                    s++
                )
                {
                    for (int b = Math.Max(beam - reachBeams, 0); b <= Math.Min(beam + reachBeams, strip.Beams - 1); b++)
                    {
                        ReadOnlySpan<InterfaceCandidate> near = strip.Candidates(s, b);
                        if ((s != scan || b != beam) && near.Length > 0 && near[0].Score >= 0)
                            picks[count++] = near[0].Seconds;
                    }
                }
                ReadOnlySpan<InterfaceCandidate> own = strip.Candidates(scan, beam);
                bool weak = own.Length > 0 && own[0].Score < 0;
                if (count < FewestNeighbours)
                {
                    // Nobody to confirm an echo under the level: it does not count.
                    strip.Choose(scan, beam, own.Length > 0 && !weak ? own[0].Seconds : float.NaN, false);
                    continue;
                }
                picks[..count].Sort();
                float median = Median(picks[..count], own);
                if (own.Length == 0 || (weak && !AnyWithin(own, median, maxJumpSeconds)))
                {
                    strip.Choose(scan, beam, median, true);
                    continue;
                }
                int best = 0;
                if (Math.Abs(own[0].Seconds - median) > maxJumpSeconds)
                {
                    for (int i = 1; i < own.Length; i++)
                    {
                        if (Math.Abs(own[i].Seconds - median) < Math.Abs(own[best].Seconds - median))
                            best = i;
                    }
                }
                strip.Choose(scan, beam, own[best].Seconds, best != 0 || own[best].Score < 0);
            }
        }
    }

    private static bool AnyWithin(ReadOnlySpan<InterfaceCandidate> own, float seconds, double limitSeconds)
    {
        foreach (InterfaceCandidate candidate in own)
        {
            if (candidate.Score > WorstScore && Math.Abs(candidate.Seconds - seconds) <= limitSeconds)
                return true;
        }
        return false;
    }

    private static float Median(ReadOnlySpan<float> sorted, ReadOnlySpan<InterfaceCandidate> own)
    {
        float upper = sorted[sorted.Length / 2];
        if (sorted.Length % 2 == 1)
            return upper;
        float lower = sorted[sorted.Length / 2 - 1];
        if (own.Length == 0)
            return 0.5f * (lower + upper);
        return Math.Abs(own[0].Seconds - lower) <= Math.Abs(own[0].Seconds - upper) ? lower : upper;
    }
}
