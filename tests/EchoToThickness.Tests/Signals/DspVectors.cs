using System.Text.Json;
using EchoToThickness.Signals;
using Xunit;

namespace EchoToThickness.Tests.Signals;

/// <summary>Reads testdata/dsp and makes test signals.</summary>
internal static class DspVectors
{
    public static readonly KernelPath[] Paths = [KernelPath.Scalar, KernelPath.Portable, KernelPath.Wide];

    public static TheoryData<KernelPath> AllPaths => [.. Paths];

    public static string Folder
    {
        get
        {
            for (string? at = AppContext.BaseDirectory; at is not null; at = Path.GetDirectoryName(at))
            {
                string folder = Path.Combine(at, "testdata", "dsp");
                if (Directory.Exists(folder))
                    return folder;
            }
            throw new DirectoryNotFoundException("testdata/dsp is in no folder above " + AppContext.BaseDirectory);
        }
    }

    public static JsonElement Read(string file) =>
        JsonDocument.Parse(File.ReadAllText(Path.Combine(Folder, file))).RootElement;

    public static JsonElement Scipy(string id) =>
        Read("scipy.json")
            .GetProperty("vectors")
            .EnumerateArray()
            .Single(v => v.GetProperty("id").GetString() == id)
            .GetProperty("output");

    public static double[] Data(string name) => Doubles(Read("scipy.json").GetProperty("data").GetProperty(name));

    public static double[] Doubles(JsonElement array) => array.EnumerateArray().Select(v => v.GetDouble()).ToArray();

    public static float[] Floats(double[] values) => values.Select(v => (float)v).ToArray();

    /// <summary>Values with many magnitudes and both signs; no ties by accident.</summary>
    public static float[] Noise(int count, int seed)
    {
        var random = new Random(seed);
        return Enumerable.Range(0, count).Select(_ => (float)(random.NextDouble() - 0.5)).ToArray();
    }

    public static void Near(double[] expected, ReadOnlySpan<double> actual, double tolerance)
    {
        Assert.Equal(expected.Length, actual.Length);
        for (int i = 0; i < expected.Length; i++)
            Assert.True(
                Math.Abs(expected[i] - actual[i]) <= tolerance,
                $"Element {i}: expected {expected[i]}, got {actual[i]}, tolerance {tolerance}."
            );
    }

    public static void Near(double[] expected, ReadOnlySpan<float> actual, double tolerance) =>
        Near(expected, actual.ToArray().Select(v => (double)v).ToArray(), tolerance);
}
