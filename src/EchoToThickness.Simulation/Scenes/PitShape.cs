using EchoToThickness.Procedures;

namespace EchoToThickness.Simulation.Scenes;

/// <summary>The shape of a pit.</summary>
public enum PitShape
{
    /// <summary>cap of a sphere</summary>
    [Choice("spherical", "cap of a sphere")]
    Spherical,

    /// <summary>half of an ellipsoid</summary>
    [Choice("ellipsoidal", "half of an ellipsoid")]
    Ellipsoidal,

    /// <summary>upright sides and a flat bottom</summary>
    [Choice("cylindrical", "upright sides and a flat bottom")]
    Cylindrical,

    /// <summary>a cone</summary>
    [Choice("conical", "a cone")]
    Conical,
}
