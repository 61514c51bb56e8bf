using EchoToThickness.Procedures;

namespace EchoToThickness.Simulation.Scenes;

/// <summary>The direction of the scan.</summary>
public enum ScanDirection
{
    /// <summary>lines run along the component, the array lies around</summary>
    [Choice("along", "lines run along the component, the array lies around")]
    Along,

    /// <summary>lines run around the girth, the array lies along</summary>
    [Choice("around", "lines run around the girth, the array lies along")]
    Around,
}
