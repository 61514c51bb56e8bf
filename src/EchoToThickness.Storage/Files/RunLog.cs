using System.Globalization;
using System.Runtime.InteropServices;
using System.Text.Json;

namespace EchoToThickness.Storage.Files;

/// <summary>
/// What depends on the moment and the machine (start, duration, threads, processor count, system), kept out of results so that
/// they are the same byte for byte: a sidecar <c>RESULT.log.json</c>.
/// </summary>
public static class RunLog
{
    /// <summary>Where the log of a result stands.</summary>
    /// <param name="resultPath">The result.</param>
    public static string SidecarOf(string resultPath) => resultPath + ".log.json";

    /// <summary>Writes the log of a run, replacing the previous one.</summary>
    /// <param name="resultPath">The result the log belongs to.</param>
    /// <param name="startedUtc">When the run began.</param>
    /// <param name="durationSeconds">How long it took.</param>
    /// <param name="threads">Worker threads.</param>
    /// <param name="entries">Further entries, in order; names are unique.</param>
    /// <exception cref="Stacks.StackFormatException">The place cannot be written.</exception>
    public static void Write(
        string resultPath,
        DateTimeOffset startedUtc,
        double durationSeconds,
        int threads,
        IReadOnlyList<KeyValuePair<string, string>> entries
    )
    {
        ArgumentNullException.ThrowIfNull(entries);
        using MemoryStream stream = new();
        using (Utf8JsonWriter json = new(stream, new JsonWriterOptions { Indented = true }))
        {
            json.WriteStartObject();
            json.WriteString("started_utc", startedUtc.UtcDateTime.ToString("O", CultureInfo.InvariantCulture));
            json.WriteNumber("duration_seconds", durationSeconds);
            json.WriteNumber("threads", threads);
            json.WriteNumber("processors", Environment.ProcessorCount);
            json.WriteString("system", RuntimeInformation.OSDescription);
            json.WriteString("architecture", RuntimeInformation.ProcessArchitecture.ToString());
            json.WriteString("runtime", RuntimeInformation.FrameworkDescription);
            foreach ((string name, string value) in entries)
                json.WriteString(name, value);
            json.WriteEndObject();
        }
        using AtomicFile file = AtomicFile.Create(SidecarOf(resultPath));
        RandomAccess.Write(file.Handle, stream.ToArray(), 0);
        file.Commit(flushToDisk: false);
    }
}
