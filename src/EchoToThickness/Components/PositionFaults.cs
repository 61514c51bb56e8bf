using System.Globalization;
using EchoToThickness.Pairing;

namespace EchoToThickness.Components;

/// <summary>Finds faults of positions from the lines themselves and from their overlaps, and corrects them on request.</summary>
/// <remarks>
/// A fault seen in one overlap may lie in either line; the line whose fault explains the most overlaps and is contradicted by none is named. With a
/// single overlap nobody can tell, and the fault says so.
/// </remarks>
public static class PositionFaults
{
    /// <summary>Looks for faults.</summary>
    /// <param name="surface">The component.</param>
    /// <param name="lines">The lines.</param>
    /// <param name="largestShiftMetres">Largest shift looked for, either way.</param>
    public static PositionReport Find(
        ComponentSurface surface,
        IReadOnlyList<LineCells> lines,
        double largestShiftMetres = 0.015
    )
    {
        ArgumentNullException.ThrowIfNull(surface);
        ArgumentNullException.ThrowIfNull(lines);
        LineGeometry[] places = [.. lines.Select(line => new LineGeometry(surface, line))];
        var faults = new List<PositionFault>();
        var aside = new HashSet<int>();
        for (int line = 0; line < lines.Count; line++)
            Dropped(lines, line, faults);
        for (int second = 1; second < lines.Count; second++)
        for (int first = 0; first < second; first++)
            if (!aside.Contains(first) && Duplicate(lines, first, second) is { } fault)
            {
                faults.Add(fault);
                aside.Add(second);
                break;
            }
        var matches = new List<StripMatch>();
        var untold = new List<string>();
        (int First, int Second)[] pairs =
        [
            .. Enumerable
                .Range(0, lines.Count)
                .SelectMany(second => Enumerable.Range(0, second).Select(first => (first, second)))
                .Where(pair => !aside.Contains(pair.first) && !aside.Contains(pair.second)),
        ];
        var found = new (StripMatch? Match, PositionFault? Reversed)[pairs.Length];
        Parallel.For(
            0,
            pairs.Length,
            k =>
            {
                (int first, int second) = pairs[k];
                if (StripRegistration.Match(lines, places, first, second, largestShiftMetres) is { } match)
                    found[k] = (match, Reversed(lines, places, match, largestShiftMetres));
            }
        );
        foreach ((StripMatch? match, PositionFault? reversed) in found)
        {
            if (match is null)
                continue;
            if (reversed is not null)
            {
                faults.Add(reversed);
                continue;
            }
            matches.Add(match);
            if (!match.CanTell)
                untold.Add(
                    $"'{lines[match.First].Name}' and '{lines[match.Second].Name}': the wall in their overlap of {match.Columns} beams is too even to show a shift."
                );
        }
        var events = matches.Where(m => m.CanTell).SelectMany(m => ShiftEvents.Of(m, places[m.Second])).ToList();
        faults.AddRange(ShiftEvents.Attribute(events, matches, lines, places));
        return new PositionReport(
            matches,
            [.. faults.OrderBy(f => f.Line).ThenBy(f => f.Kind).ThenBy(f => f.FirstScan)],
            untold
        );
    }

    /// <summary>Lines with the attributed shifts of a report put right; a duplicate line is left where it is written.</summary>
    /// <param name="lines">The lines.</param>
    /// <param name="report">The report.</param>
    /// <returns>Corrected lines, and for every fault in words what was done, or why nothing was.</returns>
    public static (IReadOnlyList<LineCells> Lines, IReadOnlyList<string> Log) Correct(
        IReadOnlyList<LineCells> lines,
        PositionReport report
    )
    {
        ArgumentNullException.ThrowIfNull(lines);
        ArgumentNullException.ThrowIfNull(report);
        LineCells[] corrected = [.. lines];
        var log = new List<string>();
        foreach (PositionFault fault in report.Faults)
        {
            LineCells line = corrected[fault.Line];
            // Nothing to put right: the coverage shows them.
            if (fault.Kind == PositionFaultKind.DroppedPositions)
                continue;
            if (!fault.IsAttributed)
            {
                log.Add("not corrected, the overlap cannot tell which line is at fault: " + fault.Words);
                continue;
            }
            if (fault.Kind == PositionFaultKind.IndexStep)
            {
                corrected[fault.Line] = line with { IndexShiftMetres = line.IndexShiftMetres + fault.SizeMetres };
            }
            else if (
                fault.Kind
                is PositionFaultKind.EncoderOffset
                    or PositionFaultKind.EncoderSlip
                    or PositionFaultKind.EncoderSpin
                    or PositionFaultKind.EncoderDrift
            )
            {
                double[] shift = line.ScanShiftMetres.Length > 0 ? [.. line.ScanShiftMetres] : new double[line.Scans];
                IReadOnlyList<double> track = line.ScanPositionsMetres;
                for (int k = fault.FirstScan; k < line.Scans; k++)
                    shift[k] +=
                        fault.Kind == PositionFaultKind.EncoderDrift
                            ? fault.SizeMetres * (track[k] - track[0]) / (track[^1] - track[0])
                            : fault.SizeMetres;
                corrected[fault.Line] = line with { ScanShiftMetres = shift };
            }
            else
            {
                log.Add("not corrected, it needs a new scan of the line or a look at it: " + fault.Words);
                continue;
            }
            log.Add("corrected: " + fault.Words);
        }
        return (corrected, log);
    }

    private static void Dropped(IReadOnlyList<LineCells> lines, int number, List<PositionFault> faults)
    {
        LineCells line = lines[number];
        int run = 0;
        for (int scan = 0; scan <= line.Scans; scan++)
        {
            bool missing =
                scan < line.Scans
                && line.Status.AsSpan(scan * line.Beams, line.Beams).IndexOfAnyExcept(CellStatus.NotScanned) < 0;
            if (missing)
            {
                run++;
                continue;
            }
            if (run > 0)
                faults.Add(
                    new PositionFault
                    {
                        Kind = PositionFaultKind.DroppedPositions,
                        Line = number,
                        FirstScan = scan - run,
                        Scans = run,
                        Words = string.Create(
                            CultureInfo.InvariantCulture,
                            $"line '{line.Name}': {run} scan positions from {scan - run} on hold no A-scan"
                        ),
                    }
                );
            run = 0;
        }
    }

    private static PositionFault? Duplicate(IReadOnlyList<LineCells> lines, int first, int second)
    {
        (LineCells a, LineCells b) = (lines[first], lines[second]);
        if (a.Beams != b.Beams)
            return null;
        // Lines over different metal share the slow thinning of a bend and steps across both; the mixed difference takes out whatever depends on one axis
        // alone, and what is left agrees only where the metal is the same.
        const int lag = 4;
        double products = 0,
            squares = 0,
            otherSquares = 0;
        int count = 0;
        for (int scan = 0; scan + lag < Math.Min(a.Scans, b.Scans); scan++)
        for (int beam = 0; beam + lag < a.Beams; beam++)
        {
            double x = Mixed(a, scan, beam, lag);
            double y = Mixed(b, scan, beam, lag);
            if (double.IsNaN(x + y))
                continue;
            products += x * y;
            squares += x * x;
            otherSquares += y * y;
            count++;
        }
        double correlation = products / Math.Max(1e-30, Math.Sqrt(squares * otherSquares));
        // Independent metal and noise correlate by 1/sqrt(count); half is far above that.
        if (count < 400 || !(correlation > 0.5))
            return null;
        return new PositionFault
        {
            Kind = PositionFaultKind.DuplicateLine,
            Line = second,
            Against = first,
            Words = string.Create(
                CultureInfo.InvariantCulture,
                $"line '{b.Name}' repeats line '{a.Name}' (fine structure correlates by {correlation:0.00}): its written place was not scanned"
            ),
        };
    }

    private static double Mixed(LineCells line, int scan, int beam, int lag)
    {
        int cell = scan * line.Beams + beam;
        int below = cell + lag * line.Beams;
        return
            line.IsMeasured(cell)
            && line.IsMeasured(cell + lag)
            && line.IsMeasured(below)
            && line.IsMeasured(below + lag)
            ? (double)line.ThicknessMetres[cell]
                - line.ThicknessMetres[cell + lag]
                - line.ThicknessMetres[below]
                + line.ThicknessMetres[below + lag]
            : double.NaN;
    }

    private static PositionFault? Reversed(
        IReadOnlyList<LineCells> lines,
        LineGeometry[] places,
        StripMatch match,
        double largestShiftMetres
    )
    {
        StripMatch? mirrored = StripRegistration.Match(
            lines,
            places,
            match.First,
            match.Second,
            largestShiftMetres,
            reversed: true
        );
        if (mirrored is not { Contrast: > 1.5 } || !(mirrored.ResidualMetres < 0.5 * match.ResidualMetres))
            return null;
        return new PositionFault
        {
            Kind = PositionFaultKind.ReversedLine,
            Line = match.Second,
            Against = match.First,
            IsAttributed = false,
            Words = string.Create(
                CultureInfo.InvariantCulture,
                $"line '{lines[match.Second].Name}' or '{lines[match.First].Name}' was scanned against its written direction: mirrored they agree to {mirrored.ResidualMetres * 1e3:0.000} mm, as written to {match.ResidualMetres * 1e3:0.000} mm"
            ),
        };
    }
}
