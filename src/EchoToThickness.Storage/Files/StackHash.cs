using System.Globalization;
using System.Security.Cryptography;
using System.Text.Json;
using EchoToThickness.Stacks;

namespace EchoToThickness.Storage.Files;

/// <summary>
/// SHA-256 of a file, computed on its own thread and handle beside other work, and remembered in <c>FILE.sha256.json</c>
/// with the size and time it was computed for. Where the folder cannot be written nothing is remembered.
/// </summary>
public static class StackHash
{
    private const int BlockBytes = 1 << 20;

    /// <summary>Starts hashing, or answers at once from the sidecar when size and time still fit.</summary>
    /// <param name="path">File.</param>
    /// <param name="cancellation">Stops the work.</param>
    /// <returns>Lower-case hexadecimal.</returns>
    /// <exception cref="StackFormatException">The file cannot be read.</exception>
    public static Task<string> StartAsync(string path, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(path);
        return Task.Factory.StartNew(
            () => Compute(path, cancellation),
            cancellation,
            TaskCreationOptions.LongRunning,
            TaskScheduler.Default
        );
    }

    /// <summary>Where the hash of a file is remembered.</summary>
    /// <param name="path">File.</param>
    public static string SidecarOf(string path) => path + ".sha256.json";

    private static string Compute(string path, CancellationToken cancellation)
    {
        try
        {
            FileInfo before = new(path);
            long size = before.Length;
            string time = Stamp(before);
            if (Remembered(path, size, time) is { } known)
                return known;
            using Microsoft.Win32.SafeHandles.SafeFileHandle handle = File.OpenHandle(path);
            using IncrementalHash hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
            byte[] block = GC.AllocateUninitializedArray<byte>(BlockBytes);
            long at = 0;
            while (RandomAccess.Read(handle, block, at) is int got && got > 0)
            {
                cancellation.ThrowIfCancellationRequested();
                hash.AppendData(block, 0, got);
                at += got;
            }
            string text = Convert.ToHexStringLower(hash.GetHashAndReset());
            FileInfo after = new(path);
            if (at != size || after.Length != size || Stamp(after) != time)
            {
                throw new StackFormatException(
                    "The file changed while it was being read.",
                    path,
                    "",
                    "wait until it is written completely, then run again."
                );
            }
            Remember(path, size, time, text);
            return text;
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw new StackFormatException(
                $"The file cannot be read for its SHA-256 ({e.Message.TrimEnd('.')}).",
                path,
                "",
                "check the path and the permissions.",
                e
            );
        }
    }

    private static string Stamp(FileInfo file) => file.LastWriteTimeUtc.ToString("O", CultureInfo.InvariantCulture);

    private static string? Remembered(string path, long size, string time)
    {
        try
        {
            using FileStream stream = File.OpenRead(SidecarOf(path));
            if (stream.Length > 4096)
                return null;
            using JsonDocument document = JsonDocument.Parse(stream);
            JsonElement root = document.RootElement;
            string? hash = root.GetProperty("sha256").GetString();
            bool fits =
                root.GetProperty("size_bytes").GetInt64() == size
                && root.GetProperty("modified_utc").GetString() == time
                && hash is { Length: 64 }
                && hash.AsSpan().IndexOfAnyExcept("0123456789abcdef") < 0;
            return fits ? hash : null;
        }
        catch (Exception e)
            when (e
                    is IOException
                        or UnauthorizedAccessException
                        or JsonException
                        or KeyNotFoundException
                        or InvalidOperationException
                        or FormatException
            )
        {
            // A missing or foreign sidecar means that nothing is remembered: the hash is computed.
            return null;
        }
    }

    private static void Remember(string path, long size, string time, string hash)
    {
        try
        {
            using AtomicFile file = AtomicFile.Create(SidecarOf(path));
            string json =
                $"{{\n  \"sha256\": \"{hash}\",\n  \"size_bytes\": {size.ToString(CultureInfo.InvariantCulture)},\n  \"modified_utc\": \"{time}\"\n}}\n";
            RandomAccess.Write(file.Handle, System.Text.Encoding.UTF8.GetBytes(json), 0);
            file.Commit(flushToDisk: false);
        }
        catch (Exception e) when (e is StackFormatException or IOException or UnauthorizedAccessException)
        {
            // The folder cannot be written: the hash is computed again next time.
            return;
        }
    }
}
