using EchoToThickness.Picks;

namespace EchoToThickness.Gating;

/// <summary>What one gate did with one A-scan.</summary>
public record struct GateOutcome
{
    /// <summary>Whether the followed echo was there, so that the gate had a place.</summary>
    public bool Placed { get; set; }

    /// <summary>Start, seconds from the pulse.</summary>
    public double StartSeconds { get; set; }

    /// <summary>End, seconds from the pulse.</summary>
    public double EndSeconds { get; set; }

    /// <summary>First sample.</summary>
    public int FirstIndex { get; set; }

    /// <summary>One past the last sample, cut to the record.</summary>
    public int EndIndex { get; set; }

    /// <summary>Level at the first sample, fraction of full scale.</summary>
    public float Level { get; set; }

    /// <summary>The gate would hold samples past the end of the record.</summary>
    public bool CutByRecord { get; set; }

    /// <summary>The echo taken.</summary>
    public GatedEcho Echo { get; set; }

    /// <summary>The strongest other echo of the gate.</summary>
    public GatedEcho Rival { get; set; }

    /// <summary>
    /// How clear the choice was: for <c>strongest</c> 1 - amplitude of the rival / amplitude, for <c>first</c> and <c>last</c>
    /// 1 - the largest amplitude / level before or after the echo. 0 a tie, 1 no rival.
    /// </summary>
    public double Margin { get; set; }

    /// <summary>
    /// The echo is the followed one's ring-down (or is cut by the start of the gate): already over the level at the first sample, and the
    /// pick within one sample of it.
    /// </summary>
    public bool IsRingDown { get; set; }
}
