using EchoToThickness.Procedures;
using EchoToThickness.Stacks;
using EchoToThickness.Storage.Hdf5;
using EchoToThickness.Storage.Layouts;

namespace EchoToThickness.Storage.Foreign;

/// <summary>The one way into a stack, whatever it is stored as.</summary>
public static class StackOpener
{
    /// <summary>
    /// Opens a native stack; or, through a layout map, an HDF5 file, a <c>.npy</c> file, raw binary, or a folder of files
    /// (one a scan line, or one a scan position).
    /// </summary>
    /// <param name="path">File or folder.</param>
    /// <param name="layoutPath">Layout map (TOML); null for a native stack.</param>
    /// <returns>Lines in order, each with its name (the group, or the file of a folder; empty for the only line of a file). Dispose each source.</returns>
    /// <exception cref="StackFormatException">The stack cannot be read; names file, object, value and remedy.</exception>
    /// <exception cref="ProcedureException">The layout map is at fault; names file, line, key and fix.</exception>
    public static IReadOnlyList<(string Line, IAScanSource Source)> Open(string path, string? layoutPath = null)
    {
        ArgumentNullException.ThrowIfNull(path);
        return Open(path, layoutPath is null ? null : LayoutFile.Read(layoutPath));
    }

    /// <summary>The same with a layout map that was read already.</summary>
    /// <param name="path">File or folder.</param>
    /// <param name="layout">Layout map; null for a native stack.</param>
    /// <exception cref="StackFormatException">The stack cannot be read.</exception>
    /// <exception cref="ProcedureException">The layout map is at fault.</exception>
    public static IReadOnlyList<(string Line, IAScanSource Source)> Open(string path, TomlDocument<LayoutMap>? layout)
    {
        ArgumentNullException.ThrowIfNull(path);
        StackFileKind kind = StackFileKinds.Of(path);
        if (layout is null)
            return OpenWithoutLayout(path, kind);
        return kind switch
        {
            StackFileKind.Folder => FolderOpener.Open(path, layout),
            StackFileKind.Hdf5 => OpenHdf5(path, layout),
            _ => [("", OpenArray(path, layout, kind))],
        };
    }

    private static IReadOnlyList<(string Line, IAScanSource Source)> OpenWithoutLayout(string path, StackFileKind kind)
    {
        switch (kind)
        {
            case StackFileKind.Folder:
                throw NeedsLayout(path, "The folder does not say what its files hold.");
            case StackFileKind.Npy:
                throw NeedsLayout(path, "A .npy file says nothing of time base and axes.");
            case StackFileKind.Raw:
                throw NeedsLayout(path, "The file is neither HDF5 nor .npy: it is text, damaged, or raw samples.");
            default:
                return NativeLines.Open(path)
                    ?? throw NeedsLayout(path, "The HDF5 file is not in the native stack layout.");
        }
    }

    private static StackFormatException NeedsLayout(string path, string what) =>
        new(
            what,
            path,
            "",
            $"give a layout map with --layout; `ett describe {System.IO.Path.GetFileName(path)}` proposes one."
        );

    private static List<(string Line, IAScanSource Source)> OpenHdf5(string path, TomlDocument<LayoutMap> layout)
    {
        List<(string Line, IAScanSource Source)> lines = [];
        try
        {
            IReadOnlyList<string> groups = layout.Value.Groups.Count == 0 ? ["/"] : layout.Value.Groups;
            foreach (string group in groups)
                lines.Add((group.Trim('/'), OpenHdf5Line(path, layout, "/" + group.Trim('/'))));
            return lines;
        }
        catch
        {
            lines.ForEach(l => l.Source.Dispose());
            throw;
        }
    }

    private static MappedSource OpenHdf5Line(string path, TomlDocument<LayoutMap> layout, string group)
    {
        Hdf5File file = Hdf5File.Open(path);
        try
        {
            LayoutContext context = new(layout, path, file, group);
            string name =
                context.Map.Samples.Dataset
                ?? throw context.MapFault(
                    "samples.dataset",
                    "The layout map does not say where the A-scans are.",
                    "add dataset = \"/...\" to [samples]; `ett describe` lists what the file holds."
                );
            string datasetPath = context.Resolve(name);
            if (!file.IsDataset(datasetPath))
            {
                throw context.DataFault(
                    "samples.dataset",
                    datasetPath,
                    file.Exists(datasetPath) ? "This is a group, not a dataset." : "There is no such dataset.",
                    "correct the path; `ett describe` lists what the file holds"
                );
            }
            Hdf5Dataset dataset = file.Dataset(datasetPath);
            SampleType type =
                dataset.Type.SampleType
                ?? throw context.DataFault(
                    "samples.dataset",
                    datasetPath,
                    $"The samples are stored as {dataset.Type.Describe()}.",
                    "A-scans are read as int8, uint8, int16, uint16, float32 or float64: convert the dataset, or name another"
                );
            string label = System.IO.Path.GetFileName(path) + (group == "/" ? "" : ":" + group.Trim('/'));
            // A contiguous dataset is read beside the HDF5 structure, short strided runs gathered from larger reads.
            IArrayStore store =
                dataset.TryGetFileOffset(out long offset) && dataset.Dimensions.Count > 0
                    ? new FlatArrayStore(path, offset, dataset.Dimensions, type, dataset.Type.IsBigEndian, dataset.Path)
                    : new Hdf5ArrayStore(path, dataset, type);
            try
            {
                return Join(context, store, context.Map.Samples.Axes, label, file);
            }
            catch
            {
                store.Dispose();
                throw;
            }
        }
        catch
        {
            file.Dispose();
            throw;
        }
    }

    private static MappedSource OpenArray(string path, TomlDocument<LayoutMap> layout, StackFileKind kind)
    {
        LayoutContext context = new(layout, path, null, "/");
        (IArrayStore store, IReadOnlyList<StoredAxis> axes) = ArrayFiles.Open(context, path, kind);
        try
        {
            return Join(context, store, axes, System.IO.Path.GetFileName(path), null);
        }
        catch
        {
            store.Dispose();
            throw;
        }
    }

    /// <summary>Joins an array with a layout map. The caller disposes the array and the owned object when this throws.</summary>
    internal static MappedSource Join(
        LayoutContext context,
        IArrayStore store,
        IReadOnlyList<StoredAxis> axes,
        string name,
        IDisposable? owned
    )
    {
        AxisPlan plan = AxisPlan.Of(
            context.Map.Samples,
            axes,
            store.Shape,
            (what, remedy) => context.DataFault("samples.axes", store.ObjectPath, what, remedy)
        );
        FactsBuilder builder = new(context, plan);
        StackInfo info = builder.Build(name, store.Type);
        if ((long)plan.Shape.Samples * store.Type.SizeBytes() > int.MaxValue)
            throw context.DataFault(
                "samples.axes",
                store.ObjectPath,
                $"An A-scan of {plan.Shape.Samples} samples is absurd.",
                "check which axis counts samples"
            );
        CellLayer? present = builder.Layer("samples.present", context.Map.Samples.Present, null);
        List<(string, CellLayer)> truth = [];
        foreach ((string layer, ValueSource? source) in context.Map.Truth.Layers())
        {
            if (builder.Layer("truth." + layer, source, Units.Dimension.Length) is { } values)
                truth.Add((layer, values));
        }
        return new MappedSource(info, store, plan, context.Map.Samples.Invert, present, truth, owned);
    }
}
