namespace EchoToThickness.Components;

/// <summary>Part of a component whose metal is one population rather than another.</summary>
public enum SurfaceZone
{
    /// <summary>A plate, or a straight pipe.</summary>
    Whole,

    /// <summary>Outside of a bend: within 45 degrees of the extrados.</summary>
    Extrados,

    /// <summary>The cheek (crown) at 90 degrees, clockwise looking downstream.</summary>
    CheekClockwise,

    /// <summary>Inside of a bend: within 45 degrees of the intrados.</summary>
    Intrados,

    /// <summary>The cheek (crown) at 270 degrees.</summary>
    CheekAnticlockwise,

    /// <summary>Straight pipe before and behind a bend.</summary>
    StraightEnds,
}
