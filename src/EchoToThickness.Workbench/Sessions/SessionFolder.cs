using System.Text;
using System.Text.RegularExpressions;
using EchoToThickness.Storage.Files;

namespace EchoToThickness.Workbench.Sessions;

/// <summary>
/// The one folder the page may read procedures from and write them to: that of the opened procedure, else of the stack. Names only, no paths; links that lead out
/// of it are not followed.
/// </summary>
internal sealed partial class SessionFolder(string folder)
{
    private const long LargestFile = 4 << 20;
    private const int MostFiles = 500;

    public string Path { get; } = System.IO.Path.GetFullPath(folder);

    /// <summary>Procedure files by name.</summary>
    public IReadOnlyList<string> Procedures() =>
        Directory
            .EnumerateFiles(Path, "*.toml")
            .Select(System.IO.Path.GetFileName)
            .OfType<string>()
            .Where(name => NameForm().IsMatch(name))
            .Order(StringComparer.Ordinal)
            .Take(MostFiles)
            .ToArray();

    public string Read(string name)
    {
        string path = PathOf(name);
        if (!File.Exists(path))
            throw new WorkbenchException($"There is no {name} in the opened folder.", "choose a file of the list.");
        if (new FileInfo(path).Length > LargestFile)
            throw new WorkbenchException($"{name} is larger than 4 MB, so it is no procedure.", "choose another file.");
        return File.ReadAllText(path, Encoding.UTF8);
    }

    /// <summary>Writes a file so that it appears complete or not at all.</summary>
    public void Write(string name, string text, bool replace)
    {
        string path = PathOf(name);
        if (!replace && File.Exists(path))
            throw new WorkbenchException(
                $"{name} exists already.",
                "choose another name, or say that it may be replaced."
            );
        using AtomicFile file = AtomicFile.Create(path);
        RandomAccess.Write(file.Handle, new UTF8Encoding(false).GetBytes(text), 0);
        file.Commit(flushToDisk: true);
    }

    /// <summary>The full path of a name; anything that is more than a name is refused.</summary>
    public string PathOf(string name)
    {
        if (!NameForm().IsMatch(name))
            throw new WorkbenchException(
                "That is no name of a procedure file.",
                "use letters, digits, blanks, '-', '_' and '.', ended by .toml, and no folder."
            );
        string path = System.IO.Path.Combine(Path, name);
        if (new FileInfo(path).LinkTarget is not null)
            throw new WorkbenchException(
                $"{name} is a link to another place.",
                "the workbench writes and reads only files of the opened folder."
            );
        return path;
    }

    [GeneratedRegex(@"^[\p{L}\p{Nd}_][\p{L}\p{Nd} _.\-]{0,120}\.toml\z")]
    private static partial Regex NameForm();
}
