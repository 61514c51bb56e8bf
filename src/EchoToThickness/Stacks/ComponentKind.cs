namespace EchoToThickness.Stacks;

/// <summary>The shape that was scanned.</summary>
public enum ComponentKind
{
    /// <summary>Flat plate or reference block.</summary>
    Plate,

    /// <summary>Straight pipe.</summary>
    Pipe,

    /// <summary>Pipe elbow (a torus section).</summary>
    Elbow,
}
