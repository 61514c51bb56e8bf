using System.Reflection;
using EchoToThickness.Procedures;

namespace EchoToThickness.Simulation.Scenes;

/// <summary>The scenarios that ship with the program: the files of docs/scenarios.</summary>
public static class SceneCatalog
{
    private const string Prefix = "scenarios/";
    private const string Ending = ".toml";

    /// <summary>Names of the scenarios, ordinal order.</summary>
    public static IReadOnlyList<string> Names { get; } =
    [
        .. typeof(SceneCatalog)
            .Assembly.GetManifestResourceNames()
            .Where(name => name.StartsWith(Prefix, StringComparison.Ordinal))
            .Select(name => name[Prefix.Length..^Ending.Length])
            .Order(StringComparer.Ordinal),
    ];

    /// <summary>Text of a scenario's file.</summary>
    /// <param name="name">A name from <see cref="Names"/>.</param>
    /// <exception cref="ArgumentException">There is no such scenario.</exception>
    public static string Text(string name)
    {
        ArgumentNullException.ThrowIfNull(name);
        using Stream stream =
            Assembly.GetExecutingAssembly().GetManifestResourceStream(Prefix + name + Ending)
            ?? throw new ArgumentException(
                $"There is no scenario '{name}'; there are {string.Join(", ", Names)}.",
                nameof(name)
            );
        using var reader = new StreamReader(stream);
        return reader.ReadToEnd();
    }

    /// <summary>A scenario, read and checked.</summary>
    /// <param name="name">A name from <see cref="Names"/>.</param>
    public static TomlDocument<Scene> Read(string name) => SceneText.Read(Text(name), name + Ending);
}
