using static System.FormattableString;

namespace EchoToThickness.Stacks.Sanity;

/// <summary>Tells whether the axes are the ones declared.</summary>
internal static class AxisChecks
{
    public static AxisFacts Measure(List<AScanFeatures> live, double[] samplePower, SwappedNeighbours steps) =>
        new(
            Spread([.. samplePower]),
            ScanSpread(live),
            Spread([.. live.GroupBy(f => f.Beam).Select(g => g.Average(f => f.Power))]),
            steps.ScanStepSamples,
            steps.BeamStepSamples,
            steps.DistantStepSamples,
            steps.SwappedStepSamples
        );

    public static IEnumerable<SanityFinding> Run(StackInfo info, AxisFacts axes, SpectrumFacts? spectrum)
    {
        SanityFinding? sample = SampleAxis(info, axes);
        if (sample is not null)
        {
            yield return sample;
            yield break;
        }
        double period = spectrum?.SamplesPerPeriod ?? double.NaN;
        SanityFinding? swapped = Swapped(info, axes, period);
        if (swapped is not null)
        {
            yield return swapped;
            yield break;
        }
        foreach ((string name, double step) in new[] { ("scan", axes.ScanStepSamples), ("beam", axes.BeamStepSamples) })
        {
            // A few cells cannot tell, and a couplant that is set anew from cell to cell over one wall is no fault.
            if (info.Neighbours != NeighbourAxes.Both || info.Shape.Cells < 256)
                yield break;
            if (!(step > 3 * period) || !(step > 0.7 * axes.DistantStepSamples))
                continue;
            yield return new(
                SanityCheck.UnrelatedNeighbours,
                SanitySeverity.Warning,
                Invariant(
                    $"The interface moves by {step:0} samples between neighbours along the {name} axis, {axes.DistantStepSamples:0} between cells far apart: they do not look like neighbours."
                ),
                "check the axis order; if the cells are unrelated, say so with neighbours"
            );
        }
    }

    private static SanityFinding? SampleAxis(StackInfo info, AxisFacts axes)
    {
        bool scanIsLarger = !(axes.BeamSpreadDecibels > axes.ScanSpreadDecibels);
        string name = scanIsLarger ? "scan" : "beam";
        double spread = scanIsLarger ? axes.ScanSpreadDecibels : axes.BeamSpreadDecibels;
        // The energy along time rises out of silence by tens of decibels; along the metal it is nearly even.
        bool sampleFlat = double.IsNaN(axes.SampleSpreadDecibels) || axes.SampleSpreadDecibels < 0.6 * spread;
        if (!(spread > 5) || !sampleFlat)
            return null;
        return new(
            SanityCheck.TransposedAxes,
            SanitySeverity.Fault,
            Invariant(
                $"The energy varies by {spread:0.0} dB along the {name} axis and by {axes.SampleSpreadDecibels:0.0} dB along the sample axis: echoes stand out along the {name} axis [{info.Shape.Scans} x {info.Shape.Beams} x {info.Shape.Samples}]."
            ),
            $"the sample axis is probably the one declared as {name}: correct axes in the layout map"
        );
    }

    private static SanityFinding? Swapped(StackInfo info, AxisFacts axes, double period)
    {
        if (info.Neighbours != NeighbourAxes.Both || double.IsNaN(axes.SwappedStepSamples))
            return null;
        // True neighbours keep the interface within a period; the wrong ones jump beyond it.
        bool jumps =
            axes.ScanStepSamples > period && axes.ScanStepSamples >= 3 * Math.Max(axes.SwappedStepSamples, 0.5);
        if (!jumps || !(axes.SwappedStepSamples <= period))
            return null;
        return new(
            SanityCheck.TransposedAxes,
            SanitySeverity.Fault,
            Invariant(
                $"The interface moves by {axes.ScanStepSamples:0.0} samples between scan neighbours, but by {axes.SwappedStepSamples:0.0} between A-scans that would be neighbours with {info.Shape.Beams} scan positions of {info.Shape.Scans} beams."
            ),
            "scan and beam are swapped: correct axes or extents in the layout map"
        );
    }

    /// <summary>Every scan position is seen through its own window of beams; the level of these beams is taken out.</summary>
    private static double ScanSpread(List<AScanFeatures> live)
    {
        Dictionary<int, double> beams = live.GroupBy(f => f.Beam)
            .ToDictionary(g => g.Key, g => g.Average(f => f.Power));
        return Spread([.. live.GroupBy(f => f.Scan).Select(g => g.Sum(f => f.Power) / g.Sum(f => beams[f.Beam]))]);
    }

    private static double Spread(IReadOnlyCollection<double> power)
    {
        double[] levels = [.. power.Where(p => p > 0).Select(p => 10 * Math.Log10(p))];
        return Robust.Spread(levels);
    }
}
