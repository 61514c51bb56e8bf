using EchoToThickness.Stacks;

namespace EchoToThickness.Storage.Foreign;

/// <summary>Files of equal extent stacked along a new first axis; each is opened when it is read.</summary>
internal sealed class StackedArrayStore : IArrayStore
{
    private readonly Func<string, IArrayStore> _open;
    private readonly string[] _files;
    private readonly long[] _shape;

    /// <summary>Opens every file once to check that all hold the same extent and type.</summary>
    /// <param name="folder">Folder, for messages.</param>
    /// <param name="files">Files in order; at least one.</param>
    /// <param name="open">Opens one file.</param>
    /// <exception cref="StackFormatException">A file differs from the first; names it.</exception>
    public StackedArrayStore(string folder, IReadOnlyList<string> files, Func<string, IArrayStore> open)
    {
        Path = folder;
        _open = open;
        _files = [.. files];
        _shape = [];
        foreach (string file in _files)
        {
            using IArrayStore store = open(file);
            if (_shape.Length == 0)
            {
                Type = store.Type;
                _shape = [_files.Length, .. store.Shape];
            }
            else if (store.Type != Type || !store.Shape.SequenceEqual(_shape.Skip(1)))
            {
                throw new StackFormatException(
                    $"The file holds [{string.Join(" x ", store.Shape)}] {store.Type}, but {System.IO.Path.GetFileName(_files[0])} holds [{string.Join(" x ", _shape.Skip(1))}] {Type}.",
                    file,
                    "",
                    "all files of the folder must have the same extent and type: move this one elsewhere or export it again."
                );
            }
        }
    }

    public string Path { get; }

    public string ObjectPath => "";

    public IReadOnlyList<long> Shape => _shape;

    public SampleType Type { get; }

    public IReadOnlyList<long>? Chunk => null;

    public IArrayReader OpenReader() => new Reader(this);

    public void Dispose() { }

    private sealed class Reader(StackedArrayStore store) : IArrayReader
    {
        public void Read(ReadOnlySpan<long> start, ReadOnlySpan<int> count, Span<byte> destination)
        {
            int each = destination.Length / count[0];
            for (int i = 0; i < count[0]; i++)
            {
                string path = store._files[start[0] + i];
                using IArrayStore file = store._open(path);
                if (file.Type != store.Type || !file.Shape.SequenceEqual(store._shape.Skip(1)))
                {
                    throw new StackFormatException(
                        "The file changed its extent or type while the folder was open.",
                        path,
                        "",
                        "leave the folder alone while it is read, then try again."
                    );
                }
                using IArrayReader reader = file.OpenReader();
                reader.Read(start[1..], count[1..], destination.Slice(i * each, each));
            }
        }

        public void Dispose() { }
    }
}
