using EchoToThickness.Procedures;
using EchoToThickness.Stacks;
using EchoToThickness.Storage.Hdf5;
using EchoToThickness.Storage.Layouts;

namespace EchoToThickness.Storage.Foreign;

/// <summary>A layout map joined with one line of one file: resolves paths and makes errors that name both.</summary>
/// <param name="Document">The map with its places.</param>
/// <param name="Path">Data file or folder.</param>
/// <param name="File">Open HDF5 file; null for other formats.</param>
/// <param name="Group">Group from which relative paths count.</param>
internal sealed record LayoutContext(TomlDocument<LayoutMap> Document, string Path, Hdf5File? File, string Group)
{
    public LayoutMap Map => Document.Value;

    /// <summary>The layout map does not suit the file, or contradicts itself.</summary>
    public ProcedureException MapFault(string key, string what, string remedy) =>
        new([new ProcedureFinding(key, what + " Stack: " + Path + ".", remedy) { Place = Document.PlaceOf(key) }]);

    /// <summary>The file lacks or contradicts what the map says of it.</summary>
    public StackFormatException DataFault(string key, string objectPath, string what, string remedy) =>
        new(what, Path, objectPath, $"{remedy.TrimEnd('.')} ({key} in {Document.PlaceOf(key)}).");

    /// <summary>An object path from the root: absolute as it is, relative from the group.</summary>
    public string Resolve(string objectPath) =>
        objectPath.StartsWith('/') ? objectPath
        : objectPath.Length == 0 ? Group
        : Group.TrimEnd('/') + "/" + objectPath;

    /// <summary>The file, for a fact that only HDF5 can hold.</summary>
    public Hdf5File Require(string key) =>
        File
        ?? throw MapFault(
            key,
            "Only HDF5 files hold datasets and attributes.",
            "give the fact as a constant: { value = \"...\" }."
        );
}
