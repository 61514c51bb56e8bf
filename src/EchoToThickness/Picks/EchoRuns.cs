using EchoToThickness.Signals;

namespace EchoToThickness.Picks;

/// <summary>
/// Walks through the echoes of a window in order of time. An echo is a set of samples over the level in which neighbours are closer than
/// one period, so that the half waves of one pulse are one echo. Exact definition: docs/gating.md, section 5.
/// </summary>
/// <remarks>A ref struct over the caller's spans: no allocation. Cost: one comparison a sample.</remarks>
public ref struct EchoRuns
{
    private readonly EchoWindow _window;
    private readonly double _joinSamples;
    private readonly KernelPath _path;
    private int _next;

    /// <summary>Starts a walk.</summary>
    /// <param name="window">Window.</param>
    /// <param name="periodSamples">One period in samples; samples over the level that are less than this apart belong together.</param>
    /// <param name="path">Implementation; all give the same echoes.</param>
    public EchoRuns(EchoWindow window, double periodSamples, KernelPath path)
    {
        _path = path;
        _window = window;
        _joinSamples = periodSamples - 1e-9;
        _next = window.First;
    }

    /// <summary>The next echo.</summary>
    /// <param name="run">Takes it.</param>
    /// <returns>False when there is none.</returns>
    public bool Next(out EchoRun run)
    {
        int first = -1;
        int last = -1;
        int peak = -1;
        float highest = 0;
        int i = _window.SkipQuiet(_next, _path);
        for (; i < _window.End; i++)
        {
            float amplitude = _window.AmplitudeAt(i);
            if (!(amplitude >= _window.LevelAt(i)) || amplitude <= 0)
            {
                // The next sample over the level would be i + 1 at the earliest: too far away to belong to this echo?
                if (last >= 0 && i + 1 - last >= _joinSamples)
                    break;
                continue;
            }
            if (first < 0)
                first = i;
            last = i;
            if (amplitude > highest)
            {
                highest = amplitude;
                peak = i;
            }
        }
        _next = i;
        run = new EchoRun(first, last, peak, highest);
        return first >= 0;
    }
}
