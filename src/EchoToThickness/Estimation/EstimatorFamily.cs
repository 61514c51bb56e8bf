using EchoToThickness.Estimation.Estimators;
using EchoToThickness.Procedures;

namespace EchoToThickness.Estimation;

/// <summary>Makes the estimators by name.</summary>
public static class EstimatorFamily
{
    /// <summary>All methods that have an estimator of their own: every one but <see cref="EstimationMethod.Train"/>.</summary>
    public static IReadOnlyList<EstimationMethod> Methods { get; } =
        Enum.GetValues<EstimationMethod>().Where(method => method != EstimationMethod.Train).ToArray();

    /// <summary>Makes the estimator that settings ask for.</summary>
    /// <param name="settings">The settings; their method is not <see cref="EstimationMethod.Train"/>.</param>
    /// <exception cref="ArgumentOutOfRangeException">The method is the pairing rule's own.</exception>
    public static IThicknessEstimator Create(EstimationSettings settings)
    {
        ArgumentNullException.ThrowIfNull(settings);
        return settings.Method switch
        {
            EstimationMethod.Flank => new FlankEstimator(settings.FlankFraction),
            EstimationMethod.Peak => new PeakEstimator(),
            EstimationMethod.ZeroCrossing => new ZeroCrossingEstimator(),
            EstimationMethod.EnvelopePeak => new EnvelopePeakEstimator(),
            EstimationMethod.CrossCorrelation => new CrossCorrelationEstimator(settings.Interpolation),
            EstimationMethod.MatchedFilter => new MatchedFilterEstimator(),
            EstimationMethod.Autocorrelation => new AutocorrelationEstimator(),
            EstimationMethod.Cepstrum => new CepstrumEstimator(),
            EstimationMethod.Resonance => new ResonanceEstimator(),
            EstimationMethod.Deconvolution => new DeconvolutionEstimator(),
            EstimationMethod.Sparse => new SparseEstimator(),
            EstimationMethod.Parametric => new ParametricEstimator(),
            EstimationMethod.JointFit => new JointFitEstimator(settings.FitPhase, settings.FitAttenuation),
            _ => throw new ArgumentOutOfRangeException(
                nameof(settings),
                settings.Method,
                "The train rule times its echoes itself; it is no member of the family."
            ),
        };
    }
}
