namespace EchoToThickness.Storage.Hdf5;

/// <summary>Class of the layout.</summary>
internal enum LayoutKind
{
    Compact,
    Contiguous,
    Chunked,
    Virtual,
}
