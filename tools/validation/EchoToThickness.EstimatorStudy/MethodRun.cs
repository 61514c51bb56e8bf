using System.Diagnostics;
using EchoToThickness.Echoes;
using EchoToThickness.Estimation;
using EchoToThickness.Pairing;
using EchoToThickness.Procedures;
using EchoToThickness.Signals;

namespace EchoToThickness.EstimatorStudy;

/// <summary>One method on the records of one thread.</summary>
internal sealed class MethodRun
{
    private readonly StudyOptions _options;
    private readonly EchoScale _scale;
    private readonly EchoRecord _record;
    private readonly EstimationWorkspace _workspace;
    private readonly TrainDecider _decider;
    private readonly IThicknessEstimator? _estimator;
    private readonly TrainSettings _train = new() { Neighbours = false };

    public MethodRun(string name, StudyOptions options)
    {
        _options = options;
        _scale = new EchoScale(options.SampleRateHz, options.FrequencyHz, options.BandwidthFraction);
        _record = new EchoRecord(options.Samples, _scale, 0, KernelPaths.Best);
        _workspace = new EstimationWorkspace(options.Samples, _scale, options.Reference, []);
        _decider = new TrainDecider(_train, options.Samples, _scale, null, 0);
        _estimator = name == "train" ? null : EstimatorFamily.Create(SettingsOf(name));
    }

    public static IEnumerable<string> Names =>
        KeyDescription.ChoicesOf(typeof(EstimationMethod)).Select(c => c.Choice.Word);

    public Span<float> Input => _record.Input;

    /// <summary>Measures the record in <see cref="Input"/>: wall, bound of the echoes used, both in metres; NaN when refused.</summary>
    public (double Wall, double Bound) Measure()
    {
        double metres = PlateRecord.VelocityMetresPerSecond / 2 / _options.SampleRateHz;
        _record.Prepare(_train.CandidateLevel, _train.InterfaceFraction);
        if (_record.Count == 0)
            return (double.NaN, double.NaN);
        if (_estimator is null)
        {
            TrainOutcome outcome = _decider.Decide(_record, 1e-4);
            return (
                outcome.SpacingSeconds * _options.SampleRateHz * metres,
                outcome.SpacingUncertaintySeconds * _options.SampleRateHz * metres
            );
        }
        _workspace.Begin(_record, 0, 1e-3 * _options.LowMillimetres / metres, 1e-3 * _options.HighMillimetres / metres);
        SpacingEstimate estimate = _estimator.Estimate(_workspace);
        return estimate.Found
            ? (estimate.SpacingSamples * metres, estimate.BoundSamples * metres)
            : (double.NaN, double.NaN);
    }

    /// <summary>Seconds for one A-scan: filter, candidates and estimator, over records already in memory.</summary>
    public double Seconds(PlateRecord plate)
    {
        var records = new float[200][];
        for (int i = 0; i < records.Length; i++)
        {
            records[i] = new float[_options.Samples];
            plate.Make(records[i], 1e-3 * _options.WallsMillimetres[i % _options.WallsMillimetres.Count], 26, (ulong)i);
        }
        double best = double.PositiveInfinity;
        for (int round = 0; round < 6; round++)
        {
            long start = Stopwatch.GetTimestamp();
            foreach (float[] record in records)
            {
                record.CopyTo(Input);
                Measure();
            }
            best = Math.Min(best, Stopwatch.GetElapsedTime(start).TotalSeconds / records.Length);
        }
        return best;
    }

    private static EstimationSettings SettingsOf(string name)
    {
        // cross-correlation/parabola, joint-fit/phase and the like.
        string[] parts = name.Split('/');
        object method = KeyDescription.ChoicesOf(typeof(EstimationMethod)).First(c => c.Choice.Word == parts[0]).Value;
        var settings = new EstimationSettings { Method = (EstimationMethod)method };
        return parts.Length == 1
            ? settings
            : parts[1] switch
            {
                "parabola" => settings with { Interpolation = LagInterpolation.Parabola },
                "phase" when settings.Method == EstimationMethod.CrossCorrelation => settings with
                {
                    Interpolation = LagInterpolation.Phase,
                },
                "phase" => settings with { FitPhase = true },
                "attenuation" => settings with { FitAttenuation = true },
                _ => throw new ArgumentException($"Unknown variant '{parts[1]}' of '{parts[0]}'."),
            };
    }
}
