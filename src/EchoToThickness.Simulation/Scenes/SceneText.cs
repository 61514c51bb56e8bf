using EchoToThickness.Procedures;

namespace EchoToThickness.Simulation.Scenes;

/// <summary>Scenes as TOML. Every quantity is text with its unit; the text written is complete and canonical.</summary>
public static class SceneText
{
    /// <summary>Reads a scene and keeps the place of every key, for later messages.</summary>
    /// <param name="toml">Text of the file.</param>
    /// <param name="fileName">Name for messages.</param>
    /// <exception cref="ProcedureException">Every fault found, each with file, line, column, key and the fix.</exception>
    public static TomlDocument<Scene> Read(string toml, string fileName) => Read(toml, fileName, []);

    /// <summary>The same with keys set from outside, in order; they replace what the file says.</summary>
    /// <param name="toml">Text of the file.</param>
    /// <param name="fileName">Name for messages.</param>
    /// <param name="overrides">Keys and values.</param>
    /// <exception cref="ProcedureException">Every fault found, those of overrides with their own place.</exception>
    public static TomlDocument<Scene> Read(string toml, string fileName, IReadOnlyList<TomlOverride> overrides)
    {
        TomlDocument<Scene> document = TomlBinder.Read<Scene>(toml, fileName, overrides);
        IReadOnlyList<ProcedureFinding> findings = document.Locate(SceneCheck.Findings(document.Value));
        return findings.Count == 0 ? document : throw new ProcedureException(findings);
    }

    /// <summary>Writes a scene with every default, keys in a fixed order, lines ended by line feeds.</summary>
    /// <param name="scene">The scene.</param>
    /// <param name="withComments">Whether each key carries its description as a comment.</param>
    public static string Write(Scene scene, bool withComments = false) => TomlBinder.Write(scene, withComments);
}
