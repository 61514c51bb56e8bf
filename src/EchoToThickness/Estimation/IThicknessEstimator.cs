using EchoToThickness.Procedures;

namespace EchoToThickness.Estimation;

/// <summary>
/// One way from a record to the round trip of one wall. Compiled once per plan, immutable, shared by threads; all scratch belongs to
/// the <see cref="EstimationWorkspace"/>, one a thread. No call allocates. Equations, sources, cost and limits: docs/theory/estimators.md.
/// </summary>
public interface IThicknessEstimator
{
    /// <summary>Its name in a procedure.</summary>
    EstimationMethod Method { get; }

    /// <summary>Estimates the spacing of the record that the workspace holds.</summary>
    /// <param name="workspace">Begun with a record, its interface and a range of spacings.</param>
    SpacingEstimate Estimate(EstimationWorkspace workspace);
}
