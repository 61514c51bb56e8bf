namespace EchoToThickness.Stacks;

/// <summary>Where positions along the component count from.</summary>
public enum LineOrigin
{
    /// <summary>The start of the component: on an elbow the outer end of the first straight end (its weld).</summary>
    ComponentStart,

    /// <summary>The middle of the bend (of the length on plate and pipe), with positions of both signs.</summary>
    MidBend,

    /// <summary>A datum at <see cref="LinePlacement.DatumMetres"/>.</summary>
    Datum,
}
