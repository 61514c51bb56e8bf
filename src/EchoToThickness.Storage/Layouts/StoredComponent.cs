using EchoToThickness.Procedures;

namespace EchoToThickness.Storage.Layouts;

/// <summary>The shape that was scanned, as a layout map says it.</summary>
public enum StoredComponent
{
    /// <summary>Flat plate or reference block.</summary>
    [Choice("plate", "Flat plate or reference block.")]
    Plate,

    /// <summary>Straight pipe.</summary>
    [Choice("pipe", "Straight pipe.")]
    Pipe,

    /// <summary>Pipe elbow.</summary>
    [Choice("elbow", "Pipe elbow.")]
    Elbow,
}
