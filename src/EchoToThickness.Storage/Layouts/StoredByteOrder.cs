using EchoToThickness.Procedures;

namespace EchoToThickness.Storage.Layouts;

/// <summary>Byte order of raw samples.</summary>
public enum StoredByteOrder
{
    /// <summary>Least significant byte first.</summary>
    [Choice("little", "Least significant byte first.")]
    Little,

    /// <summary>Most significant byte first.</summary>
    [Choice("big", "Most significant byte first.")]
    Big,
}
