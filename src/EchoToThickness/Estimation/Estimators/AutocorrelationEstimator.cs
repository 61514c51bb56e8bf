using EchoToThickness.Procedures;

namespace EchoToThickness.Estimation.Estimators;

/// <summary>Lags at which the record behind the interface repeats: maxima of its autocorrelation at multiples of one spacing.</summary>
/// <remarks><c>R(l) = IDFT |W|^2</c> over the band of the pulse; the spacing is the slope of its maxima over their order, weights their heights.</remarks>
public sealed class AutocorrelationEstimator : IThicknessEstimator
{
    /// <inheritdoc/>
    public EstimationMethod Method => EstimationMethod.Autocorrelation;

    /// <inheritdoc/>
    public SpacingEstimate Estimate(EstimationWorkspace workspace)
    {
        ArgumentNullException.ThrowIfNull(workspace);
        EchoSpectrum spectrum = workspace.Spectrum;
        double limit = WallSection.Limit(workspace);
        if (!(limit > workspace.Low))
            return SpacingEstimate.None;
        ReadOnlySpan<double> wr = spectrum.WallReal;
        ReadOnlySpan<double> wi = spectrum.WallImaginary;
        Span<double> power = workspace.Scores.AsSpan(0, wr.Length);
        Span<double> nothing = workspace.Scores.AsSpan(wr.Length, wr.Length);
        nothing.Clear();
        for (int k = 0; k < wr.Length; k++)
            power[k] = wr[k] * wr[k] + wi[k] * wi[k];
        spectrum.ToTime(power, nothing);
        double period = workspace.Scale.Period;
        int lag = LagPeaks.First(spectrum.WorkReal, spectrum.WorkImaginary, 1, workspace.Low, limit, period);
        if (lag < 0)
            return SpacingEstimate.None;
        (double spacing, _) = LagPeaks.Multiples(spectrum.WorkReal, 1, lag, spectrum.Reach, period);
        return WallSection.Of(workspace, spacing, true);
    }
}
