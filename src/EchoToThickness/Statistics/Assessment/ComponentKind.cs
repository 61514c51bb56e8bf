namespace EchoToThickness.Statistics.Assessment;

/// <summary>What is assessed; decides which methods apply.</summary>
public enum ComponentKind
{
    /// <summary>Straight pipe.</summary>
    StraightPipe,

    /// <summary>Pipe bend or elbow.</summary>
    Bend,

    /// <summary>Cylindrical shell of a vessel.</summary>
    CylindricalShell,

    /// <summary>Spherical shell or head.</summary>
    SphericalShell,

    /// <summary>Plate or anything else.</summary>
    Other,
}
