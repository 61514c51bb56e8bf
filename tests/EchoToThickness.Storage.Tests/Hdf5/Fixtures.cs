using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using EchoToThickness.Stacks;

namespace EchoToThickness.Storage.Tests.Hdf5;

/// <summary>Paths and the sample formula shared with tools/testdata/make_hdf5_fixtures.py.</summary>
internal static class Fixtures
{
    public static readonly long[] Shape = [7, 11, 40];

    public static string Folder { get; } = FindFolder();

    public static string Path(string name) => System.IO.Path.Combine(Folder, name);

    public static int Formula(long s, long b, long i) => (int)((7919 * s + 104729 * b + 31 * i + i * i % 977) % 65536);

    public static byte[] Expected(SampleType type, long[] start, long[] count)
    {
        byte[] bytes = new byte[count[0] * count[1] * count[2] * type.SizeBytes()];
        int at = 0;
        for (long s = start[0]; s < start[0] + count[0]; s++)
        for (long b = start[1]; b < start[1] + count[1]; b++)
        for (long i = start[2]; i < start[2] + count[2]; i++)
            Put(bytes, at++, type, Formula(s, b, i));
        return bytes;
    }

    private static void Put(byte[] bytes, int at, SampleType type, int v)
    {
        switch (type)
        {
            case SampleType.Int8:
                bytes[at] = (byte)(sbyte)(v % 256 - 128);
                break;
            case SampleType.UInt8:
                bytes[at] = (byte)(v % 256);
                break;
            case SampleType.Int16:
                MemoryMarshal.Cast<byte, short>(bytes.AsSpan())[at] = (short)(v - 32768);
                break;
            case SampleType.UInt16:
                MemoryMarshal.Cast<byte, ushort>(bytes.AsSpan())[at] = (ushort)v;
                break;
            case SampleType.Float32:
                MemoryMarshal.Cast<byte, float>(bytes.AsSpan())[at] = (float)((v - 32768) / 7.0);
                break;
            default:
                MemoryMarshal.Cast<byte, double>(bytes.AsSpan())[at] = (v - 32768) / 7.0;
                break;
        }
    }

    private static string FindFolder([CallerFilePath] string source = "")
    {
        // Deterministic builds rewrite the source path, so the folder is searched upwards from the test assembly.
        for (DirectoryInfo? at = new(AppContext.BaseDirectory); at is not null; at = at.Parent)
        {
            string candidate = System.IO.Path.Combine(at.FullName, "testdata", "hdf5");
            if (Directory.Exists(candidate))
                return candidate;
        }
        throw new DirectoryNotFoundException(
            $"testdata/hdf5 was not found above {AppContext.BaseDirectory} ({source})."
        );
    }
}
