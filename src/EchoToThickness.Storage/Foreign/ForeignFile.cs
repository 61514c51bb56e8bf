using EchoToThickness.Stacks;
using Microsoft.Win32.SafeHandles;

namespace EchoToThickness.Storage.Foreign;

/// <summary>Opens and reads files with typed errors.</summary>
internal static class ForeignFile
{
    public static SafeFileHandle Open(string path)
    {
        try
        {
            return File.OpenHandle(path, FileMode.Open, FileAccess.Read, FileShare.Read, FileOptions.RandomAccess);
        }
        catch (Exception e) when (IsFileFault(e))
        {
            throw CannotOpen(path, e);
        }
    }

    public static long Length(string path)
    {
        try
        {
            return new FileInfo(path).Length;
        }
        catch (Exception e) when (IsFileFault(e))
        {
            throw CannotOpen(path, e);
        }
    }

    /// <summary>Fills the span; a file that ends early is a fault.</summary>
    public static void ReadExactly(SafeFileHandle handle, string path, long offset, Span<byte> destination)
    {
        try
        {
            while (destination.Length > 0)
            {
                int got = RandomAccess.Read(handle, destination, offset);
                if (got == 0)
                {
                    throw new StackFormatException(
                        $"The file ends at byte {offset}, inside the samples.",
                        path,
                        "",
                        "it was truncated while open: copy it again."
                    );
                }
                destination = destination[got..];
                offset += got;
            }
        }
        catch (IOException e)
        {
            throw new StackFormatException(
                $"Reading at byte {offset} failed ({e.Message.TrimEnd('.')}).",
                path,
                "",
                "check the disk or the network share, then try again.",
                e
            );
        }
    }

    /// <summary>The first bytes of a file; fewer when it is shorter.</summary>
    public static byte[] Head(string path, int count)
    {
        using SafeFileHandle handle = Open(path);
        byte[] bytes = new byte[(int)Math.Min(count, RandomAccess.GetLength(handle))];
        ReadExactly(handle, path, 0, bytes);
        return bytes;
    }

    private static bool IsFileFault(Exception e) =>
        e is IOException or UnauthorizedAccessException or ArgumentException or NotSupportedException;

    private static StackFormatException CannotOpen(string path, Exception e) =>
        new(
            $"The file cannot be opened ({e.Message.TrimEnd('.')}).",
            path,
            "",
            "check the path and the permissions.",
            e
        );
}
