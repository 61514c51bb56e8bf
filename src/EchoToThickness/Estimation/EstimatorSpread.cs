using EchoToThickness.Procedures;

namespace EchoToThickness.Estimation;

/// <summary>
/// How far an estimator stays above the Cramér-Rao bound of the echoes it uses, measured on an exact plate: its uncertainty is
/// <c>sqrt((ratio × bound)^2 + floor^2)</c>.
/// </summary>
/// <param name="Ratio">Root mean square error over the bound, from 15 to 30 dB, wrong echoes left out: the inverse root of its efficiency.</param>
/// <param name="FloorPeriods">Error that no signal-to-noise ratio removes (interpolation, ends of the record, model order), in periods.</param>
/// <remarks>Measured by <c>tools/validation/EchoToThickness.EstimatorStudy</c>; the table is in docs/theory/estimators.md.</remarks>
public readonly record struct EstimatorSpread(double Ratio, double FloorPeriods)
{
    /// <summary>The spread of a method.</summary>
    /// <param name="method">A method with an estimator of its own.</param>
    public static EstimatorSpread Of(EstimationMethod method) =>
        method switch
        {
            EstimationMethod.Flank => new(7.9, 2e-4),
            EstimationMethod.Peak => new(1.05, 3e-4),
            EstimationMethod.ZeroCrossing => new(1.12, 4e-4),
            EstimationMethod.EnvelopePeak => new(6.8, 1e-4),
            EstimationMethod.CrossCorrelation => new(1.05, 1e-4),
            EstimationMethod.MatchedFilter => new(1.01, 1e-4),
            EstimationMethod.Autocorrelation => new(1.15, 1e-3),
            EstimationMethod.Cepstrum => new(1.1, 1.3e-3),
            EstimationMethod.Resonance => new(1.25, 1.4e-3),
            EstimationMethod.Deconvolution => new(3.1, 1.2e-2),
            EstimationMethod.Sparse => new(1.01, 1e-4),
            EstimationMethod.Parametric => new(1.01, 1e-4),
            EstimationMethod.JointFit => new(1.02, 3e-5),
            _ => throw new ArgumentOutOfRangeException(
                nameof(method),
                method,
                "The train rule states its uncertainty itself."
            ),
        };

    /// <summary>Standard uncertainty of a spacing, samples.</summary>
    /// <param name="boundSamples">Its Cramér-Rao bound.</param>
    /// <param name="periodSamples">One period.</param>
    public double Uncertainty(double boundSamples, double periodSamples) =>
        Math.Sqrt(
            Ratio * Ratio * boundSamples * boundSamples + FloorPeriods * FloorPeriods * periodSamples * periodSamples
        );
}
