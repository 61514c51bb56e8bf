namespace EchoToThickness.Stacks.Sanity;

/// <summary>Where the energy of the A-scans lies, from their averaged and smoothed power spectrum.</summary>
/// <param name="DominantHz">Frequency of the highest power, hertz by the declared sample rate.</param>
/// <param name="LowerHz">Lower frequency at which the power is a quarter (-6 dB) of the highest, hertz.</param>
/// <param name="UpperHz">Upper frequency at -6 dB, hertz.</param>
/// <param name="SamplesPerPeriod">Sample rate over dominant frequency.</param>
public sealed record SpectrumFacts(double DominantHz, double LowerHz, double UpperHz, double SamplesPerPeriod)
{
    /// <summary>Relative bandwidth at -6 dB: width over the middle of the band.</summary>
    public double BandwidthFraction => (UpperHz - LowerHz) / (0.5 * (UpperHz + LowerHz));
}
