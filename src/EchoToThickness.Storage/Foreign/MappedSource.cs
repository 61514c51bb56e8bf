using EchoToThickness.Stacks;

namespace EchoToThickness.Storage.Foreign;

/// <summary>
/// A stack in a foreign file, read through a layout map: axes permuted and reversed block by block, byte order and sign put right.
/// Streams; memory is bounded by the block asked for plus one window of <see cref="WindowBytes"/> a reader.
/// </summary>
public sealed class MappedSource : IAScanSource, ITruthSource
{
    /// <summary>Largest window that a reader of permuted axes keeps, bytes.</summary>
    public const int WindowBytes = 8 << 20;

    private readonly IArrayStore _store;
    private readonly AxisPlan _plan;
    private readonly bool _invert;
    private readonly CellLayer? _present;
    private readonly IReadOnlyList<(string Name, CellLayer Layer)> _truth;
    private readonly IDisposable? _owned;

    internal MappedSource(
        StackInfo info,
        IArrayStore store,
        AxisPlan plan,
        bool invert,
        CellLayer? present,
        IReadOnlyList<(string Name, CellLayer Layer)> truth,
        IDisposable? owned
    )
    {
        Info = info;
        _store = store;
        _plan = plan;
        _invert = invert;
        _present = present;
        _truth = truth;
        _owned = owned;
        TruthLayers = [.. truth.Select(t => t.Name)];
        ScansPerRead = ChooseScansPerRead();
    }

    /// <inheritdoc/>
    public StackInfo Info { get; }

    /// <inheritdoc/>
    public int ScansPerRead { get; }

    /// <inheritdoc/>
    public IReadOnlyList<string> TruthLayers { get; }

    /// <summary>Whether blocks are lent as they are stored, with no permutation.</summary>
    public bool IsDirect => _plan.IsDirect;

    /// <inheritdoc/>
    public IAScanReader OpenReader() => new MappedReader(this, _store.OpenReader());

    /// <inheritdoc/>
    public void ReadTruth(string layer, int firstScan, int scanCount, Span<double> destinationMetres)
    {
        Check(firstScan, scanCount, Info.Shape.Scans, nameof(firstScan));
        if (destinationMetres.Length != (long)scanCount * Info.Shape.Beams)
            throw new ArgumentException("The destination does not fit the scan positions.", nameof(destinationMetres));
        foreach ((string name, CellLayer values) in _truth)
        {
            if (name != layer)
                continue;
            values.Read(firstScan, scanCount, destinationMetres);
            return;
        }
        throw new ArgumentException(
            $"There is no truth layer '{layer}'; there is: {string.Join(", ", TruthLayers)}.",
            nameof(layer)
        );
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        _present?.Dispose();
        foreach ((_, CellLayer layer) in _truth)
            layer.Dispose();
        _store.Dispose();
        _owned?.Dispose();
    }

    internal AxisPlan Plan => _plan;

    internal bool Invert => _invert;

    internal CellLayer? Present => _present;

    internal long WindowScanBytes => (long)Info.Shape.Beams * Info.AScanBytes;

    internal static void Check(int first, int count, int extent, string name)
    {
        if (first < 0 || count < 1 || count > extent - first)
            throw new ArgumentOutOfRangeException(name, $"{count} from {first} is outside an extent of {extent}.");
    }

    private int ChooseScansPerRead()
    {
        int fit = (int)Math.Clamp(WindowBytes / Math.Max(WindowScanBytes, 1), 1, Info.Shape.Scans);
        if (!_plan.IsDirect)
            return fit;
        int axis = _plan.Cell >= 0 ? _plan.Cell : _plan.Scan;
        if (_store.Chunk is not { } chunk || axis < 0)
            return 1;
        long scans = _plan.Cell >= 0 ? Math.Max(1, chunk[axis] / Info.Shape.Beams) : chunk[axis];
        return (int)Math.Min(scans, fit);
    }
}
