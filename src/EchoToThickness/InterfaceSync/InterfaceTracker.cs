using EchoToThickness.Evidence;
using EchoToThickness.Procedures;
using EchoToThickness.Stacks;

namespace EchoToThickness.InterfaceSync;

/// <summary>
/// Chooses among the interface candidates of a strip by looking at neighbours. A pure function of the strip: only the choices are
/// written. Exact rules: docs/gating.md, section 7.
/// </summary>
public static class InterfaceTracker
{
    /// <summary>Tracks the interface over a strip.</summary>
    /// <param name="strip">Candidates of every cell; takes the choices.</param>
    /// <param name="neighbours">Along which axes cells are neighbours; nothing is tied across other axes.</param>
    /// <param name="settings">Rule and largest believable change.</param>
    /// <remarks>
    /// Cost: about 600 operations a cell and axis for <see cref="TrackRule.Path"/> (4 candidates, gaps of up to 8 cells). Source of the
    /// method: Viterbi's dynamic programming with a truncated quadratic penalty, as used for horizons in seismic sections.
    /// </remarks>
    public static void Track(InterfaceStrip strip, NeighbourAxes neighbours, InterfaceSettings settings)
    {
        ArgumentNullException.ThrowIfNull(strip);
        ArgumentNullException.ThrowIfNull(settings);
        switch (settings.Track)
        {
            case TrackRule.Median:
                MedianTracking.Run(strip, neighbours, settings.MaxJumpSeconds);
                break;
            case TrackRule.Path:
                PathTracking.Run(strip, neighbours, settings.MaxJumpSeconds);
                break;
            case TrackRule.None:
                break;
            default:
                throw new ArgumentOutOfRangeException(nameof(settings), settings.Track, "Unknown tracking rule.");
        }
    }
}
