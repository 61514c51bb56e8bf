namespace EchoToThickness.Storage.Describe;

/// <summary>A group or dataset of an HDF5 file, or the array of another file.</summary>
/// <param name="Path">Path in the file; empty for the array of a file without objects.</param>
/// <param name="Shape">Extents; null for a group.</param>
/// <param name="Type">Stored type in words; empty for a group.</param>
/// <param name="Storage">How it is stored, in words; empty for a group.</param>
/// <param name="Attributes">Attributes with their values as text.</param>
public sealed record DescribedObject(
    string Path,
    IReadOnlyList<long>? Shape,
    string Type,
    string Storage,
    IReadOnlyList<(string Name, string Value)> Attributes
);
