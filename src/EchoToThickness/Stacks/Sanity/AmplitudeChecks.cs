using static System.FormattableString;

namespace EchoToThickness.Stacks.Sanity;

/// <summary>Checks of the amplitude over beams and scan positions.</summary>
internal static class AmplitudeChecks
{
    /// <summary>A beam is dead when its median power lies this far below the median of all beams.</summary>
    private const double DeadDecibels = -20;

    private const double StepDecibels = 2.5;

    /// <summary>Beams whose median power is 20 dB or more below the median beam, or that hold no signal at all.</summary>
    public static IReadOnlyList<int> DeadBeams(List<AScanFeatures> live, List<AScanFeatures> all)
    {
        Dictionary<int, double> power = all.GroupBy(f => f.Beam)
            .ToDictionary(g => g.Key, g => Robust.Median(g.Select(f => f.Constant ? 0 : f.Power)));
        if (power.Count < 4 || live.Count == 0)
            return [];
        double median = Robust.Median(power.Values);
        double limit = median * Math.Pow(10, DeadDecibels / 10);
        return [.. power.Where(p => p.Value < limit).Select(p => p.Key).Order()];
    }

    public static IEnumerable<SanityFinding> Run(StackInfo info, List<AScanFeatures> live, IReadOnlyList<int> dead)
    {
        if (dead.Count > 0)
        {
            string list = string.Join(", ", dead.Take(12)) + (dead.Count > 12 ? ", ..." : "");
            yield return new(
                SanityCheck.DeadBeams,
                SanitySeverity.Warning,
                Invariant($"{dead.Count} beams carry less than a hundredth of the median beam's power: {list}."),
                "dead elements or lost coupling: mark these cells as not present, or check the array"
            );
        }
        if (info.Neighbours.HasFlag(NeighbourAxes.Scan) && ScanGainStep(live) is { } step)
            yield return step;
    }

    /// <summary>A change of gain between two lines, by the same evidence as within one.</summary>
    public static SanityFinding? LineGainStep(SanityReport before, SanityReport after)
    {
        double echo = Decibels(after.PeakCounts / before.PeakCounts);
        double noise = Decibels(after.NoiseRmsCounts / before.NoiseRmsCounts);
        if (!(Math.Abs(echo) >= StepDecibels) || !(Math.Abs(echo - noise) <= 0.35 * Math.Abs(echo)))
            return null;
        return new(
            SanityCheck.GainStep,
            SanitySeverity.Warning,
            Invariant(
                $"Echoes change by {echo:+0.0;-0.0} dB and noise by {noise:+0.0;-0.0} dB from {before.Name} to {after.Name}."
            ),
            "the lines were taken with different gain: state it per line, and use levels relative to the strongest echo or the noise"
        );
    }

    /// <summary>
    /// A change of gain moves echoes and noise by the same decibels; a change of coupling or wall moves the echoes alone. Compares the
    /// medians of up to three scan positions on either side of every gap between scan positions looked at.
    /// </summary>
    private static SanityFinding? ScanGainStep(List<AScanFeatures> live)
    {
        var rows = live.Where(f => f.NoiseRms > 0)
            .GroupBy(f => f.Scan)
            .OrderBy(g => g.Key)
            .Select(g => new Row(
                g.Key,
                Decibels(Robust.Median(g.Select(f => f.Peak))),
                Decibels(Robust.Median(g.Select(f => f.NoiseRms)))
            ))
            .ToArray();
        if (rows.Length < 6)
            return null;
        Row? largestAt = null;
        double largest = 0;
        double largestMean = 0;
        for (int i = 3; i + 3 <= rows.Length; i++)
        {
            double echo = Middle(rows, i, r => r.Echo) - Middle(rows, i - 3, r => r.Echo);
            double noise = Middle(rows, i, r => r.Noise) - Middle(rows, i - 3, r => r.Noise);
            if (Math.Abs(echo) < StepDecibels || Math.Abs(echo - noise) > 0.35 * Math.Abs(echo))
                continue;
            // Medians pass the gate wherever two of three rows lie beyond the step; means are largest at the step itself.
            double mean = Mean(rows, i) - Mean(rows, i - 3);
            if (Math.Abs(mean) > Math.Abs(largestMean))
            {
                largestMean = mean;
                largest = echo;
                largestAt = rows[i];
            }
        }
        if (largestAt is not { } at)
            return null;
        return new(
            SanityCheck.GainStep,
            SanitySeverity.Warning,
            Invariant($"Echoes and noise change together by {largest:+0.0;-0.0} dB near scan position {at.Scan}."),
            "the gain was switched: levels in % of full scale mean something else from there on; use levels relative to the strongest echo or the noise"
        );
    }

    private static double Middle(Row[] rows, int first, Func<Row, double> value) =>
        Robust.Median(rows.Skip(first).Take(3).Select(value));

    private static double Mean(Row[] rows, int first) => rows.Skip(first).Take(3).Average(r => r.Echo + r.Noise);

    private static double Decibels(double amplitude) => 20 * Math.Log10(amplitude);

    private readonly record struct Row(int Scan, double Echo, double Noise);
}
