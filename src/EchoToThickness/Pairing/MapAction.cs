namespace EchoToThickness.Pairing;

/// <summary>What the choice over the map does to a cell.</summary>
public enum MapAction
{
    /// <summary>The cell's own result stands.</summary>
    Keep,

    /// <summary>The chosen hypothesis is timed by the cell's own echoes and becomes the wall.</summary>
    Time,

    /// <summary>The chosen hypothesis is timed and becomes the full wall; the cell's own wall becomes the depth of a reflector before it.</summary>
    TimeBehindReflector,

    /// <summary>The cell's own wall is thicker than what is likelier, which cannot be measured either: no number.</summary>
    Refuse,
}
