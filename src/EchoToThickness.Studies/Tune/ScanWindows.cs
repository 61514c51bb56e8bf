using EchoToThickness.Stacks;

namespace EchoToThickness.Studies.Tune;

/// <summary>The contiguous parts into which a stack is cut: what few cells are measured first, and what cross-validation leaves out.</summary>
internal static class ScanWindows
{
    /// <summary>Windows of a stack that has as many scan positions.</summary>
    public const int Most = 18;

    /// <summary>Number of windows.</summary>
    public static int Count(StackShape shape) => Math.Min(Most, shape.Scans);

    /// <summary>Scan positions of a window.</summary>
    public static (int First, int Count) Of(StackShape shape, int window)
    {
        int count = Count(shape);
        int first = (int)((long)window * shape.Scans / count);
        int end = (int)((long)(window + 1) * shape.Scans / count);
        return (first, end - first);
    }

    /// <summary>Fold of a window.</summary>
    public static int FoldOf(int window, int windows, int folds) => window * folds / windows;

    /// <summary>The windows that stand for a part of a stack: spread evenly, and those of a smaller part among those of a larger.</summary>
    public static int[] Part(int windows, double part)
    {
        int wanted = Math.Clamp((int)Math.Ceiling(part * windows - 1e-9), 1, windows);
        // Van der Corput's sequence in base 2 visits everything evenly at any time.
        return
        [
            .. Enumerable
                .Range(0, 4 * Most * Most)
                .Select(i => (int)(Reversed((uint)i) / 4294967296.0 * windows))
                .Distinct()
                .Take(wanted)
                .Order(),
        ];
    }

    private static uint Reversed(uint bits)
    {
        uint reversed = 0;
        for (int i = 0; i < 32; i++, bits >>= 1)
            reversed = (reversed << 1) | (bits & 1);
        return reversed;
    }
}
