namespace EchoToThickness.Stacks.Sanity;

/// <summary>
/// Looks at a few thousand A-scans spread over a stack and says what they are, and which of the classic mistakes of exports and
/// imports they show. Pure and deterministic: the same stack gives the same report.
/// </summary>
public static class SanityInspector
{
    /// <summary>Most A-scans looked at unless the caller says otherwise.</summary>
    public const int DefaultMaximumAScans = 2048;

    private const int MaximumSamplesPerAScan = 16384;
    private const long MaximumSamplesInAll = 8_000_000;
    private const int MaximumSpectra = 256;
    private const int BlockBytes = 4 << 20;

    /// <summary>Inspects a stack.</summary>
    /// <param name="source">The stack; it is read in small blocks.</param>
    /// <param name="maximumAScans">Most A-scans to look at, at least 16.</param>
    /// <param name="cancellation">Stops between blocks.</param>
    /// <returns>Figures and findings, most serious first.</returns>
    /// <exception cref="StackFormatException">The stack cannot be read.</exception>
    public static SanityReport Inspect(
        IAScanSource source,
        int maximumAScans = DefaultMaximumAScans,
        CancellationToken cancellation = default
    )
    {
        ArgumentNullException.ThrowIfNull(source);
        ArgumentOutOfRangeException.ThrowIfLessThan(maximumAScans, 16);
        StackInfo info = source.Info;
        int samples = Math.Min(info.Shape.Samples, MaximumSamplesPerAScan);
        int cells = (int)Math.Clamp(MaximumSamplesInAll / samples, 16, maximumAScans);
        AScanExaminer examiner = new(info, samples);
        List<AScanFeatures> features = [];
        using IAScanReader reader = source.OpenReader();
        IReadOnlyList<CellSelection.Patch> patches = CellSelection.Patches(info.Shape, cells);
        long total = patches.Sum(p => (long)p.ScanCount * p.BeamCount);
        long spectrumEvery = Math.Max(1, total / MaximumSpectra);
        long seen = 0;
        int perLend = Math.Max(1, BlockBytes / info.AScanBytes);
        foreach (CellSelection.Patch patch in patches)
        {
            for (int scan = patch.FirstScan; scan < patch.FirstScan + patch.ScanCount; scan++)
            {
                for (int done = 0; done < patch.BeamCount; done += perLend)
                {
                    cancellation.ThrowIfCancellationRequested();
                    int count = Math.Min(perLend, patch.BeamCount - done);
                    AScanBlock block = reader.Lend(scan, 1, patch.FirstBeam + done, count);
                    for (int beam = 0; beam < count; beam++)
                    {
                        if (!block.IsPresent(0, beam))
                            continue;
                        ReadOnlySpan<byte> bytes = block.AScanBytes(0, beam);
                        features.Add(
                            examiner.Examine(bytes, scan, block.FirstBeam + beam, seen++ % spectrumEvery == 0)
                        );
                    }
                }
            }
        }
        SwappedNeighbours swapped = SwappedNeighbours.Measure(info, reader, samples, cancellation);
        return Conclude(info, features, examiner, swapped);
    }

    /// <summary>Compares lines of one acquisition: echoes and noise that change together mean another gain.</summary>
    /// <param name="lines">Reports of the lines, in order.</param>
    /// <returns>At most one finding a pair of consecutive lines.</returns>
    public static IReadOnlyList<SanityFinding> CompareLines(IReadOnlyList<SanityReport> lines)
    {
        ArgumentNullException.ThrowIfNull(lines);
        List<SanityFinding> findings = [];
        for (int i = 1; i < lines.Count; i++)
        {
            if (AmplitudeChecks.LineGainStep(lines[i - 1], lines[i]) is { } finding)
                findings.Add(finding);
        }
        return findings;
    }

    private static SanityReport Conclude(
        StackInfo info,
        List<AScanFeatures> features,
        AScanExaminer examiner,
        SwappedNeighbours swapped
    )
    {
        List<AScanFeatures> live = [.. features.Where(f => !f.Constant)];
        SampleSummary summary = SampleSummary.Of(info, features, live);
        double rate = info.TimeBase.SampleRateHz;
        SpectrumFacts? spectrum = examiner.Spectrum.Band() is { } band
            ? new SpectrumFacts(band.Dominant * rate, band.Lower * rate, band.Upper * rate, 1 / band.Dominant)
            : null;
        AxisFacts axes = AxisChecks.Measure(live, examiner.SamplePower, swapped);
        double spacing = Robust.Median(live.Select(f => f.RepeatLag)) / rate;
        IReadOnlyList<int> dead = AmplitudeChecks.DeadBeams(live, features);
        List<SanityFinding> findings =
        [
            .. SampleChecks.Run(info, features, live, summary),
            .. TimeChecks.Facts(info),
            .. PositionChecks.Run(info),
        ];
        // Samples that wrap round, or run along another axis, say nothing about time and amplitude.
        SanityFinding[] axisFindings = summary.IsWrapped ? [] : [.. AxisChecks.Run(info, axes, spectrum)];
        findings.AddRange(axisFindings);
        if (!summary.IsWrapped && !Array.Exists(axisFindings, f => f.Check == SanityCheck.TransposedAxes))
        {
            findings.AddRange(TimeChecks.Run(info, live, summary, spectrum, spacing));
            findings.AddRange(AmplitudeChecks.Run(info, live, dead));
        }
        return new SanityReport
        {
            Name = info.Name,
            AScansExamined = features.Count,
            MinimumCounts = summary.Minimum,
            MaximumCounts = summary.Maximum,
            QuietLevelCounts = summary.QuietLevel,
            NoiseRmsCounts = summary.NoiseRms,
            PeakCounts = summary.Peak,
            SaturatedFraction = summary.SaturatedFraction,
            NonFiniteSamples = features.Sum(f => (long)f.NonFinite),
            ConstantAScans = features.Count - live.Count,
            LooksRectified = summary.LooksRectified,
            StrongestPositiveFraction = Robust.Fraction(live, f => f.StrongestPositive),
            LeadingPositiveFraction = Robust.Fraction(live, f => f.LeadingPositive),
            InterfaceSeconds = Robust.Median(live.Select(f => info.TimeBase.StartOf(f.Beam) + f.Interface / rate)),
            EchoSpacingSeconds = spacing,
            Spectrum = spectrum,
            Axes = axes,
            DeadBeams = dead,
            // A stable sort: findings of one severity keep the order of the checks.
            Findings = [.. findings.OrderByDescending(f => f.Severity)],
        };
    }
}
