using System.Text;
using EchoToThickness.Procedures;
using EchoToThickness.Simulation.Scenes;

namespace EchoToThickness.Studies.StudyFiles;

/// <summary>The folder of a study: where the files that it names are looked for.</summary>
internal sealed class StudyFolder(string studyPath)
{
    private const long LongestBytes = 4 << 20;

    private string Folder { get; } = Path.GetDirectoryName(Path.GetFullPath(studyPath)) ?? "";

    /// <summary>The path of a file named in the study.</summary>
    /// <param name="name">Name as written.</param>
    /// <param name="what">What it is, for messages.</param>
    /// <param name="key">Key that names it.</param>
    /// <param name="place">Place of the key.</param>
    /// <param name="mayBeFolder">Whether a folder will do.</param>
    /// <param name="hint">What to do when it is not there.</param>
    public string Find(
        string name,
        string what,
        string key,
        string place,
        bool mayBeFolder = false,
        string hint = "check the name; files are looked for beside the study."
    )
    {
        string path = Path.Combine(Folder, name);
        if (File.Exists(path) || (mayBeFolder && Directory.Exists(path)))
            return path;
        throw new ProcedureException([
            new ProcedureFinding(
                key,
                Directory.Exists(path)
                    ? $"{name} is a folder, not a {what} file."
                    : $"There is no {what} {name} in {Folder}.",
                hint
            )
            {
                Place = place,
            },
        ]);
    }

    /// <summary>Text of a scene file or of a shipped scenario, and the folder of the files that it names.</summary>
    /// <param name="name">Name as written.</param>
    /// <param name="key">Key that names it.</param>
    /// <param name="place">Place of the key.</param>
    public (string Text, string Folder) Scene(string name, string key, string place)
    {
        if (SceneCatalog.Names.Contains(name))
            return (SceneCatalog.Text(name), ".");
        string path = Find(
            name,
            "scene",
            key,
            place,
            hint: "files are looked for beside the study; scenarios that need no file: "
                + string.Join(", ", SceneCatalog.Names)
                + "."
        );
        return (ReadText(path, name), Path.GetDirectoryName(path)!);
    }

    /// <summary>Reads a small text file.</summary>
    public static string ReadText(string path, string shownAs)
    {
        if (new FileInfo(path) is { Exists: true, Length: > LongestBytes })
            throw new ProcedureException(
                $"The file is larger than {LongestBytes >> 20} MB.",
                shownAs,
                "give the TOML file, not the data."
            );
        return File.ReadAllText(path, Encoding.UTF8);
    }
}
