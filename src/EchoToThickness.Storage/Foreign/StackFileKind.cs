namespace EchoToThickness.Storage.Foreign;

/// <summary>What a path leads to, told from its first bytes.</summary>
public enum StackFileKind
{
    /// <summary>HDF5, native or foreign.</summary>
    Hdf5,

    /// <summary>NumPy array file.</summary>
    Npy,

    /// <summary>Anything else: raw samples, if a layout map says so.</summary>
    Raw,

    /// <summary>A folder.</summary>
    Folder,
}
