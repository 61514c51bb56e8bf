using EchoToThickness.Echoes;
using EchoToThickness.Procedures;

namespace EchoToThickness.Estimation.Estimators;

/// <summary>First strong maximum of the record filtered with the reference echo, turned over.</summary>
/// <remarks>
/// <c>argmax over t of -sum over n of w[n + t] h[n]</c> over the band of the pulse: the maximum-likelihood time of one echo of known
/// shape (Kay 1993, example 7.15; Turin 1960). The interface's own echo is taken out first. Cosine through three lags.
/// </remarks>
public sealed class MatchedFilterEstimator : IThicknessEstimator
{
    /// <inheritdoc/>
    public EstimationMethod Method => EstimationMethod.MatchedFilter;

    /// <inheritdoc/>
    public SpacingEstimate Estimate(EstimationWorkspace workspace)
    {
        ArgumentNullException.ThrowIfNull(workspace);
        EchoSpectrum spectrum = workspace.Spectrum;
        int lag = LagPeaks.First(
            spectrum.MatchedReal,
            spectrum.MatchedImaginary,
            -1,
            workspace.Low,
            workspace.High,
            workspace.Scale.Period
        );
        if (lag < 0 || !(spectrum.Energy > 0))
            return SpacingEstimate.None;
        EchoRecord record = workspace.Record;
        double front = record.Envelope[workspace.Front];
        double share = -spectrum.MatchedReal[lag] / spectrum.Energy;
        return SpacingEstimate.None with
        {
            Found = true,
            SpacingSamples = LagPeaks.Refine(spectrum.MatchedReal, -1, lag),
            BoundSamples = workspace.PairBound(front, share * front),
            // Deflection r / (sigma sqrt(E)).
            SignalRatio = share * Math.Sqrt(spectrum.Energy) / workspace.WhiteNoiseFraction,
            FirstOrder = 0,
            LastOrder = 1,
            Decay = 1,
            WallFraction = share * front,
        };
    }
}
