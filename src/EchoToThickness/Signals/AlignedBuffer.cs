using System.Runtime.CompilerServices;

namespace EchoToThickness.Signals;

/// <summary>Scratch whose origin lies on a cache line, so that vectors stored from there never straddle two lines. Zero at first.</summary>
internal static class AlignedBuffer
{
    private const int LineFloats = 16;

    /// <summary>Makes a buffer.</summary>
    /// <param name="before">Elements needed before the origin.</param>
    /// <param name="after">Elements needed from the origin on.</param>
    /// <param name="origin">Index of the origin.</param>
    public static unsafe float[] Create(int before, int after, out int origin)
    {
        // Pinned for its whole life: the address, and with it the alignment, does not change.
        float[] buffer = GC.AllocateArray<float>(before + LineFloats + after, pinned: true);
        nuint address = (nuint)Unsafe.AsPointer(ref buffer[before]);
        origin = before + (int)((LineFloats - address / sizeof(float) % LineFloats) % LineFloats);
        return buffer;
    }
}
