using EchoToThickness.Procedures;
using EchoToThickness.Signals;

namespace EchoToThickness.Estimation.Estimators;

/// <summary>Resonances of the wall: maxima of the spectrum behind the interface lie at whole multiples of one frequency, <c>f_m = m / tau</c>.</summary>
/// <remarks>
/// Echoes of one polarity resonate at <c>f_m = m V / (2 d)</c>. The period is found from the spectrum's own correlation, each maximum gets its
/// order m, and tau is the weighted line through the origin, <c>sum p m f / sum p f^2</c>. A wrong order is a whole cycle. Source: any handbook
/// of resonance testing; ISO 16809 names the method for thin walls.
/// </remarks>
public sealed class ResonanceEstimator : IThicknessEstimator
{
    private const double BandFraction = 0.25;

    /// <inheritdoc/>
    public EstimationMethod Method => EstimationMethod.Resonance;

    /// <inheritdoc/>
    public SpacingEstimate Estimate(EstimationWorkspace workspace)
    {
        ArgumentNullException.ThrowIfNull(workspace);
        EchoSpectrum spectrum = workspace.Spectrum;
        double limit = WallSection.Limit(workspace);
        if (!(limit > workspace.Low))
            return SpacingEstimate.None;
        int bins = spectrum.BinCount;
        Span<double> response = workspace.Scores.AsSpan(0, bins);
        Span<double> weights = workspace.Scores.AsSpan(bins, bins);
        Span<double> weighted = workspace.Scores.AsSpan(2 * bins, bins);
        Span<double> nothing = workspace.Scores.AsSpan(3 * bins, bins);
        double largest = 0;
        for (int k = 0; k < bins; k++)
        {
            weights[k] = Square(spectrum.EchoReal[k]) + Square(spectrum.EchoImaginary[k]);
            largest = Math.Max(largest, weights[k]);
        }
        if (!(largest > 0))
            return SpacingEstimate.None;
        double sum = 0;
        double mean = 0;
        for (int k = 0; k < bins; k++)
        {
            response[k] =
                (Square(spectrum.WallReal[k]) + Square(spectrum.WallImaginary[k]))
                / Math.Max(weights[k], 1e-6 * largest);
            weights[k] = Math.Max(0, Math.Sqrt(weights[k] / largest) - BandFraction);
            sum += weights[k];
            mean += weights[k] * response[k];
        }
        mean /= sum;
        for (int k = 0; k < bins; k++)
            weighted[k] = weights[k] * (response[k] - mean);
        nothing.Clear();
        spectrum.ToTime(weighted, nothing);
        double period = workspace.Scale.Period;
        int lag = LagPeaks.First(spectrum.WorkReal, spectrum.WorkImaginary, 1, workspace.Low, limit, period);
        if (lag < 0)
            return SpacingEstimate.None;
        double rough = LagPeaks.Refine(spectrum.WorkReal, 1, lag);
        return WallSection.Of(workspace, Lines(spectrum, response, weights, mean, rough), false);
    }

    /// <summary>The line of order over frequency; the rough spacing when no maximum stands out.</summary>
    private static double Lines(
        EchoSpectrum spectrum,
        ReadOnlySpan<double> response,
        ReadOnlySpan<double> weights,
        double mean,
        double rough
    )
    {
        double cross = 0;
        double square = 0;
        for (int k = 1; k < response.Length - 1; k++)
        {
            if (
                !(response[k] > response[k + 1] && response[k] >= response[k - 1])
                || response[k] < mean
                || weights[k] <= 0
            )
                continue;
            double offset = SubSample.Parabola(response[k - 1], response[k], response[k + 1]);
            double frequency = (spectrum.FirstBin + k + offset) / spectrum.Length;
            double order = Math.Round(frequency * rough);
            // A maximum between two orders is noise or a side lobe of the window.
            if (order < 1 || Math.Abs(frequency * rough - order) > 0.25)
                continue;
            double weight = weights[k] * response[k];
            cross += weight * order * frequency;
            square += weight * frequency * frequency;
        }
        return square > 0 ? cross / square : rough;
    }

    private static double Square(double value) => value * value;
}
