using EchoToThickness.Stacks;

namespace EchoToThickness.Storage.Hdf5;

/// <summary>
/// A read-only HDF5 file behind one guard: structure, types, attributes and addresses are read and checked here (checksums
/// of the structure included), so that whatever the file holds, the only exception is <see cref="StackFormatException"/>.
/// Links into other files are refused: what was measured must lie in the file that was hashed.
/// </summary>
/// <remarks>
/// Written against the HDF5 file format specification, version 3.0 (The HDF Group). Thread-safe after
/// <see cref="Open"/> only for readers made by <see cref="Hdf5Dataset.OpenReader"/>, one a thread.
/// </remarks>
public sealed class Hdf5File : IDisposable
{
    private readonly Dictionary<long, ObjectHeader> _headers = [];
    private readonly Dictionary<long, List<GroupLink>> _links = [];
    private readonly Dictionary<string, Hdf5Dataset> _datasets = new(StringComparer.Ordinal);
    private readonly long _root;

    private Hdf5File(Hdf5Source source, long root)
    {
        Source = source;
        _root = root;
    }

    /// <summary>Path as given.</summary>
    public string Path => Source.Path;

    internal Hdf5Source Source { get; }

    /// <summary>Opens a file and reads its superblock and root group.</summary>
    /// <param name="path">Path.</param>
    /// <param name="limits">What the file may declare; null for the defaults.</param>
    /// <exception cref="StackFormatException">The file is missing, unreadable, truncated, damaged or not HDF5.</exception>
    public static Hdf5File Open(string path, Hdf5Limits? limits = null)
    {
        ArgumentNullException.ThrowIfNull(path);
        Hdf5Source source = new(path, limits ?? Hdf5Limits.Default);
        try
        {
            Hdf5File file = new(source, Superblock.Read(source));
            file.Header(file._root, "/");
            return file;
        }
        catch
        {
            source.Dispose();
            throw;
        }
    }

    /// <summary>Names of a group's members in ordinal order, links into other files and dangling ones included.</summary>
    /// <param name="groupPath">Path of the group, <c>/</c> for the root.</param>
    public IReadOnlyList<string> Children(string groupPath)
    {
        ObjectHeader header = Resolve(groupPath);
        return Links(header, groupPath).ConvertAll(link => link.Name);
    }

    /// <summary>Whether a path leads to an object in this file.</summary>
    /// <param name="objectPath">Path from the root.</param>
    public bool Exists(string objectPath) => Find(objectPath, 0, out _) is not null;

    /// <summary>Whether a path leads to a group.</summary>
    /// <param name="objectPath">Path from the root.</param>
    public bool IsGroup(string objectPath) => Find(objectPath, 0, out _) is { } header && GroupLinks.IsGroup(header);

    /// <summary>Whether a path leads to a dataset.</summary>
    /// <param name="objectPath">Path from the root.</param>
    public bool IsDataset(string objectPath) => Find(objectPath, 0, out _)?.Has(ObjectHeader.Layout) == true;

    /// <summary>A dataset: extent, type, filters and addresses are read and checked, no element is.</summary>
    /// <param name="datasetPath">Path from the root.</param>
    /// <exception cref="StackFormatException">Missing, not a dataset, or damaged.</exception>
    public Hdf5Dataset Dataset(string datasetPath)
    {
        string path = Normal(datasetPath);
        if (_datasets.TryGetValue(path, out Hdf5Dataset? dataset))
            return dataset;
        ObjectHeader header = Resolve(path);
        if (!header.Has(ObjectHeader.Layout))
            throw new StackFormatException(
                "A dataset was expected, but this is a group.",
                Path,
                path,
                "name a dataset."
            );
        dataset = new Hdf5Dataset(Source, header, path);
        _datasets[path] = dataset;
        return dataset;
    }

    /// <summary>All attributes of an object, in ordinal order of their names; values are decoded when asked for.</summary>
    /// <param name="objectPath">Path from the root.</param>
    public IReadOnlyList<Hdf5Attribute> Attributes(string objectPath)
    {
        string path = Normal(objectPath);
        return Hdf5Attribute.ReadAll(Source, Resolve(path), path);
    }

    /// <summary>One attribute, or null when the object has none of that name.</summary>
    /// <param name="objectPath">Path from the root.</param>
    /// <param name="name">Name of the attribute.</param>
    public Hdf5Attribute? Attribute(string objectPath, string name)
    {
        foreach (Hdf5Attribute attribute in Attributes(objectPath))
        {
            if (attribute.Name == name)
                return attribute;
        }
        return null;
    }

    /// <summary>Walks all groups (each once, however many links lead to it) and lists what is there.</summary>
    public Hdf5Contents Walk()
    {
        List<string> groups = [];
        List<string> datasets = [];
        List<string> refused = [];
        HashSet<long> seen = [_root];
        Queue<(string Path, ObjectHeader Header, int Depth)> open = new();
        open.Enqueue(("/", Header(_root, "/"), 0));
        while (open.TryDequeue(out (string Path, ObjectHeader Header, int Depth) group))
        {
            groups.Add(group.Path);
            foreach (GroupLink link in Links(group.Header, group.Path))
            {
                string path = group.Path == "/" ? "/" + link.Name : group.Path + "/" + link.Name;
                if (link.IsExternal)
                    refused.Add(path);
                if (link.Address < 0 || !seen.Add(link.Address))
                    continue;
                if (seen.Count > Source.Limits.Objects || group.Depth >= Source.Limits.Depth)
                {
                    throw Source.Damaged(
                        path,
                        $"The file holds more than {Source.Limits.Objects} objects or groups nested more than {Source.Limits.Depth} deep, the limits."
                    );
                }
                ObjectHeader header = Header(link.Address, path);
                if (header.Has(ObjectHeader.Layout))
                    datasets.Add(path);
                else if (GroupLinks.IsGroup(header))
                    open.Enqueue((path, header, group.Depth + 1));
            }
        }
        return new Hdf5Contents(groups, datasets, refused);
    }

    /// <summary>Closes the file.</summary>
    public void Dispose() => Source.Dispose();

    private ObjectHeader Resolve(string objectPath) =>
        Find(objectPath, 0, out string reason)
        ?? throw new StackFormatException(
            reason,
            Path,
            Normal(objectPath),
            "check the path; `ett describe` lists what the file holds."
        );

    private ObjectHeader? Find(string objectPath, int depth, out string reason)
    {
        reason = "";
        if (depth > Source.Limits.Depth)
        {
            reason = $"More than {Source.Limits.Depth} soft links follow one another; they may form a ring.";
            return null;
        }
        ObjectHeader header = Header(_root, "/");
        string at = "";
        string[] parts = objectPath.Split('/', StringSplitOptions.RemoveEmptyEntries);
        for (int i = 0; i < parts.Length; i++)
        {
            if (parts[i] == ".")
                continue;
            string parent = at.Length == 0 ? "/" : at;
            GroupLink? link = GroupLinks.IsGroup(header) ? Links(header, parent).Find(l => l.Name == parts[i]) : null;
            if (link is null)
            {
                reason = $"There is no '{parts[i]}' in {parent}.";
                return null;
            }
            if (link.IsExternal)
            {
                reason =
                    $"'{parts[i]}' is a link into another file, which is refused: the data must lie in the file that is hashed.";
                return null;
            }
            at += "/" + parts[i];
            if (link.SoftTarget is { } target)
            {
                string from = target.StartsWith('/') ? target : parent + "/" + target;
                string rest = string.Join('/', parts[(i + 1)..]);
                ObjectHeader? found = Find(from + "/" + rest, depth + 1, out reason);
                if (found is null)
                    reason = $"'{at}' is a soft link to '{target}': {reason}";
                return found;
            }
            header = Header(link.Address, at);
        }
        return header;
    }

    private List<GroupLink> Links(ObjectHeader header, string objectPath)
    {
        if (!_links.TryGetValue(header.Address, out List<GroupLink>? links))
        {
            links = GroupLinks.Read(Source, header, objectPath);
            _links[header.Address] = links;
        }
        return links;
    }

    private ObjectHeader Header(long address, string objectPath)
    {
        if (!_headers.TryGetValue(address, out ObjectHeader? header))
        {
            header = ObjectHeader.Read(Source, address, objectPath);
            _headers[address] = header;
        }
        return header;
    }

    private static string Normal(string path) =>
        "/" + string.Join('/', path.Split('/', StringSplitOptions.RemoveEmptyEntries));
}
