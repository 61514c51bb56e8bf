using System.Runtime.InteropServices;
using EchoToThickness.Procedures;
using EchoToThickness.Stacks;
using EchoToThickness.Storage.Foreign;
using EchoToThickness.Storage.Layouts;
using Xunit;

namespace EchoToThickness.Storage.Tests.Foreign;

/// <summary>Paths, and the sample formula shared with tools/testdata/make_foreign.py.</summary>
internal static class ForeignFixtures
{
    public const int Scans = 5;
    public const int Beams = 4;
    public const int Samples = 64;

    public static string Root { get; } = FindRoot();

    public static string At(string name) => Path.Combine(Root, "foreign", name);

    public static string FullWave(string name) => Path.Combine(Root, "fullwave", name + ".h5");

    public static string Layout(string name) => Path.Combine(Root, "layouts", name + ".toml");

    public static IEnumerable<string> FullWaveStacks() =>
        Directory
            .EnumerateFiles(Path.Combine(Root, "fullwave"), "*.h5")
            .Select(f => Path.GetFileNameWithoutExtension(f))
            .Order();

    /// <summary>The formula in the head of make_foreign.py.</summary>
    public static int Value(int scan, int beam, int sample) => (31 * scan + 7 * beam + 1) * (sample + 3) % 2003 - 1001;

    public static TomlDocument<LayoutMap> Map(string toml) => LayoutFile.Parse(toml, "map.toml");

    public static IReadOnlyList<(string Line, IAScanSource Source)> Open(string file, string toml) =>
        StackOpener.Open(file, Map(toml));

    public static IAScanSource OpenOne(string file, string toml) => Assert.Single(Open(file, toml)).Source;

    /// <summary>All samples, shape [scan, beam, sample].</summary>
    public static T[] ReadAll<T>(IAScanSource source)
        where T : unmanaged
    {
        using IAScanReader reader = source.OpenReader();
        AScanBlock block = reader.Lend(0, source.Info.Shape.Scans, 0, source.Info.Shape.Beams);
        return MemoryMarshal.Cast<byte, T>(block.Bytes).ToArray();
    }

    /// <summary>The formula over a range of scan positions, shape [scan, beam, sample].</summary>
    public static T[] Expected<T>(Func<int, T> convert, int firstScan = 0, int scans = Scans, int beams = Beams)
    {
        T[] values = new T[scans * beams * Samples];
        int at = 0;
        for (int scan = firstScan; scan < firstScan + scans; scan++)
        for (int beam = 0; beam < beams; beam++)
        for (int sample = 0; sample < Samples; sample++)
            values[at++] = convert(Value(scan, beam, sample));
        return values;
    }

    /// <summary>Asks for every rectangle of cells and compares it with the whole; catches windows and partial blocks.</summary>
    public static void AssertEveryRectangle<T>(IAScanSource source)
        where T : unmanaged
    {
        T[] all = ReadAll<T>(source);
        (int scans, int beams, int samples) = source.Info.Shape;
        using IAScanReader reader = source.OpenReader();
        for (int s0 = 0; s0 < scans; s0++)
        for (int s1 = s0 + 1; s1 <= scans; s1++)
        for (int b0 = 0; b0 < beams; b0++)
        for (int b1 = b0 + 1; b1 <= beams; b1++)
        {
            AScanBlock block = reader.Lend(s0, s1 - s0, b0, b1 - b0);
            for (int s = s0; s < s1; s++)
            for (int b = b0; b < b1; b++)
                Assert.True(
                    block.AScan<T>(s - s0, b - b0).SequenceEqual(all.AsSpan((s * beams + b) * samples, samples)),
                    $"scan {s} beam {b} in block {s0}..{s1} x {b0}..{b1}"
                );
        }
    }

    private static string FindRoot()
    {
        for (DirectoryInfo? at = new(AppContext.BaseDirectory); at is not null; at = at.Parent)
        {
            string candidate = Path.Combine(at.FullName, "testdata");
            if (Directory.Exists(Path.Combine(candidate, "foreign")))
                return candidate;
        }
        throw new DirectoryNotFoundException("testdata/foreign is in no folder above " + AppContext.BaseDirectory);
    }
}
