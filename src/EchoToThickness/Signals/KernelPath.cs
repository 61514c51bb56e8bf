namespace EchoToThickness.Signals;

/// <summary>
/// Which implementation of a kernel runs. All three make the same picks; filters and correlations give the same bits, because every
/// output is summed in the same order with fused multiply-adds whatever the vector width.
/// </summary>
public enum KernelPath
{
    /// <summary>One sample at a time: the reference the others are tested against.</summary>
    Scalar,

    /// <summary><see cref="System.Numerics.Vector{T}"/>: whatever width the machine has (128 bits on Arm, 256 on most x64).</summary>
    Portable,

    /// <summary><see cref="System.Runtime.Intrinsics.Vector512{T}"/>.</summary>
    Wide,
}
