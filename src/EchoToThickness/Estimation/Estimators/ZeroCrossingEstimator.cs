using EchoToThickness.Picks;
using EchoToThickness.Procedures;

namespace EchoToThickness.Estimation.Estimators;

/// <summary>Zero crossing behind the highest half wave of interface and first strong echo: <see cref="ZeroCrossingPick"/>.</summary>
/// <remarks>Independent of amplitude; bias as <see cref="ZeroCrossingPick.After"/>, common to both echoes but for their sub-sample places.</remarks>
public sealed class ZeroCrossingEstimator : IThicknessEstimator
{
    /// <inheritdoc/>
    public EstimationMethod Method => EstimationMethod.ZeroCrossing;

    /// <inheritdoc/>
    public SpacingEstimate Estimate(EstimationWorkspace workspace)
    {
        ArgumentNullException.ThrowIfNull(workspace);
        if (!EchoPair.Find(workspace, out int front, out int echo))
            return SpacingEstimate.None;
        ReadOnlySpan<float> signal = workspace.Record.Real;
        (_, int early, int late) = EchoPair.HalfWaves(workspace, front, echo);
        return EchoPair.Of(
            workspace,
            ZeroCrossingPick.After(signal, early, signal.Length),
            ZeroCrossingPick.After(signal, late, signal.Length),
            echo
        );
    }
}
