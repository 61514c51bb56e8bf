using EchoToThickness.Storage.Hdf5;

namespace EchoToThickness.Storage.Foreign;

/// <summary>Values over the cells of a stack, read by stretches of scan positions: truth layers and presence masks. Thread-safe.</summary>
internal sealed class CellLayer : IDisposable
{
    private readonly Lock _lock = new();
    private readonly AxisPlan _plan;
    private readonly double _factor;
    private readonly double _offset;
    private readonly Hdf5Dataset? _dataset;
    private readonly Hdf5Reader? _reader;
    private readonly int _scanAxis = -1;
    private readonly int _beamAxis = -1;
    private readonly int _cellAxis = -1;
    private byte[] _raw = [];

    /// <summary>The same value in every cell.</summary>
    public CellLayer(AxisPlan plan, double value)
    {
        _plan = plan;
        _offset = value;
    }

    /// <summary>A dataset over the cells, axes in the order of the samples' own; or over one of their axes.</summary>
    /// <param name="plan">Axes of the samples.</param>
    /// <param name="dataset">Numbers; extents of 1 are skipped.</param>
    /// <param name="factor">Stored number to value.</param>
    /// <param name="offset">Added to it.</param>
    /// <param name="fault">Makes the exception when the extents do not fit.</param>
    public CellLayer(AxisPlan plan, Hdf5Dataset dataset, double factor, double offset, Func<string, Exception> fault)
    {
        _plan = plan;
        _dataset = dataset;
        _factor = factor;
        _offset = offset;
        int[] real = [.. Enumerable.Range(0, dataset.Dimensions.Count).Where(i => dataset.Dimensions[i] != 1)];
        long[] extents = [.. real.Select(i => dataset.Dimensions[i])];
        (int scans, int beams) = (plan.Shape.Scans, plan.Shape.Beams);
        bool scanFirst = plan.Cell >= 0 || plan.Scan < 0 || plan.Beam < 0 || plan.Scan < plan.Beam;
        long[] both = scanFirst ? [scans, beams] : [beams, scans];
        if (scans > 1 && beams > 1 && extents.SequenceEqual(both))
            (_scanAxis, _beamAxis) = scanFirst ? (real[0], real[1]) : (real[1], real[0]);
        else if (scans > 1 && beams > 1 && extents is [long cells] && cells == plan.Shape.Cells)
            _cellAxis = real[0];
        else if (extents is [long some] && some == scans && scans != beams)
            _scanAxis = real[0];
        else if (extents is [long few] && few == beams && scans != beams)
            _beamAxis = real[0];
        else if (extents.Length > 0)
            throw fault(
                $"The extent [{string.Join(" x ", dataset.Dimensions)}] does not fit {scans} scan positions of {beams} beams."
            );
        if (_cellAxis >= 0 && !scanFirst)
            throw fault(
                "Values in one axis are read with the beams of a scan position together, but the samples' axes run the other way."
            );
        if (!Hdf5Values.IsNumeric(dataset.Type))
            throw fault($"Numbers are needed; stored: {dataset.Type.Describe()}.");
        _reader = dataset.OpenReader();
    }

    /// <summary>Reads values, shape [scan, beam].</summary>
    public void Read(int firstScan, int scanCount, Span<double> destination)
    {
        int beams = _plan.Shape.Beams;
        if (_dataset is null || _reader is null)
        {
            destination.Fill(_offset);
            return;
        }
        lock (_lock)
        {
            int stored = _plan.ScanReversed ? _plan.Shape.Scans - firstScan - scanCount : firstScan;
            int rank = _dataset.Dimensions.Count;
            Span<long> start = stackalloc long[rank];
            Span<long> count = stackalloc long[rank];
            start.Clear();
            for (int axis = 0; axis < rank; axis++)
                count[axis] = _dataset.Dimensions[axis];
            if (_scanAxis >= 0)
                (start[_scanAxis], count[_scanAxis]) = (stored, scanCount);
            if (_cellAxis >= 0)
                (start[_cellAxis], count[_cellAxis]) = ((long)stored * beams, (long)scanCount * beams);
            long elements = 1;
            foreach (long extent in count)
                elements *= extent;
            int size = _dataset.Type.SizeBytes;
            if (_raw.Length < elements * size)
                _raw = new byte[elements * size];
            Span<byte> raw = _raw.AsSpan(0, (int)(elements * size));
            _reader.Read(start, count, raw);
            Hdf5Type native = _dataset.Type with { IsBigEndian = !BitConverter.IsLittleEndian };
            (int scanStride, int beamStride) = Strides(scanCount, beams);
            for (int scan = 0; scan < scanCount; scan++)
            {
                int s = _plan.ScanReversed ? scanCount - 1 - scan : scan;
                for (int beam = 0; beam < beams; beam++)
                {
                    int b = _plan.BeamReversed ? beams - 1 - beam : beam;
                    int at = (s * scanStride + b * beamStride) * size;
                    destination[scan * beams + beam] =
                        Hdf5Numbers.ToDouble(raw.Slice(at, size), native) * _factor + _offset;
                }
            }
        }
    }

    private (int Scan, int Beam) Strides(int scanCount, int beams)
    {
        if (_cellAxis >= 0)
            return (beams, 1);
        if (_scanAxis >= 0 && _beamAxis >= 0)
            return _scanAxis < _beamAxis ? (beams, 1) : (1, scanCount);
        return (_scanAxis >= 0 ? 1 : 0, _beamAxis >= 0 ? 1 : 0);
    }

    public void Dispose() => _reader?.Dispose();
}
