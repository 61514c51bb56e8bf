using System.Globalization;
using EchoToThickness.Stacks;
using EchoToThickness.Storage.Hdf5;

namespace EchoToThickness.Storage.Native;

/// <summary>A stack file in the documented layout (docs/stack-format.md): one or several lines, each an A-scan source.</summary>
public sealed class StackFile : IDisposable
{
    private readonly Hdf5File _file;
    private readonly Dictionary<string, StackLine> _lines = new(StringComparer.Ordinal);
    private readonly Lock _gate = new();

    private StackFile(Hdf5File file, string version, IReadOnlyList<string> names)
    {
        _file = file;
        FormatVersion = version;
        LineNames = names;
    }

    /// <summary>Path as given.</summary>
    public string Path => _file.Path;

    /// <summary>Version of the layout, <c>major.minor</c>.</summary>
    public string FormatVersion { get; }

    /// <summary>Names of the lines or passes, ordinal order; at least one.</summary>
    public IReadOnlyList<string> LineNames { get; }

    /// <summary>Whether an HDF5 file says that it is a stack of this layout, of whatever version.</summary>
    /// <param name="path">Path.</param>
    /// <exception cref="StackFormatException">Not HDF5, or damaged.</exception>
    public static bool IsStack(string path)
    {
        using Hdf5File file = Hdf5File.Open(path);
        return file.Attribute("/", "format") is { IsText: true } format && format.ToText() == StackLayout.Format;
    }

    /// <summary>Opens a stack file; the lines are read and checked when asked for.</summary>
    /// <param name="path">Path.</param>
    /// <param name="limits">What the file may declare; null for the defaults.</param>
    /// <exception cref="StackFormatException">Not a stack, a newer major version, or damaged.</exception>
    public static StackFile Open(string path, Hdf5Limits? limits = null)
    {
        Hdf5File file = Hdf5File.Open(path, limits);
        try
        {
            FactReader facts = new(file, "/");
            string? format = facts.Text("format");
            if (format != StackLayout.Format)
            {
                throw facts.Wrong(
                    "format",
                    format is null
                        ? $"The file does not say that it is an '{StackLayout.Format}'."
                        : $"The format is '{format}', not '{StackLayout.Format}'.",
                    "describe the file with a layout map (`ett describe` proposes one), or convert it with `ett import`."
                );
            }
            string version = facts.Text("format_version") ?? "";
            CheckVersion(facts, version);
            IReadOnlyList<string> names = file.IsGroup("/" + StackLayout.Lines)
                ? file.Children("/" + StackLayout.Lines)
                : [];
            if (names.Count == 0)
                throw new StackFormatException("The stack holds no line.", path, "/lines", "write at least one line.");
            return new StackFile(file, version, names);
        }
        catch
        {
            file.Dispose();
            throw;
        }
    }

    /// <summary>One line. The same object for the same name; it lives until the file is closed.</summary>
    /// <param name="name">A name from <see cref="LineNames"/>.</param>
    /// <exception cref="StackFormatException">No such line, facts missing or wrong, or damaged.</exception>
    public StackLine Line(string name)
    {
        lock (_gate)
        {
            if (_lines.TryGetValue(name, out StackLine? line))
                return line;
            if (!LineNames.Contains(name))
            {
                throw new StackFormatException(
                    $"There is no line '{name}'; the stack holds {string.Join(", ", LineNames)}.",
                    Path,
                    "/" + StackLayout.Lines,
                    "name one of them."
                );
            }
            line = new StackLine(_file, name, LineNames.Count > 1);
            _lines[name] = line;
            return line;
        }
    }

    /// <summary>Closes the file and every line of it.</summary>
    public void Dispose() => _file.Dispose();

    private static void CheckVersion(FactReader facts, string version)
    {
        string[] parts = version.Split('.');
        if (parts.Length != 2 || !Whole(parts[0], out int major) || !Whole(parts[1], out _))
        {
            throw facts.Wrong(
                "format_version",
                version.Length == 0 ? "The version of the format is missing." : $"The version is '{version}'.",
                "write it as major.minor, 1.0 for instance."
            );
        }
        if (major > StackLayout.Major)
        {
            throw facts.Wrong(
                "format_version",
                $"The file has version {version} of the stack format; this program reads up to version {StackLayout.Major}.",
                "use a newer version of EchoToThickness, or write the stack as version 1."
            );
        }
        if (major < 1)
            throw facts.Wrong("format_version", $"Version {version} never existed.", "write 1.0.");
    }

    private static bool Whole(string text, out int value) =>
        int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out value);
}
