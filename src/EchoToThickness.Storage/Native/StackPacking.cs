namespace EchoToThickness.Storage.Native;

/// <summary>How the A-scans of a written stack are stored.</summary>
public enum StackPacking
{
    /// <summary>Chunks of whole scan lines: shuffle, deflate level 1, Fletcher-32.</summary>
    Deflate,

    /// <summary>Chunks of whole scan lines with Fletcher-32 only.</summary>
    Checksum,

    /// <summary>One run without checksum: fastest to read, but a flipped sample cannot be noticed.</summary>
    Contiguous,
}
