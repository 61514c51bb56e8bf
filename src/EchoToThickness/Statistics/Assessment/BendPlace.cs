namespace EchoToThickness.Statistics.Assessment;

/// <summary>Place around the section of a bend.</summary>
public enum BendPlace
{
    /// <summary>Inside of the bend.</summary>
    Intrados,

    /// <summary>Outside of the bend.</summary>
    Extrados,

    /// <summary>Sidewall on the centreline radius (crown, cheek).</summary>
    Crown,
}
