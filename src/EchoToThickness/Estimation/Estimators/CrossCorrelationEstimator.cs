using EchoToThickness.Echoes;
using EchoToThickness.Procedures;
using EchoToThickness.Signals;

namespace EchoToThickness.Estimation.Estimators;

/// <summary>Lag at which the interface, turned over, fits the first strong echo best; lags of the whole-sample correlation refined three ways.</summary>
/// <param name="interpolation">How the maximum is placed between lags.</param>
/// <remarks>
/// <c>argmax over l of Re sum over i of -conj(z[f + i]) z[e + i + l]</c> over three pulse deviations, l within three quarters of a
/// period. Both windows carry noise. Biases on a noiseless echo: <see cref="SubSample.Parabola"/> is pulled to the samples,
/// <see cref="SubSample.Cosine"/> by the curvature of the envelope only, <see cref="SubSample.Phase"/> by the lag's fraction of a sample
/// times the relative error of the frequency.
/// </remarks>
public sealed class CrossCorrelationEstimator(LagInterpolation interpolation) : IThicknessEstimator
{
    /// <inheritdoc/>
    public EstimationMethod Method => EstimationMethod.CrossCorrelation;

    /// <inheritdoc/>
    public SpacingEstimate Estimate(EstimationWorkspace workspace)
    {
        ArgumentNullException.ThrowIfNull(workspace);
        if (!EchoPair.Find(workspace, out int front, out int echo))
            return SpacingEstimate.None;
        EchoRecord record = workspace.Record;
        EchoScale scale = workspace.Scale;
        int lags = scale.TimingLags;
        // Both windows inside the record for every lag, and clear of each other.
        int half = Math.Min(scale.PulseHalfWindow, Math.Min(front, record.Length - 1 - echo - lags));
        half = Math.Min(half, (int)(0.55 * (echo - front)));
        if (half < scale.PulseSigma)
            return SpacingEstimate.None;
        int low = front - half;
        int count = 2 * half + 1;
        int best = 0;
        double highest = double.NegativeInfinity;
        for (int lag = -lags; lag <= lags; lag++)
        {
            double value = -At(record, low, echo - half + lag, count).Real;
            if (value > highest)
                (highest, best) = (value, lag);
        }
        if (!(highest > 0) || best == -lags || best == lags)
            return SpacingEstimate.None;
        int start = echo - half + best;
        (double before, double after) = (
            -At(record, low, start - 1, count).Real,
            -At(record, low, start + 1, count).Real
        );
        (double real, double imaginary) = At(record, low, start, count);
        double fraction = interpolation switch
        {
            LagInterpolation.Parabola => SubSample.Parabola(before, highest, after),
            LagInterpolation.Phase => SubSample.Phase(-real, -imaginary, 2 * Math.PI / scale.Period),
            _ => SubSample.Cosine(before, highest, after),
        };
        return EchoPair.Of(workspace, front, echo + best + fraction, echo);
    }

    private static (double Real, double Imaginary) At(EchoRecord record, int first, int second, int count) =>
        EchoCorrelation.Complex(record.Real, record.Imaginary, first, second, count);
}
