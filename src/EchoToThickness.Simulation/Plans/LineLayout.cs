using EchoToThickness.Procedures;
using EchoToThickness.Simulation.Scenes;
using EchoToThickness.Units;

namespace EchoToThickness.Simulation.Plans;

/// <summary>Places the lines of a scan: how many, where, from which encoder position to which.</summary>
/// <param name="shape">The component.</param>
/// <param name="scan">Section of the scene.</param>
/// <param name="swathMetres">Extent of the beams, beams times pitch.</param>
/// <param name="referenceMetres">Position along from which scan positions (lines along) or index positions (lines around) count.</param>
internal sealed class LineLayout(ComponentShape shape, ScanSection scan, double swathMetres, double referenceMetres)
{
    /// <summary>A position within a billionth of a step of the range's end belongs to it.</summary>
    private const double Slack = 1e-9;

    private const int MostScans = 10_000_000;

    public LinePlan[] Lines()
    {
        bool along = scan.Direction == ScanDirection.Along;
        // Around an elbow the extrados is the longest way from line to line; without gaps there, there are none anywhere.
        double stretch = along ? 1 : shape.Stretch(0);
        if (scan.IndexStepMetres is null && !(scan.OverlapMetres < swathMetres))
            throw Fault(
                "overlap",
                $"An overlap of {Length(scan.OverlapMetres)} leaves nothing of the beams' extent {Length(swathMetres)}.",
                $"write less than {Length(swathMetres)}, or give index_step."
            );
        double step = scan.IndexStepMetres ?? (swathMetres - scan.OverlapMetres) / stretch;
        (double edge, double extent) = along
            ? (0, shape.WidthMetres)
            : (shape.StartMetres, shape.EndMetres - shape.StartMetres);
        double first =
            scan.FirstLine is not { } line ? edge + swathMetres / stretch / 2
            : along ? shape.AroundMetres(line)
            : shape.AlongMetres(line);
        int count = scan.Lines > 0 ? scan.Lines : Cover(along && shape.IsClosed, extent, swathMetres / stretch, step);
        if (count > 1 && !(step > 0))
            throw Fault("index_step", "Lines with an index step of 0 lie on one another.", "write a greater step.");
        var lines = new LinePlan[count];
        for (int i = 0; i < count; i++)
            lines[i] = along ? AlongLine(first + i * step) : AroundLine(first + i * step);
        return lines;
    }

    private static int Cover(bool closed, double extent, double swath, double step)
    {
        if (!(step > 0))
            return 1;
        double lines = closed ? extent / step : (extent - swath) / step + 1;
        return Math.Max(1, (int)Math.Min(100_000, Math.Ceiling(lines - Slack)));
    }

    private LinePlan AlongLine(double place)
    {
        double stretch = scan.Encoder == EncoderPath.Line ? shape.Stretch(place) : 1;
        double origin = shape.LineLengthMetres(referenceMetres, stretch);
        double from = scan.From is { } start ? shape.AlongMetres(start) : shape.StartMetres;
        double to = scan.To is { } end ? shape.AlongMetres(end) : shape.EndMetres;
        (int first, int scans) = Steps(
            shape.LineLengthMetres(from, stretch) - origin,
            shape.LineLengthMetres(to, stretch) - origin,
            Slack
        );
        return new LinePlan(place, origin, stretch, first, scans);
    }

    private LinePlan AroundLine(double place)
    {
        double from = scan.From is { } start ? shape.AroundMetres(start) : 0;
        double to = scan.To is { } end ? shape.AroundMetres(end) : shape.WidthMetres;
        // A closed line ends before it comes back to its first position.
        bool closes = shape.IsClosed && to - from >= shape.WidthMetres * (1 - Slack);
        (int first, int scans) = Steps(from, closes ? from + shape.WidthMetres : to, closes ? -Slack : Slack);
        return new LinePlan(place, 0, 1, first, scans);
    }

    private (int First, int Scans) Steps(double from, double to, double slack)
    {
        if (!(to > from))
            throw Fault(
                "to",
                $"The scanned range ends at {Length(to)}, before it starts at {Length(from)}.",
                "write to greater than from."
            );
        double first = Math.Ceiling(from / scan.PitchMetres - Slack);
        double last = Math.Floor(to / scan.PitchMetres + slack);
        if (last < first)
            throw Fault(
                "pitch",
                $"No scan position with a pitch of {Length(scan.PitchMetres)} falls into the range of {Length(to - from)}.",
                "write a smaller pitch or a longer range."
            );
        if (last - first >= MostScans || Math.Abs(first) > int.MaxValue / 2)
            throw Fault(
                "pitch",
                $"A pitch of {Length(scan.PitchMetres)} gives more than {MostScans} scan positions on a line.",
                "write a greater pitch or a shorter range."
            );
        return ((int)first, (int)(last - first) + 1);
    }

    private static ProcedureException Fault(string key, string what, string remedy) =>
        new([new ProcedureFinding("scan." + key, what, remedy)]);

    private static string Length(double metres) => UnitText.Format(metres, Dimension.Length);
}
