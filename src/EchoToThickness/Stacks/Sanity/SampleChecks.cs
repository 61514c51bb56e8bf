using static System.FormattableString;

namespace EchoToThickness.Stacks.Sanity;

/// <summary>Checks of the sample values themselves.</summary>
internal static class SampleChecks
{
    public static IEnumerable<SanityFinding> Run(
        StackInfo info,
        List<AScanFeatures> all,
        List<AScanFeatures> live,
        SampleSummary summary
    )
    {
        int bad = all.Count(f => f.NonFinite > 0);
        if (bad > 0)
        {
            yield return new(
                SanityCheck.NonFiniteSamples,
                SanitySeverity.Warning,
                Invariant(
                    $"{bad} of {all.Count} A-scans hold NaN or infinite samples ({all.Sum(f => (long)f.NonFinite)} in all)."
                ),
                "mark these cells as not present, or write 0 for what was not recorded"
            );
        }
        int zero = all.Count(f => f.Constant && f.Maximum == 0);
        if (zero > 0)
        {
            yield return new(
                SanityCheck.AllZeroAScans,
                SanitySeverity.Warning,
                Invariant(
                    $"{zero} of {all.Count} A-scans are zero throughout{Example(all, f => f.Constant && f.Maximum == 0)}."
                ),
                "these cells were probably not scanned: give a presence mask, so that the map says so"
            );
        }
        int constant = all.Count(f => f.Constant && f.Maximum != 0);
        if (constant > 0)
        {
            yield return new(
                SanityCheck.ConstantAScans,
                SanitySeverity.Warning,
                Invariant(
                    $"{constant} of {all.Count} A-scans hold one value throughout{Example(all, f => f.Constant && f.Maximum != 0)}."
                ),
                "these cells were probably not recorded: give a presence mask, so that the map says so"
            );
        }
        if (live.Count == 0)
            yield break;
        if (summary.IsWrapped)
        {
            yield return Wrapped(info, summary);
            yield break;
        }
        if (summary.SaturatedFraction > 0)
        {
            yield return new(
                SanityCheck.Saturated,
                SanitySeverity.Warning,
                Invariant(
                    $"{100 * summary.SaturatedFraction:0.#} % of the A-scans stay at a rail for 3 samples or more (range {summary.Minimum:G6} to {summary.Maximum:G6})."
                ),
                "the peak of a saturated echo has no time: use a flank on it, or lower the gain"
            );
        }
        SanityFinding? form = Form(info, summary);
        if (form is not null)
            yield return form;
        SanityFinding? level = ZeroLevel(info, live, summary);
        if (level is not null)
            yield return level;
    }

    private static SanityFinding Wrapped(StackInfo info, SampleSummary summary)
    {
        bool signed = info.SampleType is SampleType.Int8 or SampleType.Int16;
        return new(
            SanityCheck.OffsetBinary,
            SanitySeverity.Fault,
            Invariant(
                $"The samples jump across the whole range: shifted by half the range they step {summary.WrapRatio:0.#} times less from sample to sample."
            ),
            signed
                ? "the samples are offset binary read as signed integers: read them as the unsigned type"
                : "the samples are signed integers read as unsigned ones: read them as the signed type"
        );
    }

    private static SanityFinding? Form(StackInfo info, SampleSummary summary)
    {
        bool declared = info.Acquisition.Form == SignalForm.Rectified;
        if (summary.LooksRectified && !declared)
        {
            return new(
                SanityCheck.RectifiedSamples,
                SanitySeverity.Fault,
                Invariant(
                    $"The samples have one sign: from {summary.Minimum:G6} to {summary.Maximum:G6} with the quiet level at {summary.QuietLevel:G6}, and the noise ends as sharply below as rectified noise does (ratio {summary.OneSidedness:0.0}; 4.6 or more for RF)."
                ),
                "declare form = \"rectified\"; polarity and phase picks cannot be used"
            );
        }
        bool bipolar = !summary.LooksRectified && summary.OneSidedness > 4.2;
        if (declared && bipolar)
        {
            return new(
                SanityCheck.SignedSamples,
                SanitySeverity.Warning,
                Invariant(
                    $"Declared as rectified, but the samples reach to both sides of the quiet level {summary.QuietLevel:G6}: {summary.Minimum:G6} to {summary.Maximum:G6}."
                ),
                "declare form = \"rf\", so that polarity can be used"
            );
        }
        return null;
    }

    private static SanityFinding? ZeroLevel(StackInfo info, List<AScanFeatures> live, SampleSummary summary)
    {
        if (summary.LooksRectified || info.Acquisition.Form == SignalForm.Rectified)
            return null;
        double offset = summary.QuietLevel - info.Amplitude.ZeroCounts;
        double scatter = Robust.Median(live.Select(f => Math.Abs(f.Median - summary.QuietLevel)));
        if (Math.Abs(offset) < 0.05 * summary.Peak || Math.Abs(offset) < 5 * scatter)
            return null;
        // Offset binary in a wider type: silence in the middle of a range that starts at zero.
        bool binary = summary.Minimum >= 0 && offset > 0.3 * summary.Maximum;
        return new(
            binary ? SanityCheck.OffsetBinary : SanityCheck.ZeroLevel,
            binary ? SanitySeverity.Fault : SanitySeverity.Warning,
            Invariant(
                $"Silence lies at {summary.QuietLevel:G6} counts, the declared zero level is {info.Amplitude.ZeroCounts:G6} (median peak {summary.Peak:G6})."
            ) + (binary ? " That is how offset binary looks." : ""),
            Invariant($"give the zero level: zero = {summary.QuietLevel:G6}")
        );
    }

    private static string Example(List<AScanFeatures> all, Predicate<AScanFeatures> match)
    {
        AScanFeatures first = all.Find(match);
        return Invariant($" (first: scan {first.Scan}, beam {first.Beam})");
    }
}
