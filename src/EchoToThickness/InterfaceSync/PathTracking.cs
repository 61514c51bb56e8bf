using EchoToThickness.Evidence;
using EchoToThickness.Stacks;

namespace EchoToThickness.InterfaceSync;

/// <summary>The most likely path through the candidates, first along beams, then along scans, and times for the cells it leaves out.</summary>
internal static class PathTracking
{
    // Scores: 6 dB over the level are 1, the A-scan's own choice 1 more (InterfaceFinder). The penalties below are in the same
    // unit. A stray echo pays the jump twice (6) and gains at most 2 against a gap (2.5), so it is left out; a true step pays it once.
    private const double JumpPenalty = 3;
    private const double GapPenalty = 2.5;
    private const double EarlierChoiceBonus = 1.5;
    private const int LongestGap = 8;
    private const int Width = InterfaceStrip.CandidatesPerCell;
    private const sbyte None = -1;

    public static void Run(InterfaceStrip strip, NeighbourAxes neighbours, double maxJumpSeconds)
    {
        int scans = strip.ScanCount;
        int beams = strip.Beams;
        bool alongBeams = neighbours.HasFlag(NeighbourAxes.Beam);
        bool alongScans = neighbours.HasFlag(NeighbourAxes.Scan);
        var choice = new sbyte[scans * beams];
        Array.Fill(choice, None);
        if (alongBeams)
        {
            var line = new Line(strip, beams, maxJumpSeconds);
            for (int scan = 0; scan < scans; scan++)
                line.Solve(scan, 0, 0, 1, choice.AsSpan(scan * beams), 1, 0);
        }
        if (alongScans)
        {
            var line = new Line(strip, scans, maxJumpSeconds);
            for (int beam = 0; beam < beams; beam++)
                line.Solve(0, beam, 1, 0, choice.AsSpan(beam), beams, alongBeams ? EarlierChoiceBonus : 0);
        }
        if (!alongBeams && !alongScans)
        {
            // Unrelated cells: each its own echo over the level.
            for (int cell = 0; cell < choice.Length; cell++)
            {
                ReadOnlySpan<InterfaceCandidate> own = Candidates(strip, cell);
                choice[cell] = own.Length > 0 && own[0].Score >= 0 ? (sbyte)0 : None;
            }
        }
        Write(strip, choice, alongBeams, alongScans, maxJumpSeconds);
    }

    private static ReadOnlySpan<InterfaceCandidate> Candidates(InterfaceStrip strip, int cell) =>
        strip.Candidates(strip.FirstScan + cell / strip.Beams, cell % strip.Beams);

    private static void Write(
        InterfaceStrip strip,
        ReadOnlySpan<sbyte> choice,
        bool alongBeams,
        bool alongScans,
        double maxJumpSeconds
    )
    {
        int beams = strip.Beams;
        for (int cell = 0; cell < choice.Length; cell++)
        {
            int scan = cell / beams;
            int beam = cell % beams;
            if (choice[cell] != None)
            {
                InterfaceCandidate chosen = Candidates(strip, cell)[choice[cell]];
                strip.Choose(strip.FirstScan + scan, beam, chosen.Seconds, choice[cell] != 0 || chosen.Score < 0);
                continue;
            }
            (double Seconds, int Distance) byBeam = (double.NaN, int.MaxValue);
            (double Seconds, int Distance) byScan = (double.NaN, int.MaxValue);
            if (alongBeams)
                byBeam = Supply(strip, choice, cell, 1, beam, beams - 1 - beam, maxJumpSeconds);
            if (alongScans)
                byScan = Supply(strip, choice, cell, beams, scan, strip.ScanCount - 1 - scan, maxJumpSeconds);
            double seconds;
            if (double.IsNaN(byBeam.Seconds) || double.IsNaN(byScan.Seconds))
                seconds = double.IsNaN(byBeam.Seconds) ? byScan.Seconds : byBeam.Seconds;
            else if (Math.Abs(byBeam.Seconds - byScan.Seconds) <= maxJumpSeconds)
                seconds = 0.5 * (byBeam.Seconds + byScan.Seconds);
            else
                seconds = byBeam.Distance <= byScan.Distance ? byBeam.Seconds : byScan.Seconds;
            strip.Choose(strip.FirstScan + scan, beam, (float)seconds, !double.IsNaN(seconds));
        }
    }

    // Time for a cell without a choice, between the nearest chosen cells on either side of it along one line.
    private static (double Seconds, int Distance) Supply(
        InterfaceStrip strip,
        ReadOnlySpan<sbyte> choice,
        int cell,
        int stride,
        int before,
        int after,
        double maxJumpSeconds
    )
    {
        int left = 1;
        while (left <= before && choice[cell - left * stride] == None)
            left++;
        int right = 1;
        while (right <= after && choice[cell + right * stride] == None)
            right++;
        bool hasLeft = left <= before;
        bool hasRight = right <= after;
        if (!hasLeft && !hasRight)
            return (double.NaN, int.MaxValue);
        double leftSeconds = hasLeft
            ? Candidates(strip, cell - left * stride)[choice[cell - left * stride]].Seconds
            : double.NaN;
        double rightSeconds = hasRight
            ? Candidates(strip, cell + right * stride)[choice[cell + right * stride]].Seconds
            : double.NaN;
        if (!hasRight)
            return (Extrapolate(strip, choice, cell, -stride, left, before, maxJumpSeconds), left);
        if (!hasLeft)
            return (Extrapolate(strip, choice, cell, stride, right, after, maxJumpSeconds), right);
        int distance = Math.Min(left, right);
        if (Math.Abs(rightSeconds - leftSeconds) <= (left + right) * maxJumpSeconds)
            return ((leftSeconds * right + rightSeconds * left) / (left + right), distance);
        return (left <= right ? leftSeconds : rightSeconds, distance);
    }

    // Time beyond the last chosen cell of a line: along the slope of the last two, where they keep the slope limit; else the last.
    private static double Extrapolate(
        InterfaceStrip strip,
        ReadOnlySpan<sbyte> choice,
        int cell,
        int stride,
        int near,
        int room,
        double maxJumpSeconds
    )
    {
        double nearSeconds = Candidates(strip, cell + near * stride)[choice[cell + near * stride]].Seconds;
        int far = near + 1;
        while (far <= room && choice[cell + far * stride] == None)
            far++;
        if (near > LongestGap || far > room)
            return nearSeconds;
        double farSeconds = Candidates(strip, cell + far * stride)[choice[cell + far * stride]].Seconds;
        double slope = (nearSeconds - farSeconds) / (far - near);
        return Math.Abs(slope) <= maxJumpSeconds ? nearSeconds + slope * near : nearSeconds;
    }

    /// <summary>One line of neighbours; scratch is reused from line to line.</summary>
    private sealed class Line(InterfaceStrip strip, int length, double maxJumpSeconds)
    {
        private readonly double[] _best = new double[length * Width];
        private readonly int[] _from = new int[length * Width];

        // Largest sum over a path of: score of each chosen candidate, minus GapPenalty for each cell left out, minus the jump
        // penalty between consecutive chosen cells. best[i, j]: the best sum of a path that ends with candidate j of cell i.
        public void Solve(
            int scan,
            int beam,
            int scanStep,
            int beamStep,
            Span<sbyte> choice,
            int choiceStride,
            double earlierBonus
        )
        {
            int far = -1;
            double farValue = double.NegativeInfinity;
            for (int i = 0; i < length; i++)
            {
                Advance(i - LongestGap - 2, ref far, ref farValue, scan, beam, scanStep, beamStep);
                ReadOnlySpan<InterfaceCandidate> here = At(scan, beam, scanStep, beamStep, i);
                for (int j = 0; j < here.Length; j++)
                {
                    double bonus = choice[i * choiceStride] == j ? earlierBonus : 0;
                    double value = -GapPenalty * i;
                    int from = -1;
                    if (far >= 0)
                    {
                        // farValue holds best + GapPenalty * (cell + 1), so that all far cells compare alike.
                        double jump = farValue - GapPenalty * i - JumpPenalty;
                        if (jump > value)
                            (value, from) = (jump, far);
                    }
                    for (int p = Math.Max(i - LongestGap - 1, 0); p < i; p++)
                    {
                        ReadOnlySpan<InterfaceCandidate> past = At(scan, beam, scanStep, beamStep, p);
                        for (int k = 0; k < past.Length; k++)
                        {
                            double step =
                                _best[p * Width + k]
                                - GapPenalty * (i - p - 1)
                                - Jump(here[j].Seconds - past[k].Seconds, i - p);
                            if (step > value)
                                (value, from) = (step, p * Width + k);
                        }
                    }
                    _best[i * Width + j] = value + here[j].Score + bonus;
                    _from[i * Width + j] = from;
                }
            }
            Trace(scan, beam, scanStep, beamStep, choice, choiceStride);
        }

        private void Trace(int scan, int beam, int scanStep, int beamStep, Span<sbyte> choice, int choiceStride)
        {
            double value = -GapPenalty * length;
            int state = -1;
            for (int i = 0; i < length; i++)
            {
                int count = At(scan, beam, scanStep, beamStep, i).Length;
                for (int j = 0; j < count; j++)
                {
                    double end = _best[i * Width + j] - GapPenalty * (length - 1 - i);
                    if (end > value)
                        (value, state) = (end, i * Width + j);
                }
            }
            for (int i = 0; i < length; i++)
                choice[i * choiceStride] = None;
            for (; state >= 0; state = _from[state])
                choice[state / Width * choiceStride] = (sbyte)(state % Width);
        }

        private void Advance(int cell, ref int far, ref double farValue, int scan, int beam, int scanStep, int beamStep)
        {
            if (cell < 0)
                return;
            int count = At(scan, beam, scanStep, beamStep, cell).Length;
            for (int j = 0; j < count; j++)
            {
                double value = _best[cell * Width + j] + GapPenalty * (cell + 1);
                if (value > farValue)
                    (farValue, far) = (value, cell * Width + j);
            }
        }

        private double Jump(double seconds, int cells)
        {
            double limit = cells * maxJumpSeconds;
            double share = Math.Abs(seconds) / limit;
            return share < 1 ? JumpPenalty * share * share
                : seconds == 0 ? 0
                : JumpPenalty;
        }

        private ReadOnlySpan<InterfaceCandidate> At(int scan, int beam, int scanStep, int beamStep, int i) =>
            strip.Candidates(strip.FirstScan + scan + i * scanStep, beam + i * beamStep);
    }
}
