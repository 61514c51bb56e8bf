using EchoToThickness.Evidence;

namespace EchoToThickness.Pairing;

/// <summary>What one cell of a scan line brings to its neighbours: its own result and the evidence behind it.</summary>
public struct TrainCell
{
    /// <summary>The cell's own result.</summary>
    public CellResult Result;

    /// <summary>Which rule decided.</summary>
    public TrainReason Reason;

    /// <summary>Whether a train was found at all.</summary>
    public bool HasTrain;

    /// <summary>Whether a single echo carries the result, or the interface is missing.</summary>
    public bool IsSingle;

    /// <summary>Strength of the echo that carries the wall against the interface, decibels; NaN when none.</summary>
    public double RelativeDecibels;

    /// <summary>Interface, noise and candidate echoes.</summary>
    public CellEvidence Evidence;

    /// <summary>Whether the wall was measured.</summary>
    public readonly bool IsMeasured => Result.Status == CellStatus.Measured && !double.IsNaN(Result.ThicknessMetres);
}
