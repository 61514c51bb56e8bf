using System.Text.Json;

namespace EchoToThickness.Tests.Validation;

/// <summary>Values of <c>testdata/validation/reference.json</c>: made by SciPy, see the README beside it.</summary>
internal static class ReferenceData
{
    private static readonly JsonDocument Document = JsonDocument.Parse(
        File.ReadAllText(RepositoryFiles.PathOf("testdata", "validation", "reference.json"))
    );

    public static JsonElement Of(string name) => Document.RootElement.GetProperty(name);

    public static double[] Numbers(this JsonElement element, string name) =>
        element.GetProperty(name).EnumerateArray().Select(e => e.GetDouble()).ToArray();

    public static double Number(this JsonElement element, string name) => element.GetProperty(name).GetDouble();

    public static string[] Names(this JsonElement element, string name) =>
        element.GetProperty(name).EnumerateArray().Select(e => e.GetRawText()).ToArray();

    /// <summary>Rows of numbers below the second "Data:" line of a NIST reference set.</summary>
    public static double[][] NistRows(string name) =>
        File.ReadLines(RepositoryFiles.PathOf("testdata", "checks", "data", "nist", name + ".dat"))
            .Skip(60)
            .Select(line => line.Split(' ', StringSplitOptions.RemoveEmptyEntries))
            .Where(fields => fields.Length > 0)
            .Select(fields =>
                fields.Select(f => double.Parse(f, System.Globalization.CultureInfo.InvariantCulture)).ToArray()
            )
            .ToArray();

    /// <summary>Relative comparison; absolute about zero.</summary>
    public static void Close(double expected, double actual, double relative) =>
        Xunit.Assert.True(
            Math.Abs(actual - expected) <= relative * Math.Max(Math.Abs(expected), 1e-300) || actual == expected,
            $"expected {expected:R}, found {actual:R}, allowed {relative:G2} relative"
        );
}
