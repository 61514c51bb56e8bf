using EchoToThickness.Echoes;
using EchoToThickness.Procedures;

namespace EchoToThickness.Estimation.Estimators;

/// <summary>
/// Gabor echoes of one shape fitted to interface and walls (<see cref="GaborFit"/>), started from the sparse pursuit, added one by one while the
/// information criterion falls; the spacing is the line through their times.
/// </summary>
/// <remarks>
/// One shape for all echoes keeps the carrier: with a phase of its own each echo would be timed by its envelope only. Fails on pulses that are not
/// Gabor-like, and where a start lies a cycle off.
/// </remarks>
public sealed class ParametricEstimator : IThicknessEstimator
{
    /// <summary>Iterations that show whether an echo pays; the start lies within a tenth of a period of the end.</summary>
    private const int TrialIterations = 4;

    /// <inheritdoc/>
    public EstimationMethod Method => EstimationMethod.Parametric;

    /// <inheritdoc/>
    public SpacingEstimate Estimate(EstimationWorkspace workspace)
    {
        ArgumentNullException.ThrowIfNull(workspace);
        double stretch = SparseEstimator.Find(workspace);
        SparseFit atoms = workspace.Sparse;
        if (atoms.Count == 0)
            return SpacingEstimate.None;
        EchoRecord record = workspace.Record;
        EchoScale scale = workspace.Scale;
        int lead = Math.Min(workspace.Spectrum.Lead, workspace.Front);
        int from = workspace.Front - lead;
        double latest = 0;
        foreach (double time in atoms.Times)
            latest = Math.Max(latest, time);
        int count = Math.Min(record.Length - from, (int)(lead + latest + 3 * scale.PulseSigma));
        ReadOnlySpan<float> samples = record.Input.Slice(from, count);
        GaborFit fit = workspace.Gabor;
        double real = record.Real[workspace.Front];
        double imaginary = record.Imaginary[workspace.Front];
        double front = record.Envelope[workspace.Front];
        fit.Begin(0.5 / (scale.PulseSigma * scale.PulseSigma), 2 * Math.PI / scale.Period, Math.Atan2(imaginary, real));
        fit.Add(lead, front);
        fit.Run(samples, TrialIterations);
        double criterion = fit.Criterion(count);
        int kept = 0;
        for (; kept < atoms.Count; kept++)
        {
            fit.Add(fit.Times[0] + atoms.Times[kept], atoms.Amplitudes[kept] * fit.Amplitudes[0]);
            fit.Run(samples, TrialIterations);
            double next = fit.Criterion(count);
            if (next >= criterion)
                break;
            criterion = next;
        }
        if (kept < atoms.Count)
            fit.RemoveLast();
        if (kept == 0)
            return SpacingEstimate.None;
        fit.Run(samples);
        Span<double> times = stackalloc double[GaborFit.MaximumEchoes];
        Span<double> amplitudes = stackalloc double[GaborFit.MaximumEchoes];
        for (int e = 0; e < kept; e++)
        {
            times[e] = fit.Times[e + 1] - fit.Times[0];
            amplitudes[e] = fit.Amplitudes[e + 1] / fit.Amplitudes[0];
        }
        return AtomTrain.Best(workspace, times[..kept], amplitudes[..kept], stretch);
    }
}
