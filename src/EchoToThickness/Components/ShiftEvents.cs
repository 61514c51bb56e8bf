using System.Globalization;

namespace EchoToThickness.Components;

/// <summary>Changes of shift along overlaps, and the lines that explain them.</summary>
internal static class ShiftEvents
{
    /// <summary>
    /// A change in the second line's shift, or across; <paramref name="Scan"/> of the second line, -1 across. Sizes along are metres of the centre line,
    /// so that lines of different radius can be compared; that of a drift is its ratio to the track, <paramref name="Resolution"/> what the overlap resolves
    /// of it.
    /// </summary>
    internal sealed record Event(
        StripMatch Match,
        PositionFaultKind Kind,
        int Scan,
        double SizeMetres,
        double PlaceMetres,
        double Resolution = 0
    );

    private const int MergeScans = 8;

    public static IEnumerable<Event> Of(StripMatch match, LineGeometry second)
    {
        if (match.IndexShiftMetres != 0)
            yield return new Event(match, PositionFaultKind.IndexStep, -1, match.IndexShiftMetres, double.NaN);
        if (!(match.Evidence > StripRegistration.JumpPenalty))
            yield break;
        IReadOnlyList<double> shift = match.ShiftMetres;
        double pitch = second.ScanPitchMetres;
        double Place(int scan) => PlaceOn(second, scan);
        if (match.DriftRatio != 0)
        {
            double length = Math.Abs((shift[^1] - shift[0]) / match.DriftRatio);
            yield return new Event(
                match,
                PositionFaultKind.EncoderDrift,
                0,
                match.DriftRatio,
                double.NaN,
                pitch / Math.Max(pitch, length)
            );
            // One step at the start is within what the slope can take up.
            if (Math.Abs(shift[0]) > 1.5 * pitch)
                yield return new Event(
                    match,
                    PositionFaultKind.EncoderOffset,
                    0,
                    shift[0] / second.TrackStretch,
                    Place(0)
                );
            yield break;
        }
        if (Math.Abs(shift[0]) > pitch / 2)
            yield return new Event(match, PositionFaultKind.EncoderOffset, 0, shift[0] / second.TrackStretch, Place(0));
        for (int k = 1; k < shift.Count; k++)
        {
            if (shift[k] == shift[k - 1])
                continue;
            int first = k;
            int sign = Math.Sign(shift[k] - shift[k - 1]);
            int last = k;
            // Changes of one sign close to each other are one event.
            while (last + 1 < shift.Count && last + 1 - k <= MergeScans)
            {
                last++;
                int turn = Math.Sign(shift[last] - shift[last - 1]);
                if (turn == sign)
                    k = last;
                else if (turn == -sign)
                    break;
            }
            double size = shift[k] - shift[first - 1];
            if (Math.Abs(size) < pitch / 2)
                continue;
            yield return new Event(
                match,
                size > 0 ? PositionFaultKind.EncoderSlip : PositionFaultKind.EncoderSpin,
                first,
                size / second.TrackStretch,
                Place(first)
            );
        }
    }

    public static List<PositionFault> Attribute(
        List<Event> events,
        List<StripMatch> matches,
        IReadOnlyList<LineCells> lines,
        LineGeometry[] places
    )
    {
        var faults = new List<PositionFault>();
        // Beside a greater change of the same overlap, a change of one step is within what the overlap can resolve.
        var open = events.FindAll(e =>
            e.Kind is PositionFaultKind.IndexStep or PositionFaultKind.EncoderOffset or PositionFaultKind.EncoderDrift
            || Math.Abs(e.SizeMetres) > 1.5 * Step(e, places)
            || !events.Exists(o => o.Match == e.Match && Math.Abs(o.SizeMetres) > Math.Abs(e.SizeMetres) * 1.01)
        );
        while (open.Count > 0)
        {
            (int Line, double Size, List<Event> Explained, int Against) best = (-1, 0, [], 0);
            bool tie = false;
            foreach (Event e in open)
            foreach (
                (int line, double size) in ((int, double)[])
                    [(e.Match.Second, e.SizeMetres), (e.Match.First, -e.SizeMetres)]
            )
            {
                List<Event> explained = [.. open.Where(o => Explains(o, e, line, size, places))];
                HashSet<StripMatch> seen = [.. explained.Select(o => o.Match)];
                int against = matches.Count(m =>
                    (m.First == line || m.Second == line)
                    && m.CanTell
                    && !seen.Contains(m)
                    && Math.Abs(size) > 1.5 * Step(e, places)
                );
                int score = explained.Count - against;
                int bestScore = best.Explained.Count - best.Against;
                if (best.Line < 0 || score > bestScore)
                    (best, tie) = ((line, size, explained, against), false);
                else if (score == bestScore && line != best.Line && best.Explained.Contains(e))
                    tie = true;
            }
            faults.Add(Fault(best.Line, best.Size, best.Explained[0], tie, lines, places));
            open.RemoveAll(best.Explained.Contains);
            open.RemoveAll(e =>
                (e.Match.First == best.Line || e.Match.Second == best.Line)
                && (e.Kind is PositionFaultKind.EncoderSlip or PositionFaultKind.EncoderSpin)
                && Math.Abs(e.SizeMetres) <= 1.5 * Step(e, places)
            );
        }
        return faults;
    }

    private static double Step(Event e, LineGeometry[] places) =>
        e.Kind == PositionFaultKind.EncoderDrift ? e.Resolution
        : e.Kind == PositionFaultKind.IndexStep ? places[e.Match.Second].BeamPitchMetres
        : places[e.Match.Second].ScanPitchMetres / places[e.Match.Second].TrackStretch;

    /// <summary>Whether the array stood still (spin) or went back: which rows of the line itself repeat.</summary>
    private static PositionFaultKind Behind(LineCells line, int scan, int steps)
    {
        double still = double.PositiveInfinity;
        double mirrored = double.PositiveInfinity;
        for (int first = Math.Max(1, scan - 4); first <= scan + 4; first++)
        {
            still = Math.Min(still, Rows(line, steps, i => (first - 1 + i, first - 1)));
            mirrored = Math.Min(mirrored, Rows(line, steps / 2, i => (first - 1 + i, first - 1 - i)));
        }
        // Inside a standstill any turning point fits as well: a reversal must fit clearly better.
        return 2 * mirrored < still ? PositionFaultKind.Reversal : PositionFaultKind.EncoderSpin;
    }

    private static double Rows(LineCells line, int count, Func<int, (int, int)> pair)
    {
        double sum = 0;
        int used = 0;
        for (int i = 1; i <= count; i++)
        {
            (int one, int other) = pair(i);
            if (one >= line.Scans || other < 0)
                return double.PositiveInfinity;
            for (int beam = 0; beam < line.Beams; beam++)
            {
                int a = one * line.Beams + beam;
                int b = other * line.Beams + beam;
                if (!line.IsMeasured(a) || !line.IsMeasured(b))
                    continue;
                double d = (double)line.ThicknessMetres[a] - line.ThicknessMetres[b];
                sum += d * d;
                used++;
            }
        }
        return used == 0 ? double.PositiveInfinity : sum / used;
    }

    private static bool Explains(Event other, Event e, int line, double size, LineGeometry[] places)
    {
        double seen =
            other.Match.Second == line ? other.SizeMetres
            : other.Match.First == line ? -other.SizeMetres
            : double.NaN;
        bool across = e.Kind == PositionFaultKind.IndexStep;
        bool drift = e.Kind == PositionFaultKind.EncoderDrift;
        if (across != (other.Kind == PositionFaultKind.IndexStep) || !(seen * size > 0))
            return false;
        // A drift of few steps may show in another overlap as one slip in its middle.
        if (drift && other.Kind is PositionFaultKind.EncoderSlip or PositionFaultKind.EncoderSpin)
            return Math.Abs(seen) * places[line].TrackStretch
                <= Math.Abs(size) * places[line].TrackMetres + 1.5 * places[line].ScanPitchMetres;
        if (drift != (other.Kind == PositionFaultKind.EncoderDrift))
            return false;
        double pitch = Step(other, places);
        // Each overlap tells a size to one step of its own line.
        if (Math.Abs(seen - size) > Math.Max(2.1 * pitch, 0.25 * Math.Abs(size)))
            return false;
        return across
            || drift
            || (e.Kind == PositionFaultKind.EncoderOffset) == (other.Kind == PositionFaultKind.EncoderOffset)
                && Math.Abs(e.PlaceMetres - other.PlaceMetres) <= 8 * pitch + Math.Abs(size);
    }

    private static PositionFault Fault(
        int line,
        double size,
        Event e,
        bool tie,
        IReadOnlyList<LineCells> lines,
        LineGeometry[] places
    )
    {
        int other = e.Match.First == line ? e.Match.Second : e.Match.First;
        PositionFaultKind kind = e.Kind;
        if (line == e.Match.First && kind is PositionFaultKind.EncoderSlip or PositionFaultKind.EncoderSpin)
            kind = size > 0 ? PositionFaultKind.EncoderSlip : PositionFaultKind.EncoderSpin;
        int scan = e.Scan;
        IReadOnlyList<double> track = lines[line].ScanPositionsMetres;
        double own =
            kind == PositionFaultKind.IndexStep ? size
            : kind == PositionFaultKind.EncoderDrift ? size * (track[^1] - track[0])
            : size * places[line].TrackStretch;
        if (line == e.Match.First && scan > 0)
            scan = ScanAt(places[line], lines[line].Scans, e.PlaceMetres);
        if (kind == PositionFaultKind.EncoderSpin)
            kind = Behind(lines[line], scan, (int)Math.Round(-own / places[line].ScanPitchMetres));
        string at = string.Create(
            CultureInfo.InvariantCulture,
            $"scan position {scan} ({track[Math.Clamp(scan, 0, track.Count - 1)] * 1e3:0.0} mm on its encoder)"
        );
        string what = kind switch
        {
            PositionFaultKind.IndexStep => "lies beside its written index",
            PositionFaultKind.EncoderOffset => "lies along beside its written positions",
            PositionFaultKind.EncoderSlip => $"is further than written from {at} on (the encoder slipped)",
            PositionFaultKind.EncoderSpin => $"is less far than written from {at} on (the encoder spun)",
            PositionFaultKind.EncoderDrift => string.Create(
                CultureInfo.InvariantCulture,
                $"drifts by {size * 100:+0.0;-0.0} % of the written length (a wheel of another size than calibrated?), over the whole line"
            ),
            _ => $"went back at {at} and forward again",
        };
        string name = tie ? $"line '{lines[line].Name}' or line '{lines[other].Name}'" : $"line '{lines[line].Name}'";
        return new PositionFault
        {
            Kind = kind,
            Line = line,
            Against = other,
            FirstScan = Math.Max(0, scan),
            SizeMetres = own,
            Evidence = kind == PositionFaultKind.IndexStep ? e.Match.IndexEvidence : e.Match.Evidence,
            IsAttributed = !tie,
            Words = string.Create(
                CultureInfo.InvariantCulture,
                $"{name} {what}: {own * 1e3:+0.0;-0.0} mm (+-{(kind == PositionFaultKind.IndexStep ? places[line].BeamPitchMetres : places[line].ScanPitchMetres) * 1e3:0.0} mm)"
            ),
        };
    }

    private static double PlaceOn(LineGeometry geometry, int scan)
    {
        SurfacePlace place = geometry.PlaceOf(scan, 0);
        return geometry.Direction == Stacks.LineDirection.Along ? place.AlongMetres : place.AroundMetres;
    }

    private static int ScanAt(LineGeometry geometry, int scans, double placeMetres)
    {
        int best = 0;
        for (int k = 1; k < scans; k++)
            if (Math.Abs(PlaceOn(geometry, k) - placeMetres) < Math.Abs(PlaceOn(geometry, best) - placeMetres))
                best = k;
        return best;
    }
}
