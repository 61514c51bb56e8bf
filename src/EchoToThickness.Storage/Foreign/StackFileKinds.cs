using EchoToThickness.Stacks;
using Microsoft.Win32.SafeHandles;

namespace EchoToThickness.Storage.Foreign;

/// <summary>Tells what a path leads to.</summary>
public static class StackFileKinds
{
    private const int LargestUserBlock = 1 << 24;

    /// <summary>
    /// Looks at the first bytes. The HDF5 signature may stand at 0, 512, 1024, 2048, ... behind a user block (HDF5 file format
    /// specification version 3.0, section II.A).
    /// </summary>
    /// <param name="path">File or folder.</param>
    /// <exception cref="StackFormatException">There is nothing, it is empty, or it cannot be opened.</exception>
    public static StackFileKind Of(string path)
    {
        if (Directory.Exists(path))
            return StackFileKind.Folder;
        using SafeFileHandle handle = ForeignFile.Open(path);
        long length = RandomAccess.GetLength(handle);
        if (length == 0)
            throw new StackFormatException(
                "The file is empty (0 bytes).",
                path,
                "",
                "copy it again from its source, or export it anew."
            );
        Span<byte> head = stackalloc byte[8];
        for (long at = 0; at + 8 <= length && at <= LargestUserBlock; at = at == 0 ? 512 : 2 * at)
        {
            ForeignFile.ReadExactly(handle, path, at, head);
            if (IsHdf5(head))
                return StackFileKind.Hdf5;
            if (at == 0 && NpyHeader.Matches(head))
                return StackFileKind.Npy;
        }
        return StackFileKind.Raw;
    }

    private static bool IsHdf5(ReadOnlySpan<byte> head) =>
        head[0] == 0x89 && head[1..].SequenceEqual("HDF\r\n\u001a\n"u8);
}
