using EchoToThickness.Echoes;

namespace EchoToThickness.Estimation.Estimators;

/// <summary>What the estimators that look only at the record behind the interface share.</summary>
/// <remarks>
/// They must leave the interface out: a lossless plate with air behind it reflects everything, so the magnitude spectrum of interface and walls
/// together shows no resonance, and its autocorrelation no repetition (|R(f)| = 1).
/// </remarks>
internal static class WallSection
{
    /// <summary>The estimate of a spacing found from repetition: bound of the walls among themselves, amplitudes from the matched filter.</summary>
    /// <param name="workspace">The record.</param>
    /// <param name="spacing">Spacing found, samples.</param>
    /// <param name="usesTrain">Whether the whole train bears the spacing; otherwise the bound is that of the first two walls.</param>
    public static SpacingEstimate Of(EstimationWorkspace workspace, double spacing, bool usesTrain)
    {
        EchoSpectrum spectrum = workspace.Spectrum;
        if (
            !double.IsFinite(spacing)
            || spacing < workspace.Low - workspace.Scale.Period
            || spacing > workspace.High + workspace.Scale.Period
        )
            return SpacingEstimate.None;
        double front = workspace.Record.Envelope[workspace.Front];
        (double first, double second) = (Amplitude(spectrum, spacing), Amplitude(spectrum, 2 * spacing));
        int last = Math.Max(2, (int)((spectrum.Reach - 1.2 * workspace.Scale.PulseSigma) / spacing));
        double decay = Math.Clamp(second / first, 0.2, 1);
        double ratio = Math.Sqrt(spectrum.Energy) / workspace.WhiteNoiseFraction;
        return SpacingEstimate.None with
        {
            Found = first > 0 && second > 0,
            SpacingSamples = spacing,
            BoundSamples = usesTrain
                ? workspace.TrainBound(0, first * front, decay, 1, last)
                : workspace.PairBound(first * front, second * front),
            // The weaker of the two echoes carries the repetition.
            SignalRatio = Math.Min(first, second) * ratio,
            FirstOrder = 1,
            LastOrder = last,
            Decay = decay,
            WallFraction = first * front,
        };
    }

    /// <summary>Whether the record holds two echoes of the thinnest wall.</summary>
    public static double Limit(EstimationWorkspace workspace) =>
        Math.Min(workspace.High, (workspace.Spectrum.Reach - 1.2 * workspace.Scale.PulseSigma) / 2);

    private static double Amplitude(EchoSpectrum spectrum, double delay)
    {
        (double r, double m) = spectrum.MatchedAt(spectrum.WallReal, spectrum.WallImaginary, delay);
        return Math.Sqrt(r * r + m * m) / spectrum.Energy;
    }
}
