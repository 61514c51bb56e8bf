using System.Runtime.InteropServices;
using EchoToThickness.Stacks;
using Microsoft.Win32.SafeHandles;

namespace EchoToThickness.Storage.Files;

/// <summary>
/// A file under construction: written beside its place under a temporary name, moved there in one step by
/// <see cref="Commit"/>. Whatever ends the work before that leaves the old file as it was and nothing new.
/// </summary>
public sealed partial class AtomicFile : IDisposable
{
    private readonly string _temporary;
    private bool _done;

    private AtomicFile(string path, string temporary, SafeFileHandle handle)
    {
        Path = path;
        _temporary = temporary;
        Handle = handle;
    }

    /// <summary>Where the file will stand.</summary>
    public string Path { get; }

    /// <summary>The file being written; closed by <see cref="Commit"/>.</summary>
    public SafeFileHandle Handle { get; }

    /// <summary>Starts a file.</summary>
    /// <param name="path">Where it will stand; its folder must exist.</param>
    /// <exception cref="StackFormatException">The folder is missing or cannot be written, or the path is a device or pipe.</exception>
    public static AtomicFile Create(string path)
    {
        ArgumentException.ThrowIfNullOrEmpty(path);
        string full = System.IO.Path.GetFullPath(path);
        if (IsDevice(full))
            throw new StackFormatException(
                "A device or pipe cannot take a file that is put in place when it is complete.",
                path,
                "",
                "name an ordinary file."
            );
        string folder = System.IO.Path.GetDirectoryName(full) ?? full;
        string temporary = System.IO.Path.Combine(
            folder,
            $".{System.IO.Path.GetFileName(full)}.{Guid.NewGuid():n}.part"
        );
        try
        {
            if (Directory.Exists(full))
                throw new IOException("a folder has that name");
            return new AtomicFile(
                full,
                temporary,
                File.OpenHandle(temporary, FileMode.CreateNew, FileAccess.ReadWrite)
            );
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw new StackFormatException(
                e is UnauthorizedAccessException
                    ? $"The folder {folder} may not be written to."
                    : $"The file cannot be written ({e.Message.TrimEnd('.')}).",
                path,
                "",
                e is UnauthorizedAccessException
                    ? "change its permissions, or name another place for the output."
                    : "make the folder, or name another place for the output.",
                e
            );
        }
    }

    /// <summary>Whether a path leads, directly or over links, into the system's devices; a rename would replace the device itself.</summary>
    private static bool IsDevice(string full)
    {
        if (OperatingSystem.IsWindows())
            return false;
        string target = full;
        for (int links = 0; ; links++)
        {
            if (
                target.StartsWith("/proc/", StringComparison.Ordinal)
                || (
                    target.StartsWith("/dev/", StringComparison.Ordinal)
                    && !target.StartsWith("/dev/shm/", StringComparison.Ordinal)
                )
            )
                return true;
            if (links == 40 || new FileInfo(target).LinkTarget is not { } next)
                return false;
            target = System.IO.Path.GetFullPath(next, System.IO.Path.GetDirectoryName(target)!);
        }
    }

    /// <summary>Closes the file and puts it in its place, replacing what stood there.</summary>
    /// <param name="flushToDisk">Wait until the bytes are on the disk before the move, so that a power cut cannot lose both.</param>
    public void Commit(bool flushToDisk)
    {
        ObjectDisposedException.ThrowIf(_done, this);
        try
        {
            if (flushToDisk)
                RandomAccess.FlushToDisk(Handle);
            Handle.Dispose();
            if (!TryExchange(_temporary, Path))
                File.Move(_temporary, Path, overwrite: true);
            _done = true;
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw new StackFormatException(
                $"The finished file cannot be put in its place ({e.Message.TrimEnd('.')}).",
                Path,
                "",
                "close programs that hold it open, check permissions and free space, then run again.",
                e
            );
        }
    }

    /// <summary>Removes the temporary file unless it was committed.</summary>
    public void Dispose()
    {
        if (_done)
            return;
        _done = true;
        Handle.Dispose();
        try
        {
            File.Delete(_temporary);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            // The temporary name cannot be mistaken for a result.
            return;
        }
    }

    /// <summary>
    /// Swaps the new file and the old one in one step and removes the old. Same guarantee as a move over it, but ext4 answers such
    /// a move by writing the data out at once, which <see cref="Commit"/> leaves to its caller (2 ms for a grid of 3 MB).
    /// </summary>
    private static bool TryExchange(string temporary, string path)
    {
        const int CurrentFolder = -100;
        const uint Exchange = 2;
        if (!OperatingSystem.IsLinux() || !File.Exists(path))
            return false;
        try
        {
            if (RenameAt2(CurrentFolder, temporary, CurrentFolder, path, Exchange) != 0)
                return false;
        }
        catch (Exception e) when (e is EntryPointNotFoundException or DllNotFoundException)
        {
            return false;
        }
        File.Delete(temporary);
        return true;
    }

    [LibraryImport("libc", EntryPoint = "renameat2", StringMarshalling = StringMarshalling.Utf8)]
    private static partial int RenameAt2(int oldFolder, string oldPath, int newFolder, string newPath, uint flags);
}
