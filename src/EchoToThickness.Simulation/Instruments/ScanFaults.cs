using EchoToThickness.Simulation.Scenes;

namespace EchoToThickness.Simulation.Instruments;

/// <summary>
/// What went wrong with positions: for every stored line and scan position, where the array really stood. Stored positions are always
/// those of the plan, because that is what the encoder wrote; the truth of a stored cell is the truth at its true place.
/// </summary>
/// <remarks>
/// <para>A scan position is stored at every count of the encoder. A fault changes how far the array really moves between two counts:</para>
/// <list type="bullet">
/// <item>encoder slip: once by <c>1 + m</c> steps; everything after it is <c>m</c> steps further than written;</item>
/// <item>encoder spin: <c>m</c> times by nothing, so that <c>m</c> scan positions repeat one place;</item>
/// <item>reversal: <c>m</c> times by -1, then forward over the same metal. The encoder knows no direction and counts both ways, so the
/// written positions rise (a stack refuses positions that turn back) and the map shows the metal three times, once mirrored;</item>
/// <item>dropped scans: as planned, but marked as not present.</item>
/// </list>
/// <para>The way of the array ends where the plan ends: stored positions whose true place lies beyond it are not present.
/// A duplicate line has the place of the line before it and fresh noise. A line with a missed index lies short of its written index by
/// the size; name every line that does.</para>
/// <para>Immutable; memory grows with the scan positions of the lines that have faults.</para>
/// </remarks>
public sealed class ScanFaults
{
    private readonly ScanLine[] _lines;
    private readonly ScanRow[]?[] _rows;
    private readonly int[] _scans;

    private ScanFaults(ScanLine[] lines, ScanRow[]?[] rows, int[] scans)
    {
        _lines = lines;
        _rows = rows;
        _scans = scans;
    }

    /// <summary>Works out the faults of a scene.</summary>
    /// <param name="scene">The scene.</param>
    /// <param name="scansOfLine">Scan positions of every line of the plan.</param>
    /// <exception cref="ArgumentException">There is no line.</exception>
    public static ScanFaults Compile(Scene scene, IReadOnlyList<int> scansOfLine)
    {
        ArgumentNullException.ThrowIfNull(scene);
        ArgumentNullException.ThrowIfNull(scansOfLine);
        if (scansOfLine.Count == 0)
            throw new ArgumentException("A scan needs at least one line.", nameof(scansOfLine));
        int[] scans = [.. scansOfLine];
        var lines = new ScanLine[scans.Length];
        var rows = new ScanRow[]?[scans.Length];
        for (int line = 0; line < lines.Length; line++)
        {
            PlantedFailure labels = PlantedFailure.None;
            double offset = 0;
            foreach (FaultEntry fault in Of(scene, FaultKind.MissedIndex, line))
                offset -= fault.SizeMetres;
            if (offset != 0)
                labels |= PlantedFailure.MissedIndex;
            int trueLine = line;
            if (line > 0 && Of(scene, FaultKind.DuplicateLine, line).Any())
            {
                trueLine = lines[line - 1].TrueLine;
                labels |= PlantedFailure.Duplicate;
            }
            lines[line] = new ScanLine(trueLine, offset, labels);
            rows[line] = Walk(scene, line, scans[line]);
        }
        return new ScanFaults(lines, rows, scans);
    }

    /// <summary>Where a stored line was.</summary>
    /// <param name="line">Stored line, counted from 0.</param>
    public ScanLine LineOf(int line) => _lines[line];

    /// <summary>Where a stored scan position was.</summary>
    /// <param name="line">Stored line, counted from 0.</param>
    /// <param name="scan">Stored scan position, counted from 0.</param>
    public ScanRow RowOf(int line, int scan)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(scan);
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual(scan, _scans[line]);
        return _rows[line] is { } rows ? rows[scan] : new ScanRow(scan, scan, true, PlantedFailure.None);
    }

    /// <summary>Whether a line has any fault along the scan.</summary>
    /// <param name="line">Stored line, counted from 0.</param>
    public bool HasFaults(int line) => _rows[line] is not null;

    private static IEnumerable<FaultEntry> Of(Scene scene, FaultKind kind, int line) =>
        scene.Faults.Where(f => f.Kind == kind && (f.Lines.Count == 0 || f.Lines.Contains(line + 1)));

    private static ScanRow[]? Walk(Scene scene, int line, int scans)
    {
        int[] moves = new int[scans];
        int[] counts = new int[scans];
        var labels = new PlantedFailure[scans];
        moves.AsSpan(1).Fill(1);
        counts.AsSpan(1).Fill(1);
        var dropped = new bool[scans];
        bool any = false;
        foreach (FaultEntry fault in scene.Faults)
        {
            if (fault.Lines.Count > 0 && !fault.Lines.Contains(line + 1))
                continue;
            // At least the second position: the first is where the array was set down.
            int first = Math.Max(1, (int)Math.Round(fault.AtFraction * (scans - 1)));
            int size = (int)Math.Min(scans, Math.Round(fault.SizeMetres / scene.Scan.PitchMetres));
            if (size < 1 || first >= scans)
                continue;
            Span<int> move = moves.AsSpan(first);
            switch (fault.Kind)
            {
                case FaultKind.EncoderSlip:
                    move[0] += size;
                    Mark(labels, first, scans, PlantedFailure.EncoderSlip);
                    break;
                case FaultKind.EncoderSpin:
                    move[..Math.Min(size, move.Length)].Clear();
                    Mark(labels, first, first + size, PlantedFailure.Duplicate);
                    Mark(labels, first, scans, PlantedFailure.EncoderSlip);
                    break;
                case FaultKind.Reversal:
                    move[..Math.Min(size, move.Length)].Fill(-1);
                    counts.AsSpan(first)[..Math.Min(size, move.Length)].Fill(-1);
                    Mark(labels, first, first + 2 * size, PlantedFailure.Reversal);
                    Mark(labels, first + 2 * size, scans, PlantedFailure.EncoderSlip);
                    break;
                case FaultKind.DroppedScans:
                    dropped.AsSpan(first)[..Math.Min(size, move.Length)].Fill(true);
                    break;
                default:
                    continue;
            }
            any = true;
        }
        return any ? Place(moves, counts, labels, dropped) : null;
    }

    private static ScanRow[] Place(int[] moves, int[] counts, PlantedFailure[] labels, bool[] dropped)
    {
        var rows = new ScanRow[moves.Length];
        int place = 0;
        int count = 0;
        for (int row = 0; row < rows.Length; row++)
        {
            place += moves[row];
            count += counts[row];
            bool present = !dropped[row] && place >= 0 && place < rows.Length;
            rows[row] = new ScanRow(
                Math.Clamp(place, 0, rows.Length - 1),
                count,
                present,
                labels[row] | (present ? PlantedFailure.None : PlantedFailure.Dropped)
            );
        }
        return rows;
    }

    private static void Mark(PlantedFailure[] labels, int from, int to, PlantedFailure label)
    {
        for (int row = from; row < Math.Min(to, labels.Length); row++)
            labels[row] |= label;
    }
}
