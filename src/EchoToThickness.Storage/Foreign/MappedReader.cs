using EchoToThickness.Stacks;

namespace EchoToThickness.Storage.Foreign;

/// <summary>Reader of a <see cref="MappedSource"/>; one a thread.</summary>
internal sealed class MappedReader(MappedSource source, IArrayReader reader) : IAScanReader
{
    private readonly AxisPlan _plan = source.Plan;
    private readonly StackInfo _info = source.Info;
    private byte[] _block = [];
    private byte[] _stored = [];
    private byte[] _window = [];
    private int _windowFirst;
    private int _windowCount;
    private byte[] _mask = [];
    private double[] _maskValues = [];

    public AScanBlock Lend(int firstScan, int scanCount, int firstBeam, int beamCount)
    {
        MappedSource.Check(firstScan, scanCount, _info.Shape.Scans, nameof(firstScan));
        MappedSource.Check(firstBeam, beamCount, _info.Shape.Beams, nameof(firstBeam));
        long bytes = (long)scanCount * beamCount * _info.AScanBytes;
        if (bytes > Array.MaxLength)
            throw new ArgumentOutOfRangeException(
                nameof(scanCount),
                $"A block of {bytes} bytes is too large; lend fewer scan positions."
            );
        ReadOnlySpan<byte> samples = _plan.IsDirect
            ? Direct(firstScan, scanCount, firstBeam, beamCount, (int)bytes)
            : Permuted(firstScan, scanCount, firstBeam, beamCount, (int)bytes);
        return new AScanBlock(
            _info,
            firstScan,
            scanCount,
            firstBeam,
            beamCount,
            samples,
            Mask(firstScan, scanCount, firstBeam, beamCount)
        );
    }

    public void Dispose() => reader.Dispose();

    private Span<byte> Direct(int firstScan, int scanCount, int firstBeam, int beamCount, int bytes)
    {
        Span<byte> block = Room(ref _block, bytes);
        if (_plan.Cell >= 0 && beamCount != _info.Shape.Beams)
        {
            int each = beamCount * _info.AScanBytes;
            for (int scan = 0; scan < scanCount; scan++)
                Fetch(firstScan + scan, 1, firstBeam, beamCount, block.Slice(scan * each, each));
        }
        else
        {
            Fetch(firstScan, scanCount, firstBeam, beamCount, block);
        }
        Invert(block);
        return block;
    }

    private Span<byte> Permuted(int firstScan, int scanCount, int firstBeam, int beamCount, int bytes)
    {
        int beams = _info.Shape.Beams;
        int size = _info.AScanBytes;
        bool windowed = source.WindowScanBytes <= MappedSource.WindowBytes && scanCount <= source.ScansPerRead;
        if (!windowed)
        {
            Span<byte> whole = Room(ref _block, bytes);
            Permute(firstScan, scanCount, firstBeam, beamCount, whole);
            return whole;
        }
        int last = firstScan + scanCount;
        if (firstScan < _windowFirst || last > _windowFirst + _windowCount)
        {
            // Windows start at multiples of ScansPerRead where the request allows it, so that threads share no work.
            int from = firstScan / source.ScansPerRead * source.ScansPerRead;
            if (last > from + source.ScansPerRead)
                from = firstScan;
            int count = Math.Min(source.ScansPerRead, _info.Shape.Scans - from);
            _windowCount = 0;
            Permute(from, count, 0, beams, Room(ref _window, count * beams * size));
            _windowFirst = from;
            _windowCount = count;
        }
        int begin = (firstScan - _windowFirst) * beams;
        if (beamCount == beams)
            return _window.AsSpan(begin * size, bytes);
        Span<byte> block = Room(ref _block, bytes);
        for (int scan = 0; scan < scanCount; scan++)
        {
            _window
                .AsSpan((begin + scan * beams + firstBeam) * size, beamCount * size)
                .CopyTo(block[(scan * beamCount * size)..]);
        }
        return block;
    }

    private void Permute(int firstScan, int scanCount, int firstBeam, int beamCount, Span<byte> destination)
    {
        if (_plan.Cell >= 0 && beamCount != _info.Shape.Beams)
        {
            int each = beamCount * _info.AScanBytes;
            for (int scan = 0; scan < scanCount; scan++)
                PermutePiece(firstScan + scan, 1, firstBeam, beamCount, destination.Slice(scan * each, each));
        }
        else
        {
            PermutePiece(firstScan, scanCount, firstBeam, beamCount, destination);
        }
        Invert(destination);
    }

    private void PermutePiece(int firstScan, int scanCount, int firstBeam, int beamCount, Span<byte> destination)
    {
        Span<byte> stored = Room(ref _stored, destination.Length);
        Fetch(firstScan, scanCount, firstBeam, beamCount, stored);
        int samples = _info.Shape.Samples;
        Span<long> strides = stackalloc long[_plan.Rank];
        long elements = 1;
        for (int axis = _plan.Rank - 1; axis >= 0; axis--)
        {
            strides[axis] = elements;
            elements *=
                axis == _plan.Sample ? samples
                : axis == _plan.Scan ? scanCount
                : axis == _plan.Beam ? beamCount
                : axis == _plan.Cell ? scanCount * beamCount
                : 1;
        }
        long scanStride =
            _plan.Cell >= 0 ? strides[_plan.Cell] * beamCount
            : _plan.Scan >= 0 ? strides[_plan.Scan]
            : 0;
        long beamStride =
            _plan.Cell >= 0 ? strides[_plan.Cell]
            : _plan.Beam >= 0 ? strides[_plan.Beam]
            : 0;
        long sampleStride = strides[_plan.Sample];
        long origin = 0;
        Turn(_plan.ScanReversed, scanCount, ref scanStride, ref origin);
        Turn(_plan.BeamReversed, beamCount, ref beamStride, ref origin);
        Turn(_plan.SampleReversed, samples, ref sampleStride, ref origin);
        SamplePermutation.Copy(
            stored,
            destination,
            _info.SampleType.SizeBytes(),
            origin,
            (scanCount, scanStride),
            (beamCount, beamStride),
            (samples, sampleStride)
        );
    }

    private static void Turn(bool reversed, int count, ref long stride, ref long origin)
    {
        if (!reversed)
            return;
        origin += (count - 1) * stride;
        stride = -stride;
    }

    /// <summary>Reads the rectangle of the file that holds these cells, in file order.</summary>
    private void Fetch(int firstScan, int scanCount, int firstBeam, int beamCount, Span<byte> destination)
    {
        Span<long> start = stackalloc long[_plan.Rank];
        Span<int> count = stackalloc int[_plan.Rank];
        start.Clear();
        count.Fill(1);
        int scan = _plan.ScanReversed ? _info.Shape.Scans - firstScan - scanCount : firstScan;
        int beam = _plan.BeamReversed ? _info.Shape.Beams - firstBeam - beamCount : firstBeam;
        count[_plan.Sample] = _info.Shape.Samples;
        if (_plan.Scan >= 0)
            (start[_plan.Scan], count[_plan.Scan]) = (scan, scanCount);
        if (_plan.Beam >= 0)
            (start[_plan.Beam], count[_plan.Beam]) = (beam, beamCount);
        if (_plan.Cell >= 0)
            (start[_plan.Cell], count[_plan.Cell]) = ((long)scan * _info.Shape.Beams + beam, scanCount * beamCount);
        reader.Read(start, count, destination);
    }

    private void Invert(Span<byte> samples)
    {
        if (source.Invert)
            SampleInversion.InPlace(samples, _info.SampleType, _info.Amplitude.ZeroCounts);
    }

    private ReadOnlySpan<byte> Mask(int firstScan, int scanCount, int firstBeam, int beamCount)
    {
        if (source.Present is null)
            return default;
        int beams = _info.Shape.Beams;
        if (_maskValues.Length < scanCount * beams)
            _maskValues = new double[scanCount * beams];
        Span<double> values = _maskValues.AsSpan(0, scanCount * beams);
        source.Present.Read(firstScan, scanCount, values);
        Span<byte> mask = Room(ref _mask, scanCount * beamCount);
        for (int scan = 0; scan < scanCount; scan++)
        {
            for (int beam = 0; beam < beamCount; beam++)
                mask[scan * beamCount + beam] = (byte)(
                    values[scan * beams + firstBeam + beam] is 0 or double.NaN ? 0 : 1
                );
        }
        return mask;
    }

    private static Span<byte> Room(ref byte[] buffer, int length)
    {
        if (buffer.Length < length)
            buffer = GC.AllocateUninitializedArray<byte>(length);
        return buffer.AsSpan(0, length);
    }
}
