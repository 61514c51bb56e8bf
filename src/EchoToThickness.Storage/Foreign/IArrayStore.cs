using EchoToThickness.Stacks;

namespace EchoToThickness.Storage.Foreign;

/// <summary>An array of samples in a file, of any rank, that can be read in rectangles. Thread-safe; each thread opens its own reader.</summary>
internal interface IArrayStore : IDisposable
{
    /// <summary>File, for messages.</summary>
    string Path { get; }

    /// <summary>Object in the file, for messages; empty when the file is the array.</summary>
    string ObjectPath { get; }

    /// <summary>Extents, slowest axis first.</summary>
    IReadOnlyList<long> Shape { get; }

    /// <summary>Type of the samples as read.</summary>
    SampleType Type { get; }

    /// <summary>Extent of the blocks that are stored together; null when the array is stored in one piece.</summary>
    IReadOnlyList<long>? Chunk { get; }

    /// <summary>Opens a reader for one thread.</summary>
    IArrayReader OpenReader();
}
