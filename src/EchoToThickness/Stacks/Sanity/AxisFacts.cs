namespace EchoToThickness.Stacks.Sanity;

/// <summary>What tells the axes apart. NaN where too few cells were there to tell.</summary>
/// <param name="SampleSpreadDecibels">Standard deviation of the energy along the sample axis, decibels: large, since echoes stand out of silence.</param>
/// <param name="ScanSpreadDecibels">The same along the scan axis: small on a stack read the right way round.</param>
/// <param name="BeamSpreadDecibels">The same along the beam axis.</param>
/// <param name="ScanStepSamples">Median change of the interface between scan neighbours, samples.</param>
/// <param name="BeamStepSamples">Median change of the interface between beam neighbours, samples.</param>
/// <param name="DistantStepSamples">Median change of the interface between cells far apart, samples.</param>
/// <param name="SwappedStepSamples">Median change of the interface between cells that would be scan neighbours if scan and beam were swapped, samples.</param>
public sealed record AxisFacts(
    double SampleSpreadDecibels,
    double ScanSpreadDecibels,
    double BeamSpreadDecibels,
    double ScanStepSamples,
    double BeamStepSamples,
    double DistantStepSamples,
    double SwappedStepSamples
);
