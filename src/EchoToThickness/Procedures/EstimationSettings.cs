using EchoToThickness.Units;

namespace EchoToThickness.Procedures;

/// <summary>Section <c>[estimation]</c>: what turns the echoes of one A-scan into a wall. Used with the pairing rule <c>train</c>.</summary>
public sealed record EstimationSettings
{
    /// <summary>The estimator.</summary>
    [ProcedureKey(
        "method",
        "What turns the echoes into a wall; all but 'train' are for comparison and for walls whose echoes overlap."
    )]
    public EstimationMethod Method { get; init; } = EstimationMethod.Train;

    /// <summary>Where it looks.</summary>
    [ProcedureKey("search", "Where the estimator looks for the wall.")]
    public EstimationSearch Search { get; init; } = EstimationSearch.Train;

    /// <summary>Reference echo.</summary>
    [ProcedureKey("reference", "Reference echo of 'matched-filter', 'deconvolution', 'sparse' and 'joint-fit'.")]
    public EchoReference Reference { get; init; } = EchoReference.Interface;

    /// <summary>Samples of the calibration echo.</summary>
    [ProcedureKey(
        "calibration_echo",
        "Samples of the echo used by reference = \"calibration\", at the sample rate of the stack, interface polarity."
    )]
    public IReadOnlyList<double> CalibrationEcho { get; init; } = [];

    /// <summary>How lags are refined.</summary>
    [ProcedureKey("interpolation", "How 'cross-correlation' places its maximum between lags.")]
    public LagInterpolation Interpolation { get; init; } = LagInterpolation.Cosine;

    /// <summary>Fraction of the peak at which a flank is timed.</summary>
    [ProcedureKey(
        "flank_fraction",
        "Fraction of its own peak at which 'flank' times an envelope.",
        Dimension.Fraction,
        Minimum = 0.05,
        Maximum = 0.95
    )]
    public double FlankFraction { get; init; } = 0.5;

    /// <summary>Whether the phase of the walls against the interface is fitted.</summary>
    [ProcedureKey(
        "fit_phase",
        "Whether 'joint-fit' lets the back-wall echoes differ from the reference by one phase (diffraction, films); needs two echoes."
    )]
    public bool FitPhase { get; init; }

    /// <summary>Whether attenuation that grows with frequency is fitted.</summary>
    [ProcedureKey(
        "fit_attenuation",
        "Whether 'joint-fit' lets the echoes lose high frequencies from bounce to bounce."
    )]
    public bool FitAttenuation { get; init; }

    /// <summary>Peak-to-noise ratio, or the square root of twice the log likelihood ratio, under which nothing is believed.</summary>
    [ProcedureKey(
        "weakest_ratio",
        "Peak-to-noise ratio, or the square root of twice the log likelihood ratio, under which a wall is not believed.",
        Minimum = 1,
        Maximum = 100
    )]
    public double WeakestRatio { get; init; } = 5;
}
