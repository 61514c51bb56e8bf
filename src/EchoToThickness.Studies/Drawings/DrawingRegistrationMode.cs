using EchoToThickness.Procedures;

namespace EchoToThickness.Studies.Drawings;

/// <summary>Where the place of a scan on a drawing comes from.</summary>
public enum DrawingRegistrationMode
{
    /// <summary>Found.</summary>
    [Choice(
        "automatic",
        "Found by laying the measured walls on the drawn ones; refused where the drawing does not decide."
    )]
    Automatic,

    /// <summary>Stated.</summary>
    [Choice("stated", "As stated by shift_along, shift_across and the two reversals.")]
    Stated,
}
