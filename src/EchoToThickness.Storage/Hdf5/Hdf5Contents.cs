namespace EchoToThickness.Storage.Hdf5;

/// <summary>What a walk over a file found; paths from the root, parents before children.</summary>
/// <param name="Groups">Groups, the root included.</param>
/// <param name="Datasets">Datasets, each by the first hard link that leads to it.</param>
/// <param name="RefusedLinks">Links into other files.</param>
public sealed record Hdf5Contents(
    IReadOnlyList<string> Groups,
    IReadOnlyList<string> Datasets,
    IReadOnlyList<string> RefusedLinks
);
