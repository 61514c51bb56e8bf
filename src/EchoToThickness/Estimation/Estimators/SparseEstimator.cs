using EchoToThickness.Procedures;

namespace EchoToThickness.Estimation.Estimators;

/// <summary>The few copies of the reference echo that explain the record (orthogonal matching pursuit, times refined off the grid), and their spacing.</summary>
public sealed class SparseEstimator : IThicknessEstimator
{
    /// <summary>A copy stands so many noise deviations over what is left: one chance hit in some 300 records of a thousand samples.</summary>
    internal const double AtomRatio = 4.2;

    /// <inheritdoc/>
    public EstimationMethod Method => EstimationMethod.Sparse;

    /// <inheritdoc/>
    public SpacingEstimate Estimate(EstimationWorkspace workspace)
    {
        ArgumentNullException.ThrowIfNull(workspace);
        double stretch = Find(workspace);
        return AtomTrain.Best(workspace, workspace.Sparse.Times, workspace.Sparse.Amplitudes, stretch);
    }

    /// <summary>Runs the pursuit over the whole record behind the interface: repeats beyond the range of walls carry the spacing too.</summary>
    /// <returns>End of the stretch in which echoes are expected, samples behind the interface.</returns>
    internal static double Find(EstimationWorkspace workspace)
    {
        double period = workspace.Scale.Period;
        // A copy is whole: an echo that the record's end cuts would be moved by what it lacks.
        double reach = workspace.Spectrum.Reach - 3 * workspace.Scale.PulseSigma;
        workspace.Sparse.Run(workspace.Low - 0.6 * period, reach, workspace.WhiteNoiseFraction, AtomRatio, period);
        return reach;
    }
}
