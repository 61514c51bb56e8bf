namespace EchoToThickness.Velocity;

/// <summary>Published polynomials for the speed of sound in pure water at one atmosphere.</summary>
public enum WaterEquation
{
    /// <summary>Bilaniuk and Wong 1993, erratum 1996, 148-point equation, ITS-90.</summary>
    BilaniukWong148,

    /// <summary>Bilaniuk and Wong 1993, erratum 1996, 112-point equation, ITS-90.</summary>
    BilaniukWong112,

    /// <summary>Bilaniuk and Wong 1993, erratum 1996, 36-point equation, ITS-90.</summary>
    BilaniukWong36,

    /// <summary>Marczak 1997, J. Acoust. Soc. Am. 102:2776-2779.</summary>
    Marczak,

    /// <summary>Del Grosso and Mader 1972, J. Acoust. Soc. Am. 52:1442-1446, table III (IPTS-68).</summary>
    DelGrossoMader,
}
