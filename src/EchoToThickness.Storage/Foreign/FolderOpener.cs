using EchoToThickness.Procedures;
using EchoToThickness.Stacks;
using EchoToThickness.Storage.Layouts;

namespace EchoToThickness.Storage.Foreign;

/// <summary>Opens a folder: one file a line where the axes of a file hold the scan axis, else one file a scan position.</summary>
internal static class FolderOpener
{
    private static readonly string[] NotSamples = [".toml", ".txt", ".md", ".json", ".csv", ".xml", ".pdf", ".png"];

    public static IReadOnlyList<(string Line, IAScanSource Source)> Open(string folder, TomlDocument<LayoutMap> layout)
    {
        string[] files = Files(folder);
        IReadOnlyList<StoredAxis> axes = layout.Value.Samples.Axes;
        StackFileKind kind = StackFileKinds.Of(files[0]);
        bool lines = kind == StackFileKind.Hdf5 || axes.Contains(StoredAxis.Scan) || axes.Contains(StoredAxis.Cell);
        return lines ? Lines(files, layout) : [("", Stacked(folder, files, layout, kind))];
    }

    /// <summary>Files of samples in natural order of their names.</summary>
    public static string[] Files(string folder)
    {
        string[] files;
        try
        {
            files =
            [
                .. Directory
                    .EnumerateFiles(folder)
                    .Where(f => !Path.GetFileName(f).StartsWith('.'))
                    .Where(f => !NotSamples.Contains(Path.GetExtension(f).ToLowerInvariant()))
                    .OrderBy(f => Path.GetFileName(f), NaturalOrder.Instance),
            ];
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw new StackFormatException(
                $"The folder cannot be listed ({e.Message.TrimEnd('.')}).",
                folder,
                "",
                "check the path and the permissions.",
                e
            );
        }
        if (files.Length == 0)
            throw new StackFormatException(
                "The folder holds no files of samples.",
                folder,
                "",
                "name the folder that holds them."
            );
        string? other = files.FirstOrDefault(f => Path.GetExtension(f) != Path.GetExtension(files[0]));
        if (other is not null)
        {
            throw new StackFormatException(
                $"The folder holds files of several kinds: {Path.GetFileName(files[0])} and {Path.GetFileName(other)}.",
                folder,
                "",
                "leave only the files of the scan lines in it."
            );
        }
        return files;
    }

    private static List<(string Line, IAScanSource Source)> Lines(string[] files, TomlDocument<LayoutMap> layout)
    {
        List<(string Line, IAScanSource Source)> lines = [];
        try
        {
            foreach (string file in files)
            {
                string name = Path.GetFileNameWithoutExtension(file);
                foreach ((string line, IAScanSource source) in StackOpener.Open(file, layout))
                    lines.Add((line.Length == 0 ? name : name + "/" + line, source));
            }
            return lines;
        }
        catch
        {
            lines.ForEach(l => l.Source.Dispose());
            throw;
        }
    }

    private static MappedSource Stacked(
        string folder,
        string[] files,
        TomlDocument<LayoutMap> layout,
        StackFileKind kind
    )
    {
        LayoutContext context = new(layout, folder, null, "/");
        (IArrayStore Store, IReadOnlyList<StoredAxis> Axes) OpenFile(string file) =>
            ArrayFiles.Open(context with { Path = file }, file, kind);

        (IArrayStore first, IReadOnlyList<StoredAxis> axes) = OpenFile(files[0]);
        first.Dispose();
        StackedArrayStore store = new(folder, files, file => OpenFile(file).Store);
        string name = Path.GetFileName(Path.TrimEndingDirectorySeparator(folder));
        return StackOpener.Join(context, store, [StoredAxis.Scan, .. axes], name, null);
    }
}
