using System.Runtime.InteropServices;
using System.Text;
using System.Text.Json;

namespace EchoToThickness.Cli.Commands;

/// <summary>
/// What depends on the day and the machine, and so must not be in a grid: when, how long, on what, by which command line. Written beside
/// the grid as <c>GRID.run.json</c>.
/// </summary>
internal sealed record RunLog
{
    public required DateTimeOffset Started { get; init; }
    public required TimeSpan Duration { get; init; }
    public required int Threads { get; init; }
    public required long AScans { get; init; }
    public required string Stack { get; init; }
    public required string Procedure { get; init; }
    public required string Grid { get; init; }
    public required string StackSha256 { get; init; }

    public static string PathFor(string grid) => grid + ".run.json";

    public void Write()
    {
        using var text = new MemoryStream();
        using (var json = new Utf8JsonWriter(text, new JsonWriterOptions { Indented = true }))
        {
            json.WriteStartObject();
            json.WriteString("program", $"ett {VersionCommand.Version}");
            json.WriteString("started_utc", Started.UtcDateTime);
            json.WriteNumber("duration_seconds", Math.Round(Duration.TotalSeconds, 6));
            json.WriteNumber("ascans", AScans);
            json.WriteNumber("ascans_per_second", Math.Round(AScans / Math.Max(Duration.TotalSeconds, 1e-9)));
            json.WriteNumber("threads", Threads);
            json.WriteString("stack", Stack);
            json.WriteString("stack_sha256", StackSha256);
            json.WriteString("procedure", Procedure);
            json.WriteString("grid", Grid);
            json.WriteNumber("processors", Environment.ProcessorCount);
            json.WriteString("runtime", RuntimeInformation.FrameworkDescription);
            json.WriteString("system", RuntimeInformation.OSDescription);
            json.WriteString("architecture", RuntimeInformation.ProcessArchitecture.ToString());
            json.WriteEndObject();
        }
        Files.WriteText(PathFor(Grid), Encoding.UTF8.GetString(text.ToArray()) + "\n");
    }
}
