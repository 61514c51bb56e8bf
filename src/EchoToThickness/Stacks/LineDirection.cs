namespace EchoToThickness.Stacks;

/// <summary>How a scan line runs on the component.</summary>
public enum LineDirection
{
    /// <summary>Along the component; the array lies around it (across a plate).</summary>
    Along,

    /// <summary>Around the girth (across a plate); the array lies along.</summary>
    Around,
}
