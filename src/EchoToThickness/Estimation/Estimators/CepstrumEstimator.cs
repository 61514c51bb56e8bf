using EchoToThickness.Procedures;

namespace EchoToThickness.Estimation.Estimators;

/// <summary>Period of the logarithmic spectrum behind the interface: the first strong maximum of the cepstrum of the pulse's band.</summary>
/// <remarks>
/// A train of ratio rho divides the spectrum by <c>1 - rho exp(-j w tau)</c>, whose logarithm is <c>sum of rho^k cos(k w tau) / k</c>. The
/// pulse's own logarithm is taken off, the band weighted by its magnitude: <c>c(t) = sum over the band of |S| (log|W / S| - mean) cos(w t)</c>
/// (Bogert, Healy and Tukey 1963; Oppenheim and Schafer). Only the half of the band that carries the pulse counts; elsewhere the logarithm is of noise.
/// </remarks>
public sealed class CepstrumEstimator : IThicknessEstimator
{
    /// <summary>Bins below this fraction of the pulse's largest are left out: -14 dB.</summary>
    private const double BandFraction = 0.2;

    /// <inheritdoc/>
    public EstimationMethod Method => EstimationMethod.Cepstrum;

    /// <inheritdoc/>
    public SpacingEstimate Estimate(EstimationWorkspace workspace)
    {
        ArgumentNullException.ThrowIfNull(workspace);
        EchoSpectrum spectrum = workspace.Spectrum;
        double limit = WallSection.Limit(workspace);
        if (!(limit > workspace.Low))
            return SpacingEstimate.None;
        int bins = spectrum.BinCount;
        Span<double> logarithms = workspace.Scores.AsSpan(0, bins);
        Span<double> weights = workspace.Scores.AsSpan(bins, bins);
        double largest = 0;
        for (int k = 0; k < bins; k++)
        {
            weights[k] = Magnitude(spectrum.EchoReal[k], spectrum.EchoImaginary[k]);
            largest = Math.Max(largest, weights[k]);
        }
        if (!(largest > 0))
            return SpacingEstimate.None;
        double sum = 0;
        double mean = 0;
        for (int k = 0; k < bins; k++)
        {
            // Magnitudes under a thousandth of the pulse's stand for zero.
            double wall = Magnitude(spectrum.WallReal[k], spectrum.WallImaginary[k]);
            logarithms[k] = Math.Log(Math.Max(wall, 1e-3 * weights[k]) / Math.Max(weights[k], 1e-12 * largest));
            weights[k] = Math.Max(0, weights[k] - BandFraction * largest);
            sum += weights[k];
            mean += weights[k] * logarithms[k];
        }
        mean /= sum;
        for (int k = 0; k < bins; k++)
        {
            logarithms[k] = weights[k] * (logarithms[k] - mean);
            weights[k] = 0;
        }
        spectrum.ToTime(logarithms, weights);
        double period = workspace.Scale.Period;
        int lag = LagPeaks.First(spectrum.WorkReal, spectrum.WorkImaginary, 1, workspace.Low, limit, period);
        return lag < 0
            ? SpacingEstimate.None
            : WallSection.Of(workspace, LagPeaks.Refine(spectrum.WorkReal, 1, lag), false);
    }

    private static double Magnitude(double real, double imaginary) => Math.Sqrt(real * real + imaginary * imaginary);
}
