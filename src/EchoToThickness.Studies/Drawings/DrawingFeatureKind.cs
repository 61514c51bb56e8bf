namespace EchoToThickness.Studies.Drawings;

/// <summary>What a feature of a drawing is.</summary>
public enum DrawingFeatureKind
{
    /// <summary>The wall outside of all others.</summary>
    Block,

    /// <summary>A machined step.</summary>
    Step,

    /// <summary>A flat-bottom hole.</summary>
    Hole,

    /// <summary>A pit.</summary>
    Pit,
}
