using EchoToThickness.Stacks;

namespace EchoToThickness.Studies.Sources;

/// <summary>One point of a study: a source of A-scans with every swept key at one value. Thread-safe.</summary>
public abstract class StudyPoint
{
    /// <summary>Makes a point.</summary>
    /// <param name="source">Name of the source it belongs to.</param>
    /// <param name="values">Coordinates, in the order of the study.</param>
    /// <param name="identity">Text that decides every A-scan of the point, without the seed of the study.</param>
    protected StudyPoint(string source, IReadOnlyList<SweepValue> values, string identity)
    {
        Source = source;
        Values = values;
        Identity = identity;
    }

    /// <summary>Name of the source.</summary>
    public string Source { get; }

    /// <summary>Coordinates.</summary>
    public IReadOnlyList<SweepValue> Values { get; }

    /// <summary>Text that decides every A-scan of the point but for the block.</summary>
    public string Identity { get; }

    /// <summary>Blocks that the point is measured in.</summary>
    public abstract int Blocks { get; }

    /// <summary>Text that decides every A-scan of a block, together with <see cref="Identity"/>.</summary>
    /// <param name="block">Number of the block.</param>
    public abstract string BlockIdentity(int block);

    /// <summary>What a block's stack says of itself, without making its A-scans.</summary>
    /// <param name="block">Number of the block.</param>
    public abstract StackInfo InfoOf(int block);

    /// <summary>Makes or opens a block; the caller disposes it.</summary>
    /// <param name="block">Number of the block.</param>
    /// <param name="cancellation">Stops the work.</param>
    public abstract StudyBlock Load(int block, CancellationToken cancellation);

    /// <summary>Source and coordinates in words.</summary>
    public override string ToString() =>
        Values.Count == 0 ? Source : $"{Source}, {string.Join(", ", Values.Select(v => $"{v.Key} {v.Text}"))}";
}
