using System.Text;
using EchoToThickness.Cli.Terminal;
using EchoToThickness.Procedures;
using EchoToThickness.Stacks;
using EchoToThickness.Storage.Files;
using EchoToThickness.Storage.Grids;

namespace EchoToThickness.Cli.Commands;

/// <summary>Reading and writing of the small files that commands share.</summary>
internal static class Files
{
    private const long LongestProcedureBytes = 4 << 20;

    /// <summary>Reads a procedure file; no path means the default procedure.</summary>
    public static Procedure ReadProcedure(string? path)
    {
        if (path is null)
            return new Procedure();
        MustExist(path, "procedure");
        if (new FileInfo(path).Length > LongestProcedureBytes)
            throw new UserException(
                $"{path} is larger than 4 MB, so it is no procedure.",
                "give the procedure's TOML file; the stack comes first on the command line, without --procedure."
            );
        return ProcedureText.Parse(File.ReadAllText(path, Encoding.UTF8), path);
    }

    /// <summary>Does something with a procedure, and adds the name of its file to faults that name only a key.</summary>
    public static T About<T>(string? path, Func<T> work)
    {
        try
        {
            return work();
        }
        catch (ProcedureException error) when (path is not null && error.Findings.Any(f => f.Place.Length == 0))
        {
            throw new ProcedureException(
                [.. error.Findings.Select(f => f.Place.Length == 0 ? f with { Place = path } : f)],
                error
            );
        }
    }

    /// <summary>Complains about a missing file in the words of the command line.</summary>
    public static void MustExist(string path, string what)
    {
        if (File.Exists(path))
            return;
        if (Directory.Exists(path))
            throw new UserException($"{path} is a folder, not a {what} file.", "name the file inside it.");
        throw new UserException(
            $"There is no {what} file {path} (looked in {Path.GetDirectoryName(Path.GetFullPath(path))}).",
            "check the name and the folder."
        );
    }

    /// <summary>Complains early about an output whose folder is missing or that is one of the inputs.</summary>
    /// <param name="path">Output.</param>
    /// <param name="others">Other outputs of the command, after which this one is checked.</param>
    /// <param name="inputs">Files that the command reads.</param>
    public static void CanWrite(string path, IEnumerable<string?> others, params IEnumerable<string?> inputs)
    {
        string full = Path.GetFullPath(path);
        string folder = Path.GetDirectoryName(full) ?? "";
        if (!Directory.Exists(folder))
            throw new UserException(
                $"The folder {folder} for {path} does not exist.",
                "make it first, or write somewhere else."
            );
        if (Directory.Exists(full))
            throw new UserException($"{path} is a folder.", "name a file inside it.");
        if (inputs.Any(input => Same(input, full)))
            throw new UserException($"{path} is an input of this command.", "write the output to another file.");
        if (others.Any(other => Same(other, full)))
            throw new UserException($"{path} is asked for twice.", "give each output a file of its own.");
        // A folder without permission is told before the work, not after it.
        AtomicFile.Create(path).Dispose();
    }

    private static bool Same(string? path, string full) =>
        path is not null && string.Equals(Path.GetFullPath(path), full, StringComparison.Ordinal);

    /// <summary>Complains early about a figure that cannot be drawn.</summary>
    public static void IsFigure(string path)
    {
        if (Path.GetExtension(path).ToLowerInvariant() is not (".png" or ".svg"))
            throw new UserException($"{path} is neither .png nor .svg.", "give the figure one of these endings.");
    }

    /// <summary>Whether a file is a grid of this program.</summary>
    public static bool IsGrid(string path)
    {
        try
        {
            using GridFile grid = GridFile.Open(path);
            return true;
        }
        catch (StackFormatException)
        {
            return false;
        }
    }

    /// <summary>Refuses a grid of this program where a stack is wanted.</summary>
    public static void IsNoGrid(string path)
    {
        if (File.Exists(path) && IsGrid(path))
            throw new UserException(
                $"{path} is a grid of wall thickness, the result of measuring, and holds no A-scans.",
                "name the stack it was measured from; docs/grid-format.md says what a grid holds."
            );
    }

    /// <summary>Writes a text file so that it appears complete or not at all.</summary>
    public static void WriteText(string path, string text)
    {
        string part = path + ".part";
        try
        {
            File.WriteAllText(part, text, new UTF8Encoding(false));
            File.Move(part, path, overwrite: true);
        }
        catch
        {
            File.Delete(part);
            throw;
        }
    }
}
