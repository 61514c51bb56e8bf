namespace EchoToThickness.Studies.Compare;

/// <summary>Which cells of a source a row is about.</summary>
public enum GroupKind
{
    /// <summary>All of them.</summary>
    Source,

    /// <summary>Those with one swept key at one value, whatever the others.</summary>
    Margin,

    /// <summary>Those whose true wall lies in a band.</summary>
    Band,

    /// <summary>Those with the same thing planted in them, or nothing.</summary>
    Planted,

    /// <summary>Those of one point.</summary>
    Point,
}
