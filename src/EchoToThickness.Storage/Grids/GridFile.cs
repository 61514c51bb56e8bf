using EchoToThickness.Stacks;
using EchoToThickness.Storage.Hdf5;

namespace EchoToThickness.Storage.Grids;

/// <summary>A grid file: one map at the root, or one a line.</summary>
public sealed class GridFile : IDisposable
{
    private readonly Hdf5File _file;

    private GridFile(Hdf5File file, IReadOnlyList<GridMap> maps)
    {
        _file = file;
        Maps = maps;
    }

    /// <summary>Path as given.</summary>
    public string Path => _file.Path;

    /// <summary>The maps, ordinal order of their names; at least one.</summary>
    public IReadOnlyList<GridMap> Maps { get; }

    /// <summary>Opens a grid file.</summary>
    /// <param name="path">Path.</param>
    /// <exception cref="StackFormatException">Not a grid, a newer major version, or damaged.</exception>
    public static GridFile Open(string path)
    {
        Hdf5File file = Hdf5File.Open(path);
        try
        {
            string? format = file.Attribute("/", "format") is { IsText: true } text ? text.ToText() : null;
            if (format != GridFormat.Format)
            {
                throw new StackFormatException(
                    format is null
                        ? "The file does not say that it is a thickness grid."
                        : $"The format is '{format}'.",
                    path,
                    "/, attribute format",
                    "give a file that `ett measure` wrote."
                );
            }
            string version = file.Attribute("/", "format_version")?.ToText() ?? "";
            if (!int.TryParse(version.Split('.')[0], out int major) || major is < 1 or > GridFormat.Major)
            {
                throw new StackFormatException(
                    $"The file has version '{version}' of the grid format; this program reads version {GridFormat.Major}.",
                    path,
                    "/, attribute format_version",
                    "use a newer version of EchoToThickness, or measure the stack again."
                );
            }
            List<GridMap> maps = [];
            if (file.IsDataset("/status"))
            {
                maps.Add(new GridMap(file, "", "/"));
            }
            else
            {
                foreach (string name in file.Children("/"))
                {
                    if (file.IsGroup("/" + name))
                        maps.Add(new GridMap(file, name, "/" + name));
                }
            }
            if (maps.Count == 0)
                throw new StackFormatException("The file holds no grid.", path, "/", "measure the stack again.");
            return new GridFile(file, maps);
        }
        catch
        {
            file.Dispose();
            throw;
        }
    }

    /// <summary>Closes the file and every map of it.</summary>
    public void Dispose() => _file.Dispose();
}
