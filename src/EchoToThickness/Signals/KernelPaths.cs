using System.Numerics;
using System.Runtime.Intrinsics;

namespace EchoToThickness.Signals;

/// <summary>Choice of a <see cref="KernelPath"/> for the machine.</summary>
public static class KernelPaths
{
    /// <summary>The fastest path that this machine runs in hardware.</summary>
    public static KernelPath Best =>
        Vector512.IsHardwareAccelerated ? KernelPath.Wide
        : Vector.IsHardwareAccelerated ? KernelPath.Portable
        : KernelPath.Scalar;
}
