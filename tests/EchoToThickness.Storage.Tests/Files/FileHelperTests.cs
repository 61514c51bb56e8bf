using System.Security.Cryptography;
using System.Text.Json;
using EchoToThickness.Stacks;
using EchoToThickness.Storage.Files;
using Xunit;

namespace EchoToThickness.Storage.Tests.Files;

public sealed class FileHelperTests
{
    [Fact]
    public async Task The_hash_is_that_of_the_bytes_and_is_remembered_until_they_change()
    {
        using TemporaryFolder folder = new();
        string path = folder.File("stack.h5");
        byte[] bytes = new byte[3_000_001];
        new Random(5).NextBytes(bytes);
        File.WriteAllBytes(path, bytes);
        string expected = Convert.ToHexStringLower(SHA256.HashData(bytes));
        Assert.Equal(expected, await StackHash.StartAsync(path, TestContext.Current.CancellationToken));
        // A remembered hash is taken as it stands while size and time fit: a marked one proves that nothing was read.
        string sidecar = StackHash.SidecarOf(path);
        string marked = new('0', 64);
        File.WriteAllText(sidecar, File.ReadAllText(sidecar).Replace(expected, marked, StringComparison.Ordinal));
        Assert.Equal(marked, await StackHash.StartAsync(path, TestContext.Current.CancellationToken));
        File.SetLastWriteTimeUtc(path, new DateTime(2020, 1, 1, 0, 0, 0, DateTimeKind.Utc));
        Assert.Equal(expected, await StackHash.StartAsync(path, TestContext.Current.CancellationToken));
        File.WriteAllText(sidecar, "{ broken");
        Assert.Equal(expected, await StackHash.StartAsync(path, TestContext.Current.CancellationToken));
    }

    [Fact]
    public async Task A_missing_file_is_named()
    {
        using TemporaryFolder folder = new();
        StackFormatException e = await Assert.ThrowsAsync<StackFormatException>(() =>
            StackHash.StartAsync(folder.File("absent.h5"), TestContext.Current.CancellationToken)
        );
        Assert.Equal(folder.File("absent.h5"), e.File);
    }

    // A rename over /dev/null or /dev/stdout, run as root, would take the device away from everybody. Tried over links only, which
    // are all that a failure here could replace.
    [Theory]
    [InlineData("/dev/null")]
    [InlineData("/dev/stdout")]
    [InlineData("/proc/self/fd/1")]
    public void A_device_is_never_replaced(string device)
    {
        if (OperatingSystem.IsWindows())
            return; // has no such names
        using TemporaryFolder folder = new();
        string first = folder.File("first");
        string second = folder.File("second");
        File.CreateSymbolicLink(first, device);
        File.CreateSymbolicLink(second, "first");
        StackFormatException e = Assert.Throws<StackFormatException>(() => AtomicFile.Create(second));
        Assert.Equal(second, e.File);
        Assert.Contains("device", e.Message, StringComparison.Ordinal);
        Assert.Equal(2, Directory.GetFileSystemEntries(Path.GetDirectoryName(first)!).Length);
    }

    [Fact]
    public void A_replaced_file_is_old_or_new_never_half()
    {
        using TemporaryFolder folder = new();
        string path = folder.File("out.bin");
        File.WriteAllText(path, "old");
        using (AtomicFile file = AtomicFile.Create(path))
        {
            RandomAccess.Write(file.Handle, "new, but not finished"u8, 0);
            Assert.Equal("old", File.ReadAllText(path));
        }
        Assert.Equal("old", File.ReadAllText(path));
        using (AtomicFile file = AtomicFile.Create(path))
        {
            RandomAccess.Write(file.Handle, "new"u8, 0);
            file.Commit(flushToDisk: true);
        }
        Assert.Equal("new", File.ReadAllText(path));
        Assert.Single(Directory.GetFiles(folder.Path));
    }

    [Fact]
    public void The_run_log_is_json_beside_the_result()
    {
        using TemporaryFolder folder = new();
        string result = folder.File("grid.h5");
        RunLog.Write(result, DateTimeOffset.UnixEpoch, 1.25, 2, [new("stack", "plate.h5")]);
        using JsonDocument log = JsonDocument.Parse(File.ReadAllText(RunLog.SidecarOf(result)));
        Assert.Equal(1.25, log.RootElement.GetProperty("duration_seconds").GetDouble());
        Assert.Equal("plate.h5", log.RootElement.GetProperty("stack").GetString());
        Assert.Equal("1970-01-01T00:00:00.0000000Z", log.RootElement.GetProperty("started_utc").GetString());
    }
}
