using EchoToThickness.Signals;

namespace EchoToThickness.Picks;

/// <summary>A window on one record, the sign that counts in it and its level. Docs/gating.md, sections 3 and 4.</summary>
public readonly ref struct EchoWindow
{
    /// <summary>Makes a window.</summary>
    /// <param name="signal">Shape [sample]: the whole record; needs to be valid inside the window and one sample beyond either end.</param>
    /// <param name="sign">+1 only positive samples count, -1 only negative, 0 both.</param>
    /// <param name="first">First sample of the window.</param>
    /// <param name="end">One past its last sample.</param>
    /// <param name="level">Level at the first sample.</param>
    /// <param name="levels">Shape [end - first]: level by sample; empty when it is the same everywhere.</param>
    /// <exception cref="ArgumentException">The window leaves the record, or the levels do not fit it.</exception>
    public EchoWindow(
        ReadOnlySpan<float> signal,
        int sign,
        int first,
        int end,
        float level,
        ReadOnlySpan<float> levels = default
    )
    {
        if (first < 0 || end > signal.Length)
            throw new ArgumentException(
                $"The window {first}..{end} leaves the record of {signal.Length} samples.",
                nameof(first)
            );
        if (!levels.IsEmpty && levels.Length != end - first)
            throw new ArgumentException($"{levels.Length} levels do not fit {end - first} samples.", nameof(levels));
        Signal = signal;
        Sign = sign;
        First = first;
        End = end;
        Level = level;
        Levels = levels;
    }

    /// <summary>Shape [sample]: the whole record.</summary>
    public ReadOnlySpan<float> Signal { get; }

    /// <summary>+1 only positive samples count, -1 only negative, 0 both.</summary>
    public int Sign { get; }

    /// <summary>First sample of the window.</summary>
    public int First { get; }

    /// <summary>One past the last sample of the window.</summary>
    public int End { get; }

    /// <summary>Level at the first sample.</summary>
    public float Level { get; }

    /// <summary>Shape [end - first]: level by sample; empty when it is the same everywhere.</summary>
    public ReadOnlySpan<float> Levels { get; }

    /// <summary>Level of a sample of the window.</summary>
    /// <param name="index">Sample of the record, inside the window.</param>
    public float LevelAt(int index) => Levels.IsEmpty ? Level : Levels[index - First];

    /// <summary>Amplitude of a sample: its magnitude, or its value in the direction of <see cref="Sign"/>.</summary>
    /// <param name="index">Sample of the record.</param>
    public float AmplitudeAt(int index) =>
        Sign == 0 ? Math.Abs(Signal[index])
        : Sign > 0 ? Signal[index]
        : -Signal[index];

    /// <summary>Largest amplitude in a part of the window; 0 when it holds none.</summary>
    /// <param name="first">First sample.</param>
    /// <param name="end">One past the last.</param>
    /// <param name="path">Implementation; all give the same value.</param>
    public float Largest(int first, int end, KernelPath path)
    {
        ReadOnlySpan<float> samples = Signal[first..end];
        if (Sign == 0)
            return Math.Max(Magnitude.Largest(samples, path), 0);
        if (Sign > 0)
            return Math.Max(Magnitude.LargestSigned(samples, path), 0);
        float smallest = 0;
        foreach (float sample in samples)
            smallest = Math.Min(smallest, sample);
        return -smallest;
    }

    /// <summary>First sample of the rest of the window that may be over the level: the samples passed over are not.</summary>
    /// <param name="first">First sample looked at.</param>
    /// <param name="path">Implementation; all give the same index.</param>
    /// <returns>Its index; <see cref="End"/> when no more can be.</returns>
    public int SkipQuiet(int first, KernelPath path)
    {
        if (!Levels.IsEmpty || Level <= 0 || Sign < 0)
            return first;
        ReadOnlySpan<float> samples = Signal[first..End];
        int i =
            Sign == 0
                ? Magnitude.FirstAtLeast(samples, Level, path)
                : Magnitude.FirstSignedAtLeast(samples, Level, path);
        return i < 0 ? End : first + i;
    }
}
