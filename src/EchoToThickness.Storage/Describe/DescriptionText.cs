using System.Text;
using EchoToThickness.Stacks;
using EchoToThickness.Stacks.Sanity;
using EchoToThickness.Storage.Foreign;
using static System.FormattableString;

namespace EchoToThickness.Storage.Describe;

/// <summary>Renders a description as plain text, at most 80 columns wide (a path or a line of the proposed map may be longer).</summary>
public static class DescriptionText
{
    private const int Width = 80;

    /// <summary>Renders everything.</summary>
    /// <param name="description">A description.</param>
    /// <returns>Lines ended by line feeds; the same description gives the same text.</returns>
    public static string Render(StackDescription description)
    {
        ArgumentNullException.ThrowIfNull(description);
        StringBuilder text = new();
        string kind = description.Kind switch
        {
            StackFileKind.Hdf5 => description.IsNative ? "native stack (HDF5)" : "foreign HDF5 file",
            StackFileKind.Npy => ".npy array",
            StackFileKind.Folder => "folder",
            _ => "neither HDF5 nor .npy: raw samples, if it is a stack at all",
        };
        text.Append(Invariant($"{description.Path}: {kind}, {description.Bytes} bytes\n"));
        Objects(text, description.Objects);
        foreach (DescribedLine line in description.Lines)
            Line(text, line, description.Lines.Count > 1);
        if (description.LineFindings.Count > 0)
            text.Append("\nBetween lines\n");
        foreach (SanityFinding finding in description.LineFindings)
            Finding(text, finding);
        if (description.Problems.Count > 0)
            text.Append(description.ProposedLayout is null ? "\nIt cannot be opened\n" : "\nTo put right\n");
        foreach (string problem in description.Problems)
            Wrap(text, "  ", "  ", problem);
        if (description.ProposedLayout is { } layout)
        {
            text.Append("\nProposed layout map (save it, check it, give it with --layout)\n\n");
            text.Append(layout);
        }
        return text.ToString();
    }

    private static void Objects(StringBuilder text, IReadOnlyList<DescribedObject> objects)
    {
        if (objects.Count > 0)
            text.Append("\nContents\n");
        foreach (DescribedObject item in objects)
        {
            string shape = item.Shape is null ? "" : " [" + string.Join(" x ", item.Shape) + "]";
            string type = item.Type.Length == 0 ? "" : $" {item.Type}, {item.Storage}";
            Wrap(text, "  ", "      ", item.Path + shape + type);
            foreach ((string name, string value) in item.Attributes)
                Wrap(text, "    @", "      ", $"{name} = {value}");
        }
    }

    private static void Line(StringBuilder text, DescribedLine line, bool named)
    {
        StackInfo info = line.Info;
        text.Append(named ? $"\nLine {line.Name}\n" : "\nStack\n");
        Fact(
            text,
            "extent",
            Invariant(
                $"{info.Shape.Scans} scan x {info.Shape.Beams} beam x {info.Shape.Samples} sample, {info.SampleType}"
            )
        );
        double end = info.TimeBase.StartSeconds + info.Shape.Samples / info.TimeBase.SampleRateHz;
        Fact(
            text,
            "time base",
            Invariant(
                $"{info.TimeBase.SampleRateHz / 1e6:G6} MHz, {info.TimeBase.StartSeconds * 1e6:G5} to {end * 1e6:G5} us"
            ) + (info.TimeBase.BeamStartSeconds is null ? "" : ", start per beam")
        );
        Positions(text, "scan", info.ScanPositionsMetres);
        Positions(text, "index", info.IndexPositionsMetres);
        Fact(text, "neighbours", info.Neighbours.ToString().ToLowerInvariant());
        AcquisitionFacts a = info.Acquisition;
        Number(text, "frequency", a.FrequencyHz / 1e6, "MHz");
        Number(text, "bandwidth", 100 * a.BandwidthFraction, "%");
        Number(text, "aperture", 1e3 * a.ApertureMetres, "mm");
        Number(text, "velocity", a.VelocityMetresPerSecond, "m/s");
        Number(text, "gain", a.GainDecibels, "dB");
        Number(text, "nominal wall", 1e3 * info.Component.NominalWallMetres, "mm");
        if (line.TruthLayers.Count > 0)
            Fact(text, "truth", string.Join(", ", line.TruthLayers));
        foreach (string missing in line.Missing)
            Fact(text, "not stated", missing);
        Sanity(text, line);
    }

    private static void Sanity(StringBuilder text, DescribedLine line)
    {
        SanityReport s = line.Sanity;
        text.Append(Invariant($"\nSanity of the samples ({s.AScansExamined} A-scans looked at)\n"));
        Fact(
            text,
            "range",
            Invariant($"{s.MinimumCounts:G6} to {s.MaximumCounts:G6} counts, quiet level {s.QuietLevelCounts:G6}")
        );
        Fact(text, "saturated", Invariant($"{100 * s.SaturatedFraction:0.#} % of the A-scans at a rail"));
        double ratio = 20 * Math.Log10(s.PeakCounts / s.NoiseRmsCounts);
        Fact(
            text,
            "noise",
            double.IsFinite(ratio)
                ? Invariant($"{s.NoiseRmsCounts:G4} counts rms ahead of the interface, {ratio:0} dB below the peak")
                : "nothing quiet lies ahead of the interface"
        );
        if (s.Spectrum is { } f)
        {
            Fact(
                text,
                "spectrum",
                Invariant(
                    $"{f.DominantHz / 1e6:0.00} MHz, -6 dB from {f.LowerHz / 1e6:0.00} to {f.UpperHz / 1e6:0.00} MHz ({100 * f.BandwidthFraction:0} %), {f.SamplesPerPeriod:0.0} samples a period"
                )
            );
        }
        Fact(text, "form", s.LooksRectified ? "rectified" : "radio frequency");
        Fact(
            text,
            "polarity",
            Invariant(
                $"strongest half-wave positive in {100 * s.StrongestPositiveFraction:0} %, leading one in {100 * s.LeadingPositiveFraction:0} %"
            )
        );
        Fact(text, "interface", Invariant($"near {s.InterfaceSeconds * 1e6:0.00} us (median)"));
        if (double.IsFinite(s.EchoSpacingSeconds))
            Fact(text, "repeats", Invariant($"inverted, {s.EchoSpacingSeconds * 1e6:0.000} us apart (median)"));
        AxisFacts axes = s.Axes;
        Fact(
            text,
            "axes",
            Invariant(
                $"energy varies by {Decibels(axes.ScanSpreadDecibels)} along scan, {Decibels(axes.BeamSpreadDecibels)} along beam, {Decibels(axes.SampleSpreadDecibels)} along sample; interface steps {Samples(axes.ScanStepSamples)} a scan position, {Samples(axes.BeamStepSamples)} a beam"
            )
        );
        if (s.Findings.Count == 0)
            text.Append("  Nothing suspect.\n");
        foreach (SanityFinding finding in s.Findings)
            Finding(text, finding);
    }

    private static void Finding(StringBuilder text, SanityFinding finding)
    {
        string severity = finding.Severity switch
        {
            SanitySeverity.Fault => "FAULT",
            SanitySeverity.Warning => "Warning",
            _ => "Note",
        };
        Wrap(text, $"  {severity}: ", "    ", $"{finding.Evidence}");
        Wrap(text, "    To fix: ", "      ", finding.Remedy);
    }

    private static void Positions(StringBuilder text, string name, IReadOnlyList<double>? metres)
    {
        if (metres is { Count: > 0 })
            Fact(text, name, Invariant($"{metres[0] * 1e3:G6} to {metres[^1] * 1e3:G6} mm, {metres.Count} positions"));
    }

    private static void Number(StringBuilder text, string name, double? value, string unit)
    {
        if (value is { } v)
            Fact(text, name, Invariant($"{v:G6} {unit}"));
    }

    private static void Fact(StringBuilder text, string name, string value) =>
        Wrap(text, $"  {name, -13}", "               ", value);

    private static string Decibels(double value) =>
        double.IsNaN(value) ? "(too few cells)" : Invariant($"{value:0.0} dB");

    private static string Samples(double value) =>
        double.IsNaN(value) ? "(too few cells)" : Invariant($"{value:0} samples");

    /// <summary>Breaks at spaces; a word longer than a line stands alone.</summary>
    private static void Wrap(StringBuilder text, string first, string rest, string words)
    {
        StringBuilder line = new(first);
        bool empty = true;
        foreach (string word in words.Split(' ', StringSplitOptions.RemoveEmptyEntries))
        {
            if (!empty && line.Length + 1 + word.Length > Width)
            {
                text.Append(line.ToString().TrimEnd()).Append('\n');
                line.Clear().Append(rest);
                empty = true;
            }
            if (!empty)
                line.Append(' ');
            line.Append(word);
            empty = false;
        }
        text.Append(line.ToString().TrimEnd()).Append('\n');
    }
}
